"""Contact is clear, on both sides of its tolerance, at every face and every bearing.

Source: requirements.md, "an intersection thinner than 0.1 mm is no intrusion".
"""

from __future__ import annotations

import math
from typing import Any, Final

import pytest

from model3d import Scene, check

pytestmark = pytest.mark.many

Plain = dict[str, Any]

WIDE, DEEP, TALL = 1000.0, 600.0, 2150.0
AHEAD = 900.0
CLEAR: Final = (-0.5, 0.0, 0.05)
INSIDE: Final = (0.2, 1.0)
BEARINGS: Final = (180.0, 0.0, 37.3, 211.0)
FACES: Final = ("front", "back", "left", "right", "top", "bottom")


def placed(name: str, low: list[float], high: list[float], bearing: float) -> Plain:
    """Return a box given by its corners from the left end of the gear's front."""
    u, v = (low[0] + high[0]) / 2, (low[1] + high[1]) / 2
    return {
        "id": name,
        "size": [high[0] - low[0], high[1] - low[1], high[2] - low[2]],
        "place": {"at": plan(u, v, bearing), "facing": bearing, "bottom": low[2]},
    }


def plan(u: float, v: float, bearing: float) -> list[float]:
    """Return the point of the room that is u right of and v out of the front's end."""
    sine, cosine = math.sin(math.radians(bearing)), math.cos(math.radians(bearing))
    return [1234.0 - u * cosine + v * sine, -567.0 + u * sine + v * cosine]


def gear(bearing: float, **keys: object) -> Plain:
    item = placed("MSB", [0, -DEEP, 0], [WIDE, 0, TALL], bearing)
    supply = {"system": "480Y/277"}
    return item | {"kind": "switchboard", "supply": supply, "door": "none"} | keys


def judged(requirement: str, *items: Plain) -> tuple[str, list[str]]:
    scene = {
        "title": "Contact",
        "units": "mm",
        "measures": "si",
        "rules": "nec-2023",
        "use": "outdoor",
        "items": list(items),
    }
    (found,) = check(Scene.model_validate(scene)).of("MSB", requirement)
    return found.verdict, [one.item for one in found.intrusions]


def box_at(face: str, inside: float, bearing: float) -> Plain:
    """Return a box that reaches so far into the working space through one face."""
    low, high = [300.0, 300.0, 500.0], [700.0, 600.0, 900.0]
    match face:
        case "front":
            low[1], high[1] = AHEAD - inside, AHEAD + 400
        case "back":
            low[1], high[1] = -300, inside
        case "left":
            low[0], high[0] = -400, inside
        case "right":
            low[0], high[0] = WIDE - inside, WIDE + 400
        case "top":
            low[2], high[2] = TALL - inside, TALL + 300
        case _:
            low[2], high[2] = -300, inside
    return placed("X", low, high, bearing) | {"kind": "storage"}


@pytest.mark.parametrize("bearing", BEARINGS)
@pytest.mark.parametrize("face", FACES)
@pytest.mark.parametrize("inside", CLEAR)
def test_a_box_touches(face: str, inside: float, bearing: float) -> None:
    found = judged("working-space", gear(bearing), box_at(face, inside, bearing))
    assert found == ("met", [])


@pytest.mark.parametrize("bearing", BEARINGS)
@pytest.mark.parametrize("face", FACES)
@pytest.mark.parametrize("inside", INSIDE)
def test_a_box_reaches_in(face: str, inside: float, bearing: float) -> None:
    found = judged("working-space", gear(bearing), box_at(face, inside, bearing))
    assert found == ("not-met", ["X"])


def corner_at(face: str, inside: float, bearing: float) -> Plain:
    """Return a post, turned by 45 degrees, that reaches in with one upright edge."""
    half = 300 / math.sqrt(2)
    u, v = {
        "front": (500.0, AHEAD + half - inside),
        "left": (inside - half, 450.0),
        "right": (WIDE + half - inside, 450.0),
    }[face]
    place = {"at": plan(u, v, bearing), "facing": (bearing + 45) % 360}
    return {"id": "X", "kind": "storage", "size": [300, 300, 1000], "place": place}


@pytest.mark.parametrize("bearing", BEARINGS)
@pytest.mark.parametrize("face", ["front", "left", "right"])
@pytest.mark.parametrize("inside", [*CLEAR, *INSIDE])
def test_an_edge_of_a_turned_post(face: str, inside: float, bearing: float) -> None:
    found = judged("working-space", gear(bearing), corner_at(face, inside, bearing))
    assert found == (("not-met", ["X"]) if inside in INSIDE else ("met", []))


def pipe_at(face: str, inside: float, bearing: float) -> Plain:
    """Return a round pipe that reaches in with its side."""
    radius = 57.0
    run: Plain = {"id": "X", "kind": "pipe", "grounded": False, "diameter": 2 * radius}
    match face:
        case "front":
            at = plan(500.0, AHEAD + radius - inside, bearing)
            return run | {"from": [*at, 100], "to": [*at, 1800]}
        case "left":
            at = plan(inside - radius, 450.0, bearing)
            return run | {"from": [*at, 100], "to": [*at, 1800]}
        case _:
            up = TALL + radius - inside
            ends = plan(-300.0, 450.0, bearing), plan(1500.0, 450.0, bearing)
            return run | {"from": [*ends[0], up], "to": [*ends[1], up]}


@pytest.mark.parametrize("bearing", BEARINGS)
@pytest.mark.parametrize("face", ["front", "left", "top"])
@pytest.mark.parametrize("inside", [*CLEAR, *INSIDE])
def test_the_side_of_a_pipe(face: str, inside: float, bearing: float) -> None:
    found = judged("working-space", gear(bearing), pipe_at(face, inside, bearing))
    assert found == (("not-met", ["X"]) if inside in INSIDE else ("met", []))


@pytest.mark.parametrize("bearing", BEARINGS)
@pytest.mark.parametrize("reach", [149.95, 150.05, 150.2, 151.0])
def test_the_reach_of_what_is_above(reach: float, bearing: float) -> None:
    low_gear = placed("MSB", [0, -DEEP, 0], [WIDE, 0, 1800], bearing)
    item = {**gear(bearing), **low_gear}
    above = placed("X", [-100, -DEEP, 1800], [1100, reach, 1950], bearing)
    found = judged("working-space", item, above | {"kind": "wireway"})
    assert found == (("not-met", ["X"]) if reach > 150.1 else ("met", []))


@pytest.mark.parametrize("bearing", BEARINGS)
@pytest.mark.parametrize("hinge", ["left", "right"])
@pytest.mark.parametrize("inside", [*CLEAR, *INSIDE])
def test_a_leaf_and_what_is_ahead_of_it(
    hinge: str, inside: float, bearing: float
) -> None:
    leaf = {"hinge": hinge, "width": 800, "offset": 100, "height": 1900}
    item = {**gear(bearing), "doors": [leaf]}
    del item["door"]
    low, high = [-500.0, 800.0 - inside, 0.0], [1500.0, 1200.0, 1000.0]
    wall = placed("X", low, high, bearing) | {"kind": "furniture"}
    found = judged("door-swing", item, wall)
    assert found == (("not-met", ["X"]) if inside in INSIDE else ("met", []))


@pytest.mark.parametrize("bearing", BEARINGS)
@pytest.mark.parametrize("hinge", ["left", "right"])
@pytest.mark.parametrize("inside", [*CLEAR, *INSIDE])
def test_a_leaf_and_what_is_beside_its_hinge(
    hinge: str, inside: float, bearing: float
) -> None:
    leaf = {"hinge": hinge, "width": 800, "offset": 100, "height": 1900}
    item = {**gear(bearing), "doors": [leaf]}
    del item["door"]
    low, high = [-300.0, 100.0, 0.0], [100.0 + inside, 500.0, 1000.0]
    if hinge == "right":
        low[0], high[0] = 900.0 - inside, 1300.0
    post = placed("X", low, high, bearing) | {"kind": "furniture"}
    found = judged("door-swing", item, post)
    assert found == (("not-met", ["X"]) if inside in INSIDE else ("met", []))


@pytest.mark.parametrize("bearing", BEARINGS)
@pytest.mark.parametrize("inside", [*CLEAR, *INSIDE])
@pytest.mark.parametrize("face", ["left", "right", "front", "back", "top"])
def test_what_is_foreign_beside_the_dedicated_space(
    face: str, inside: float, bearing: float
) -> None:
    low, high = [300.0, -500.0, 2500.0], [700.0, -100.0, 3000.0]
    match face:
        case "left":
            low[0], high[0] = -400, inside
        case "right":
            low[0], high[0] = WIDE - inside, WIDE + 400
        case "front":
            low[1], high[1] = -inside, 400
        case "back":
            low[1], high[1] = -DEEP - 400, -DEEP + inside
        case _:
            low[2], high[2] = TALL + 1800 - inside, TALL + 2200
    duct = placed("X", low, high, bearing) | {"kind": "duct"}
    found = judged("dedicated-space", gear(bearing), duct)
    assert found == (("not-met", ["X"]) if inside in INSIDE else ("met", []))
