"""A stage's document as the page takes it: short."""

from __future__ import annotations

import base64
import struct
from collections import Counter
from dataclasses import replace
from typing import TYPE_CHECKING, Any, Final

import numpy as np

from viewer.stage import difference

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from viewer.stage import Shape, Stage

_USUAL: Final[dict[str, Any]] = {
    "opacity": 1.0,
    "edge_opacity": 1.0,
    "ghost": False,
    "one_sided": False,
    "through": False,
    "lift": 0,
    "pickable": True,
    "pivot": None,
    "judgements": [],
}
"""Values of a shape that most shapes have; the script fills them in."""

_LISTS: Final = ("badges", "labels", "dimensions", "judgements")
"""Keys of a stage that are lists of records."""
_GEOMETRY: Final = frozenset({"vertices", "faces", "edges"})
"""Keys of a shape that the script unpacks."""
_KINDS: Final = frozenset({"f32", "u16", "u32"})
"""Keys of packed numbers."""
_LONG: Final = 64
"""Characters. Shorter numbers are not worth a place in a list."""
_STEPS: Final = 20_000
"""Of a metre. Points that share one are one: a line there looks the same."""
_POINT: Final = 12
"""Bytes of a point: three float32."""
_MOST_NAMED: Final = 2**16
"""Points that two bytes can tell apart."""


def lean(document: dict[str, Any]) -> dict[str, Any]:
    """Return a stage's document with lean shapes, in the steps of its lesson too.

    In a step, a record of a list that the stage before had too is given as its place
    there.
    """
    steps = []
    before: dict[str, Any] = {name: document[name] for name in _LISTS}
    for step in document["steps"]:
        change = lean_change(step["change"])
        lists: dict[str, Any] = {
            name: change[name] for name in _LISTS if name in change
        }
        places = {name: _places(before[name], new) for name, new in lists.items()}
        steps.append({**step, "change": {**change, **places}})
        before.update(lists)
    return {**document, "shapes": _lean_shapes(document["shapes"]), "steps": steps}


def once(data: dict[str, Any]) -> dict[str, Any]:
    """Return data in which long numbers that stand in it several times stand once.

    They are listed under ``numbers``, and ``{"again": 3}`` stands for the fourth. The
    steps of a lesson have much in common: the faces of two racks alike, for one.
    """
    count = Counter(text for _, text in _packed(data))
    kept: dict[tuple[str, str], int] = {}

    def told(value: Any) -> Any:  # noqa: ANN401 - any part of the data
        if isinstance(value, list | tuple):
            return [told(one) for one in value]
        if not isinstance(value, dict):
            return value
        if len(found := [*_packed(value, below=False)]) == 1 == len(value):
            if count[found[0][1]] > 1:
                return {"again": kept.setdefault(found[0], len(kept))}
            return value
        return {key: told(one) for key, one in value.items()}

    short = told(data)
    return {**short, "numbers": [{kind: text} for kind, text in kept]}


def _packed(value: Any, *, below: bool = True) -> Iterator[tuple[str, str]]:  # noqa: ANN401 - any part of the data
    """Yield kind and text of long packed numbers, of all that is below too."""
    if isinstance(value, dict):
        for key, one in value.items():
            if key in _KINDS and isinstance(one, str) and len(one) >= _LONG:
                yield key, one
            elif below:
                yield from _packed(one)
    elif below and isinstance(value, list | tuple):
        for one in value:
            yield from _packed(one)


def _places(before: list[Any], after: list[Any]) -> list[Any]:
    return [before.index(one) if one in before else one for one in after]


def brief_change(change: dict[str, Any], before: dict[str, Any]) -> dict[str, Any]:
    """Return a lean change that says only what is other than before.

    A record of a list that has much in common with one before is given as ``{"like":
    its place, ...}`` with the keys that are others; so are shapes under ``alike``.

    Args:
        change: As ``lean_difference`` gives it.
        before: The document of the stage that it changes, lean.
    """
    old = {shape["id"]: shape for shape in before["shapes"]}
    alike, put = [], []
    for shape in change["put"]:
        was = old.get(shape["id"], {})
        other = _other(was, shape)
        if was and was.keys() <= shape.keys() and not other.keys() & _GEOMETRY:
            alike.append({"id": shape["id"], **other})
        else:
            put.append(shape)
    lists: dict[str, Any] = {
        name: [_like(before[name], one) for one in change[name]]
        for name in _LISTS
        if name in change
    }
    return {**change, "put": put, "alike": alike, **lists}


def _like(before: list[Any], record: Any) -> Any:  # noqa: ANN401 - a record or its place
    if not isinstance(record, dict) or not before:
        return record
    others = [_other(one, record) for one in before]
    place = min(range(len(others)), key=lambda n: len(others[n]))
    return {"like": place, **others[place]}


def _other(before: dict[str, Any], after: dict[str, Any]) -> dict[str, Any]:
    """Return the keys whose values are others than before."""
    return {
        key: value
        for key, value in after.items()
        if key not in before or before[key] != value
    }


def lean_change(change: dict[str, Any]) -> dict[str, Any]:
    """Return a change of a stage's document with lean shapes."""
    return {**change, "put": _lean_shapes(change["put"])}


def lean_difference(before: Stage, after: Stage) -> dict[str, Any]:
    """Return what turns one stage's document into another's, as short as it can be.

    As ``viewer.stage.difference``, with lean shapes; and in a list of records one that
    the stage before had too is given as its place there.
    """
    old = {id(shape) for shape in before.shapes}
    kept = {shape.id for shape in after.shapes if id(shape) in old}
    was, now = (
        _bare(stage, [shape for shape in stage.shapes if shape.id not in kept])
        for stage in (before, after)
    )
    found = lean_change(difference(was, now))
    for name in _LISTS:
        one, other = getattr(before, name), getattr(after, name)
        if one != other:
            there = _stood(one, other)
            pairs = zip(there, other, strict=True)
            new = {name: tuple(record for place, record in pairs if place is None)}
            told = difference(_bare(was), _bare(was, **new))
            left = iter(told.get(name, ()))
            found[name] = [next(left) if place is None else place for place in there]
    return found


def _stood(before: Sequence[Any], after: Sequence[Any]) -> list[int | None]:
    """Return where each record of a list stood before; None of a new one."""
    # Most are the very same: what is in those is not even looked at.
    same = {id(record): place for place, record in enumerate(before)}
    found = [same.get(id(record)) for record in after]
    left = set(range(len(before))).difference(found)
    alike = {before[place]: place for place in sorted(left)}
    return [
        alike.get(record) if place is None else place
        for place, record in zip(found, after, strict=True)
    ]


def _bare(stage: Stage, shapes: Iterable[Shape] = (), **records: Any) -> Stage:  # noqa: ANN401 - of any kind
    """Return a stage with these shapes and records only."""
    lists: dict[str, Any] = {**dict.fromkeys(_LISTS, ()), **records}
    return replace(stage, shapes=tuple(shapes), **lists)


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
    numbers = np.frombuffer(data, "<f4").astype(float) * _STEPS
    steps = np.rint(numbers).astype(np.int64).reshape(-1, 3)
    return [tuple(point) for point in steps.tolist()]


def _text(data: bytes) -> str:
    return base64.b64encode(data).decode("ascii")
