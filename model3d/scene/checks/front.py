"""What is at an item's front or in its frame: doors, handles, sides, tiers of cells."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Any, Final

from model3d.scene.mistakes import Key, found
from model3d.scene.written import RUN_KEYS, SLACK, beyond, rows, said

if TYPE_CHECKING:
    from model3d.scene.mistakes import Loc
    from model3d.scene.written import Found, Raw, Ruler

_MOST_CELLS: Final = 10**6
"""A number with hundreds of digits has no float."""


_OF_A_FRONT: Final = ("handle", "clearances")


def front_mistakes(item: Raw, ruler: Ruler) -> list[Found]:
    """Return what an item cannot have at its front, and what passes that."""
    mistakes = _handle(item, ruler)
    written = [key for key in ("door", "doors") if said(item, key)]
    if len(written) > 1:
        message = "found door and doors, right is one of them"
        mistakes.append(((Key("doors"),), message))
    other = next((key for key in (*RUN_KEYS, "mesh") if said(item, key)), None)
    if other and not said(item, "size"):
        message = f"beside {other}, right is a size, which gives it a front"
        written += [key for key in _OF_A_FRONT if said(item, key)]
        mistakes += [((Key(key),), f"found {key} {message}") for key in written]
    for number, leaf in rows(item.get("doors")):
        mistakes += [
            (("doors", number, *loc), message)
            for loc, message in _leaf(leaf, item, ruler)
        ]
    return mistakes


def _handle(item: Raw, ruler: Ruler) -> list[Found]:
    mistakes: list[Found] = []
    if said(item, "handle_reach") and not said(item, "handle"):
        message = "found handle_reach without a handle, right is a handle beside it"
        mistakes.append(((Key("handle_reach"),), message))
    size: Any = item.get("size")
    if beyond(ruler.lengths(size, 3)[2], ruler.metres(item.get("handle"))):
        message = f"right is a handle on the item, which is {found(size[2])} high"
        mistakes.append((("handle",), f"found {found(item['handle'])}, {message}"))
    return mistakes


def _leaf(leaf: Raw, item: Raw, ruler: Ruler) -> list[Found]:
    size = item.get("size")
    wide, _, high = ruler.lengths(size, 3)
    if size is None or wide is None or high is None:
        return []
    mistakes: list[Found] = []
    if beyond(
        wide, ruler.metres(leaf.get("offset", 0)), ruler.metres(leaf.get("width"))
    ):
        what = _from(leaf, "offset", "width")
        message = f"right is a leaf inside the front, which is {found(size[0])} wide"
        mistakes.append((("width",), f"{what}, {message}"))
    # Without a height a leaf ends at the item's top, wherever it begins.
    height = ruler.metres(leaf["height"]) if said(leaf, "height") else 2 * SLACK
    if beyond(high, ruler.metres(leaf.get("sill", 0)), height):
        key = "height" if said(leaf, "height") else "sill"
        what = _from(leaf, "sill", key)
        message = f"right is a leaf inside the front, which is {found(size[2])} high"
        mistakes.append(((key,), f"{what}, {message}"))
    return mistakes


def _from(leaf: Raw, start: str, extent: str) -> str:
    what = f"found {found(leaf[extent])}"
    if extent == start or not said(leaf, start):
        return what
    return f"{what} from {start} {found(leaf[start])}"


def rack_mistakes(item: Raw, ruler: Ruler) -> list[Found]:
    """Return tiers that cannot be in their rack."""
    size: Any = item.get("size")
    wide, deep, high = ruler.lengths(size, 3)
    tiers = rows(item.get("tiers"))
    mistakes: list[Found] = []
    for number, tier in tiers:
        width, depth, _ = ruler.lengths(tier.get("cell"), 3)
        row = _row(tier.get("cells"), width)
        if beyond(wide, row):
            what = f"found {found(tier['cells'])} cells of {found(tier['cell'][0])}"
            message = f"right is a row inside the rack, {found(size[0])} wide"
            mistakes.append((("tiers", number, "cells"), f"{what}, {message}"))
        if fault := _too_deep(tier, depth, deep, ruler):
            where, what = fault
            message = f"{what} inside the rack, {found(size[1])} deep"
            mistakes.append((("tiers", number, *where), message))
        if beyond(high, ruler.metres(tier.get("shelf"))):
            what = f"found {found(tier['shelf'])}"
            message = f"right is a shelf inside the rack, {found(size[2])} high"
            mistakes.append((("tiers", number, "shelf"), f"{what}, {message}"))
    return mistakes + _gaps(item, tiers, ruler)


def _row(cells: object, width: float | None) -> float | None:
    if width is None or isinstance(cells, bool) or not isinstance(cells, int):
        return None
    return min(cells, _MOST_CELLS) * width


def _too_deep(
    tier: Raw, depth: float | None, deep: float | None, ruler: Ruler
) -> tuple[Loc, str] | None:
    """Return what of a tier is too deep for its rack, and the start of the message."""
    count, offset = tier.get("rows", 1), tier.get("offset")
    if beyond(deep, depth):
        return ("cell", 1), f"found {found(tier['cell'][1])}, right is a cell"
    rows_depth = _row(count, depth)
    if beyond(deep, rows_depth):
        what = f"found {found(count)} rows of {found(tier['cell'][1])}"
        return ("rows",), f"{what}, right is rows"
    if offset is not None and beyond(deep, rows_depth, ruler.metres(offset)):
        return ("offset",), f"found {found(offset)}, right is a row of cells"
    return None


def _gaps(item: Raw, tiers: list[tuple[int, Raw]], ruler: Ruler) -> list[Found]:
    thickness = ruler.metres(item.get("shelf_thickness"))
    mistakes: list[Found] = []
    for (_, lower), (number, upper) in pairwise(tiers):
        low, up = ruler.metres(lower.get("shelf")), ruler.metres(upper.get("shelf"))
        if low is None or up is None:
            continue
        if up - low <= SLACK:
            above = f"right is a shelf above the one before, {found(lower['shelf'])}"
            message = f"found {found(upper['shelf'])}, {above}"
            mistakes.append((("tiers", number, "shelf"), message))
        elif thickness is not None and thickness >= up - low - SLACK:
            message = "right is less than from a shelf to the next"
            told = f"found {found(item['shelf_thickness'])}, {message}"
            mistakes.append((("shelf_thickness",), told))
    return mistakes
