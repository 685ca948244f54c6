"""What is on an item's front or in its frame: door leaves, and tiers of cells."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from model3d.scene.mistakes import Key, found
from model3d.scene.written import RUN_KEYS, SLACK, rows, said

if TYPE_CHECKING:
    from model3d.scene.written import Found, Raw, Ruler


def door_mistakes(item: Raw, ruler: Ruler) -> list[Found]:
    """Return the doors an item cannot have, and leaves that pass its front."""
    mistakes: list[Found] = []
    written = [key for key in ("door", "doors") if said(item, key)]
    if len(written) > 1:
        message = "found door and doors, right is one of them"
        mistakes.append(((Key("doors"),), message))
    other = next((key for key in (*RUN_KEYS, "mesh") if said(item, key)), None)
    if other and not said(item, "size"):
        message = f"beside {other}, right is a size, which gives it a front"
        mistakes += [((Key(key),), f"found {key} {message}") for key in written]
    for number, leaf in rows(item.get("doors")):
        mistakes += [
            (("doors", number, *loc), message)
            for loc, message in _leaf(leaf, item, ruler)
        ]
    return mistakes


def _leaf(leaf: Raw, item: Raw, ruler: Ruler) -> list[Found]:
    front, _, high = ruler.lengths(item.get("size"), 3)
    mistakes: list[Found] = []
    fault = _passes(leaf, "offset", "width", front, ruler)
    if fault:
        of_front = f"a leaf inside the front, which is {found(item['size'][0])} wide"
        mistakes.append((("width",), f"{fault}, right is {of_front}"))
    fault = _passes(leaf, "sill", "height", high, ruler)
    if fault:
        of_front = f"a leaf inside the front, which is {found(item['size'][2])} high"
        mistakes.append((("height",), f"{fault}, right is {of_front}"))
    return mistakes


def _passes(
    leaf: Raw, start: str, extent: str, limit: float | None, ruler: Ruler
) -> str | None:
    """Return what was found where a leaf reaches past ``limit``, or None."""
    begin = ruler.metres(leaf.get(start, 0))
    # A leaf without a height ends at the item's top, wherever it begins.
    length = ruler.metres(leaf[extent]) if said(leaf, extent) else 2 * SLACK
    if limit is None or begin is None or length is None:
        return None
    if begin + length <= limit + SLACK:
        return None
    what = f"found {found(leaf[extent])}" if said(leaf, extent) else "found a leaf"
    return f"{what} from {start} {found(leaf[start])}" if said(leaf, start) else what


def rack_mistakes(item: Raw, ruler: Ruler) -> list[Found]:
    """Return tiers that cannot be in their rack."""
    size = item.get("size")
    wide, deep, high = ruler.lengths(size, 3)
    tiers = rows(item.get("tiers"))
    mistakes: list[Found] = []
    for number, tier in tiers:
        cell = ruler.lengths(tier.get("cell"), 3)
        cells = tier.get("cells")
        shelf = ruler.metres(tier.get("shelf"))
        where = ("tiers", number)
        if wide and cell[0] and type(cells) is int and cells * cell[0] > wide + SLACK:
            row = f"found {found(cells)} cells of {found(tier['cell'][0])}"
            message = f"{row}, right is a row inside the rack, {found(size[0])} wide"
            mistakes.append(((*where, "cells"), message))
        if deep and cell[1] and cell[1] > deep + SLACK:
            message = f"right is a cell inside the rack, {found(size[1])} deep"
            told = f"found {found(tier['cell'][1])}, {message}"
            mistakes.append(((*where, "cell", 1), told))
        if high and shelf and shelf > high + SLACK:
            message = f"right is a shelf inside the rack, {found(size[2])} high"
            told = f"found {found(tier['shelf'])}, {message}"
            mistakes.append(((*where, "shelf"), told))
    return mistakes + _gaps(item, tiers, ruler)


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
        elif thickness is not None and thickness >= up - low:
            message = "right is less than from a shelf to the next"
            told = f"found {found(item['shelf_thickness'])}, {message}"
            mistakes.append((("shelf_thickness",), told))
    return mistakes
