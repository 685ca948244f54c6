"""A stage as plain data for JSON, and a stage as what it changes of another one.

Arrays of numbers go as base64 of little-endian numbers, see ``packed``.
"""

from __future__ import annotations

import base64
from dataclasses import fields, is_dataclass
from functools import cache
from typing import TYPE_CHECKING, Any, Final

import numpy as np

from viewer.stage.drawn import Shape
from viewer.stage.parts import Stage

if TYPE_CHECKING:
    from viewer.stage.drawn import Faces, Points

FORMAT: Final = 1
"""Raised when a key of the document changes its meaning."""


_FAINT: Final = ("id", "opacity", "edge_opacity", "ghost")
"""Keys of a shape that is the same but drawn faintly."""


def document(stage: Stage) -> dict[str, Any]:
    """Return plain data for JSON: the keys are the attributes of the records.

    Steps of a lesson are given as what they change, see ``difference``:
    ``{"say", "ask", "look", "item", "layers", "task", "sizes", "faint", "change"}``; of
    the sizes one that the step's stage has is given as its place there, and of what is
    faint only how it is drawn.
    """
    found: dict[str, Any] = {"format": FORMAT, **plain(stage)}
    found["steps"] = []
    before = stage
    for step in stage.steps:
        found["steps"].append(
            {
                "say": step.say,
                "ask": step.ask,
                "look": plain(step.look),
                "item": step.item,
                "layers": plain(step.layers),
                "task": plain(step.task),
                "sizes": [
                    plain(one)
                    if one.judgement is None
                    else step.stage.dimensions.index(one)
                    for one in step.sizes
                ],
                "faint": [
                    {name: plain(getattr(one, name)) for name in _FAINT}
                    for one in step.faint
                ],
                "change": difference(before, step.stage),
            }
        )
        before = step.stage
    return found


def difference(before: Stage, after: Stage) -> dict[str, Any]:
    """Return what turns one stage's document into another's.

    ``drop`` lists ids of shapes to take away, ``put`` the shapes that are new or
    changed; every other key is the whole new value of the stage's own key. Keys that
    stay as they are are left out.
    """
    old = {shape.id: shape for shape in before.shapes}
    new = {shape.id: shape for shape in after.shapes}
    found: dict[str, Any] = {
        "drop": [name for name in old if name not in new],
        "put": [
            plain(shape)
            for name, shape in new.items()
            if name not in old or not _same(old[name], shape)
        ],
    }
    for key in fields(Stage):
        if key.name in {"shapes", "steps", "lesson"}:
            continue
        value = getattr(after, key.name)
        if value != getattr(before, key.name):
            found[key.name] = plain(value)
    return found


def packed(array: Points | Faces) -> dict[str, str]:
    """Return an array as base64 text: float32 for lengths, uint16 or uint32 for faces.

    The key tells which: ``f32``, ``u16`` or ``u32``; the numbers follow one another
    row by row, the lowest byte first.

    >>> packed(np.array([[0, 1, 2]]))
    {'u16': 'AAABAAIA'}
    """
    if array.dtype.kind == "f":
        key, kind = "f32", "<f4"
    elif array.max(initial=0) <= np.iinfo(np.uint16).max:
        key, kind = "u16", "<u2"
    else:
        key, kind = "u32", "<u4"
    return {key: base64.b64encode(array.astype(kind).tobytes()).decode("ascii")}


def _same(one: Shape, other: Shape) -> bool:
    for key in fields(Shape):
        a, b = getattr(one, key.name), getattr(other, key.name)
        equal = np.array_equal(a, b) if isinstance(a, np.ndarray) else a == b
        if not equal:
            return False
    return True


def plain(value: Any) -> Any:  # noqa: ANN401 - whatever a record holds
    """Return a record of a stage, or what it holds, as data for JSON."""
    if value is None or isinstance(value, str | int):
        return value
    if isinstance(value, float):
        # A tenth of a hair's breadth: shorter text, the same for the same scene.
        return round(value, 6) + 0.0
    if isinstance(value, tuple | list):
        return [plain(one) for one in value]
    if isinstance(value, np.ndarray):
        return packed(value)
    if not is_dataclass(value):
        return value
    record: type = type(value)
    return {name: plain(getattr(value, name)) for name in _keys(record)}


@cache
def _keys(record: type) -> tuple[str, ...]:
    """Return the names of what a record has to tell."""
    return tuple(key.name for key in fields(record) if key.name != "steps")
