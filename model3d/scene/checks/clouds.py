"""What must fit together at an item that is, or is drawn as, a cloud of points."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.geometry.clouds.reader import LARGEST, POINT_ENDINGS
from model3d.scene.checks.files import file_fault
from model3d.scene.checks.setting import word
from model3d.scene.kinds import KINDS
from model3d.scene.parts.item import RUN_KEYS
from model3d.scene.words.mistakes import KeyStep, found

if TYPE_CHECKING:
    from pathlib import Path

    from model3d.scene.parts.item import Item
    from model3d.scene.words.mistakes import Found

_ONLY: Final = "obstacle"
"""The kind of what a scan alone shows: nothing else is known of it."""
_RIGHT: Final = "points alone or beside a size"


def cloud_mistakes(item: Item, folder: Path) -> list[Found]:
    """Return what is wrong with a cloud, or with its keys where there is none."""
    if not item.said("points"):
        if not item.said("scanner"):
            return []
        message = "found scanner without points, right is scanner beside points"
        return [((KeyStep("scanner"),), message)]
    mistakes: list[Found] = []
    other = next((key for key in (*RUN_KEYS, "mesh") if item.said(key)), None)
    if other:
        message = f"found points beside {other}, right is {_RIGHT}"
        mistakes.append(((KeyStep("points"),), message))
    mistakes += _of_a_box(item) if item.said("size") else _alone(item, other)
    name = word(item.points)
    fault = name and file_fault(name, folder, POINT_ENDINGS, LARGEST)
    if fault:
        mistakes.append((("points",), f"found {found(name)}, right is {fault}"))
    return mistakes


def _of_a_box(item: Item) -> list[Found]:
    """Return what is wrong with points that are only drawn, in the box of a size."""
    if not item.said("shift"):
        return []
    return [((KeyStep("shift"),), "found shift beside a size, right is one of them")]


def _alone(item: Item, other: str | None) -> list[Found]:
    """Return what is wrong with points that are all that is known of an item."""
    mistakes: list[Found] = []
    kind = word(item.kind) or ""
    if kind in KINDS and kind != _ONLY:
        message = f"found points with kind {kind}, right is a size beside them, or"
        mistakes.append(((KeyStep("points"),), f"{message} kind {_ONLY}"))
    if item.said("place") and not other:
        message = "found a place beside points, right is a shift, or a size too"
        mistakes.append(((KeyStep("place"),), message))
    return mistakes
