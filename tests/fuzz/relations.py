"""Relations that must hold: a room that is only written otherwise is judged alike."""

from __future__ import annotations

import copy
import warnings
from collections import defaultdict
from typing import TYPE_CHECKING, Any, Final

from model3d import Scene, check
from model3d.scene.scene import Origin
from tests.fuzz.changed import CHANGES, mesh_folder
from tests.fuzz.rooms import astride, room

if TYPE_CHECKING:
    from collections.abc import Iterator
    from random import Random

    from tests.fuzz.part import Example

NEAR: Final = 0.05
"""Millimetres, and degrees."""
_OF_NAMES: Final = ("B", "AWAY")
"""What is sawn in two or put away has other names afterwards."""

Row = tuple[str, tuple[tuple[str, float], ...], float | None]


def example(draw: Random) -> Example:
    """Make a room, and choose how it is written otherwise."""
    made = room(draw)
    if draw.random() < 0.3:
        astride(draw, made)
    return {"scene": made, "by": draw.choice(sorted(CHANGES))}


def wrong(example: Example) -> str:
    """Say which judgement has become another one."""
    by, scene = example["by"], example["scene"]
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            before, after = rows(scene), rows(CHANGES[by](scene))
    except Exception as error:  # noqa: BLE001 - that is what is looked for
        return f"{type(error).__name__}: {error}"
    if before.keys() != after.keys():
        return f"{by}, judged at all: {sorted(before.keys() ^ after.keys())}"
    for key, one in before.items():
        other = after[key]
        if [row[0] for row in one] != [row[0] for row in other]:
            return f"{by}, verdict or way of {key[0]}: {key[1]}, {one}, {other}"
        if not all(map(_alike, one, other)):
            return f"{by}, figures of {key[0]}: {key[1]}, {one}, {other}"
    return ""


def smaller(example: Example) -> Iterator[Example]:
    """Yield the room with fewer things in it."""
    items = example["scene"]["items"]
    for number in range(len(items)):
        less = copy.deepcopy(example)
        del less["scene"]["items"][number]
        yield less
    for number in range(len(example["scene"]["room"]["doors"])):
        less = copy.deepcopy(example)
        del less["scene"]["room"]["doors"][number]
        yield less


def rows(scene: dict[str, Any]) -> dict[tuple[str, str], list[Row]]:
    """Return verdicts and figures by requirement and subject, in millimetres."""
    found: dict[tuple[str, str], list[Row]] = defaultdict(list)
    made = Scene.model_validate(scene, context=Origin(mesh_folder() / "scene.yaml"))
    for one in check(made).document()["judgements"]:
        # What is told of a drawing names the walls by what they are called.
        if one["requirement"] == "as-drawn" or one["subject"].startswith(_OF_NAMES):
            continue
        figures = tuple(sorted(one.get("provided", {}).items()))
        # Of ways that are equal the same one is told.
        door = one.get("way", {}).get("door", "")
        row = f"{one['verdict']} {door}".strip(), figures, one.get("margin")
        found[one["requirement"], one["subject"]].append(row)
    return {key: sorted(many, key=str) for key, many in found.items()}


def _alike(one: Row, other: Row) -> bool:
    names = [name for name, _ in one[1]] == [name for name, _ in other[1]]
    return names and all(
        a == b or (a is not None and b is not None and abs(a - b) <= NEAR)
        for a, b in zip(_figures(one), _figures(other), strict=True)
    )


def _figures(row: Row) -> list[float | None]:
    return [*(value for _, value in row[1]), row[2]]
