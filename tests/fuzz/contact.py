"""Contact on both sides: what touches a required space is out, what passes it is in.

NEC 110.26(A)(1), condition 1 and 2 at 150 V to ground or less: 900 mm (3 ft).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

import numpy as np

from model3d import Scene, check

if TYPE_CHECKING:
    from collections.abc import Iterator
    from random import Random

    from numpy.typing import NDArray

    from tests.fuzz.part import Example

    Vector = NDArray[np.float64]

_DEPTH: Final = 900.0
_SIZE: Final = [762.0, 150.0, 900.0]
_PLACE: Final = (3000.0, 2500.0)
INSIDE: Final = 0.2
"""Millimetres. What reaches in that far is in: a tenth no drawing shows, and the sides
of a round are off by less than another one."""


def example(draw: Random) -> Example:
    """Make a body that is turned, and put where it just touches a working space."""
    side = draw.choice(("ahead", "left", "right", "above"))
    return {
        "side": side,
        "bearing": draw.choice((0.0, 90.0, 180.0, 270.0, draw.uniform(0, 360))),
        "own": draw.choice((0.0, 45.0, draw.uniform(0, 360))),
        "size": [draw.uniform(20, 900) for _ in range(3)],
        "across": draw.uniform(0.1, 0.9),
        "form": draw.choice(("box", "box", "pipe")),
        "away": draw.choice((0.0, 1e-9, -1e-9, 1e-6, -1e-6, 1.0, -INSIDE, -5.0)),
        "shift": draw.choice(([0.0, 0.0], [1.7e6, 5.4e6], [-317.3, 88.1])),
    }


def wrong(example: Example) -> str:
    """Say whether the working space is judged otherwise than its distance says."""
    report = check(Scene.model_validate(_scene(example))).document()
    (found,) = (
        one
        for one in report["judgements"]
        if (one["subject"], one["requirement"]) == ("LP1", "working-space")
    )
    wanted = "not-met" if example["away"] <= -INSIDE else "met"
    if found["verdict"] != wanted:
        return f"contact {example['side']}: {found['verdict']}, {found['reason']}"
    return ""


def smaller(example: Example) -> Iterator[Example]:
    """Yield it with simpler numbers."""
    simple = {"bearing": 180.0, "own": 0.0, "size": [100.0] * 3, "across": 0.5}
    for key, value in {**simple, "shift": [0.0, 0.0]}.items():
        if example[key] != value:
            yield {**example, key: value}


def _scene(example: Example) -> dict[str, Any]:
    bearing, shift = np.radians(example["bearing"]), np.array(example["shift"])
    out = np.array([np.sin(bearing), np.cos(bearing)])
    right = np.array([-out[1], out[0]])
    middle = np.array(_PLACE) + shift
    front = middle + out * _SIZE[1] / 2
    plan, across, up = _place(example)
    at = front + right * plan[0] + out * plan[1]
    body: dict[str, Any] = {"id": "B", "kind": "obstacle", "grounded": False}
    if example["form"] == "pipe":
        long = example["size"][2]
        ends = [[*at.tolist(), up], [*at.tolist(), up + long]]
        body |= {"from": ends[0], "to": ends[1], "diameter": 2 * across}
    else:
        facing = example["bearing"] + example["own"]
        body |= {
            "size": example["size"],
            "place": {"at": at.tolist(), "facing": _turned(facing), "bottom": up},
        }
    corners = np.array([[0, 0], [6000, 0], [6000, 5000], [0, 5000]]) + shift
    return {
        "title": "Contact",
        "units": "mm",
        "rules": "nec-2023",
        "measures": "si",
        "room": {"outline": corners.tolist(), "height": 6000, "walls": "gypsum"},
        "items": [
            {
                "id": "LP1",
                "kind": "panelboard",
                "size": _SIZE,
                "place": {
                    "at": middle.tolist(),
                    "facing": _turned(example["bearing"]),
                    "bottom": 900,
                },
                "supply": {"system": "208Y/120"},
                "door": "none",
            },
            body,
        ],
    }


def _turned(bearing: float) -> float:
    return bearing if bearing <= 360.0 else bearing - 360.0


def _place(example: Example) -> tuple[tuple[float, float], float, float]:
    """Return where a body is from the front's middle, its radius, and its underside."""
    away, along = example["away"], (example["across"] - 0.5) * _SIZE[0]
    beside = _DEPTH * example["across"]
    half = _SIZE[0] / 2 + away
    # The point where it touches, and which way it is there from the space.
    touch, way, up = {
        "ahead": ((along, _DEPTH + away), (0.0, 1.0), 300.0),
        "left": ((-half, beside), (-1.0, 0.0), 300.0),
        "right": ((half, beside), (1.0, 0.0), 300.0),
        # Nothing stands on the floor: 2 m are clear, and more where gear is higher.
        "above": ((along, _DEPTH / 2), (0.0, 1.0), 2000.0 + away),
    }[example["side"]]
    radius = example["size"][0] / 2 if example["form"] == "pipe" else 0.0
    if example["side"] == "above":
        return touch, radius, up
    corner = np.array(way) * -radius if radius else _nearest_corner(example, way)
    x, y = np.array(touch) - corner
    return (float(x), float(y)), radius, up


def _nearest_corner(example: Example, way: tuple[float, float]) -> Vector:
    """Return the corner of a turned box that is nearest, from its middle."""
    own, (wide, deep, _) = np.radians(example["own"]), example["size"]
    # Turned clockwise, seen from above, from the way that the gear itself faces; what
    # is right to somebody in front is left to the gear.
    right = np.array([np.cos(own), np.sin(own)])
    out = np.array([-np.sin(own), np.cos(own)])
    corners = [
        right * wide / 2 * one + out * deep / 2 * other
        for one in (-1, 1)
        for other in (-1, 1)
    ]
    return min(corners, key=lambda corner: float(corner @ np.array(way)))
