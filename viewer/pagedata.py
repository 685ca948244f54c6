"""A stage's document as the page takes it: short."""

from __future__ import annotations

import base64
import struct
from typing import Any, Final

_USUAL: Final[dict[str, Any]] = {
    "opacity": 1.0,
    "edge_opacity": 1.0,
    "ghost": False,
    "one_sided": False,
    "through": False,
    "lift": 0,
    "pickable": True,
    "pivot": None,
    "findings": [],
}
"""Values of a shape that most shapes have; the script fills them in."""

_STEPS: Final = 20_000
"""Of a metre. Points that share one are one: a line there looks the same."""
_POINT: Final = 12
"""Bytes of a point: three float32."""
_MOST_NAMED: Final = 2**16
"""Points that two bytes can tell apart."""


def lean(document: dict[str, Any]) -> dict[str, Any]:
    """Return a stage's document with lean shapes, in the steps of its lesson too."""
    steps = [
        {**step, "change": lean_change(step["change"])} for step in document["steps"]
    ]
    return {**document, "shapes": _lean_shapes(document["shapes"]), "steps": steps}


def lean_change(change: dict[str, Any]) -> dict[str, Any]:
    """Return a change of a stage's document with lean shapes."""
    return {**change, "put": _lean_shapes(change["put"])}


def _lean_shapes(shapes: list[dict[str, Any]]) -> list[dict[str, Any]]:
    return [
        {
            key: value
            for key, value in {**shape, **_joined(shape)}.items()
            if key not in _USUAL or value != _USUAL[key]
        }
        for shape in shapes
    ]


def _joined(shape: dict[str, Any]) -> dict[str, dict[str, str]]:
    """Return edges as the numbers of their ends among the vertices.

    That is a sixth of their length, and edges are half of a room. Ends that are no
    vertices are added to these.
    """
    data = base64.b64decode(shape["vertices"]["f32"])
    ends = base64.b64decode(shape["edges"]["f32"])
    number = {point: n for n, point in reversed([*enumerate(_points(data))])}
    if not number:
        return {}
    count = len(data) // _POINT
    numbers: list[int] = []
    added: list[bytes] = []
    for n, point in enumerate(_points(ends)):
        if point not in number:
            number[point] = count + len(added)
            added.append(ends[n * _POINT : (n + 1) * _POINT])
        numbers.append(number[point])
    if count + len(added) > _MOST_NAMED:
        return {}
    packed = struct.pack(f"<{len(numbers)}H", *numbers)
    return {
        "vertices": {"f32": _text(data + b"".join(added))},
        "edges": {"u16": _text(packed)},
    }


def _points(data: bytes) -> list[tuple[int, ...]]:
    """Return points in whole steps of a hair's breadth."""
    numbers = struct.iter_unpack("<3f", data)
    return [tuple(round(value * _STEPS) for value in point) for point in numbers]


def _text(data: bytes) -> str:
    return base64.b64encode(data).decode("ascii")
