"""What must fit together at an item that is a cloud of points."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.geometry.clouds.reading import LARGEST, POINT_ENDINGS
from model3d.scene.checks.files import file_fault
from model3d.scene.checks.setting import word
from model3d.scene.item import RUN_KEYS
from model3d.scene.kinds import KINDS
from model3d.scene.words.mistakes import Key, found

if TYPE_CHECKING:
    from pathlib import Path

    from model3d.scene.item import Item
    from model3d.scene.words.mistakes import Found

_ONLY: Final = "obstacle"
"""The kind of what a scan shows: nothing else is known of it."""


def cloud_mistakes(item: Item, folder: Path) -> list[Found]:
    """Return what is wrong with a cloud, or with its keys where there is none."""
    if not item.said("points"):
        if not item.said("scanner"):
            return []
        message = "found scanner without points, right is scanner beside points"
        return [((Key("scanner"),), message)]
    mistakes: list[Found] = []
    kind = word(item.kind) or ""
    other = next((key for key in ("size", *RUN_KEYS, "mesh") if item.said(key)), None)
    if other:
        message = f"found points beside {other}, right is points alone"
        mistakes.append(((Key("points"),), message))
    if kind in KINDS and kind != _ONLY:
        message = f"found points with kind {kind}, right is points with kind {_ONLY}"
        mistakes.append(((Key("points"),), message))
    if item.said("place") and not other:
        message = "found a place beside points, right is a shift"
        mistakes.append(((Key("place"),), message))
    name = word(item.points)
    fault = name and file_fault(name, folder, POINT_ENDINGS, LARGEST)
    if fault:
        mistakes.append((("points",), f"found {found(name)}, right is {fault}"))
    return mistakes
