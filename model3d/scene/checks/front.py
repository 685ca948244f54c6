"""What is at an item's front or in its frame: doors, handles, sides, tiers of cells."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Final

from model3d.scene.checks.setting import SLACK, beyond, numbered
from model3d.scene.parts.item import RUN_KEYS, Leaf, Tier
from model3d.scene.words.mistakes import KeyStep, found, shown, within

if TYPE_CHECKING:
    from model3d.scene.checks.setting import BareUnit
    from model3d.scene.parts.item import Item
    from model3d.scene.words.mistakes import Found, Loc

_MOST_CELLS: Final = 10**6
"""A number with hundreds of digits has no float."""
_A_PAIR: Final = 2
_OF_A_FRONT: Final = ("handle", "clearances")


def front_mistakes(item: Item, ruler: BareUnit) -> list[Found]:
    """Return what an item cannot have at its front, and what passes that."""
    size = ruler.lengths(item.size, 3)
    mistakes = _handle(item, size[2], ruler)
    written = [key for key in ("door", "doors") if item.said(key)]
    if len(written) > 1:
        message = "found door and doors, right is one of them"
        mistakes.append(((KeyStep("doors"),), message))
    if other := frontless(item):
        message = f"beside {other}, right is a size, which gives it a front"
        written += [key for key in _OF_A_FRONT if item.said(key)]
        mistakes += [((KeyStep(key),), f"found {key} {message}") for key in written]
    leaves = numbered(Leaf, item.doors)
    for number, leaf in leaves:
        mistakes += within(("doors", number), _leaf(leaf, item, size, ruler))
    return mistakes + _two_leaves([leaf for _, leaf in leaves], size[0], ruler)


def _two_leaves(leaves: list[Leaf], wide: float | None, ruler: BareUnit) -> list[Found]:
    """Return a second leaf that lies over the first, for its offset was left out."""
    if len(leaves) != _A_PAIR or any(leaf.said("offset") for leaf in leaves):
        return []
    if {str(leaf.hinge) for leaf in leaves} != {"left", "right"}:
        return []
    widths = [ruler.metres(leaf.width) for leaf in leaves]
    one, other = ((leaf.sill, leaf.height) for leaf in leaves)
    alike = one == other
    if not alike or wide is None or None in widths or beyond(wide, *widths):
        return []
    message = "found a second leaf over the first, right is an offset at the right one"
    return [(("doors", 1), message)]


def frontless(item: Item) -> str | None:
    """Return what an item has in place of a size, and so no front; else None."""
    if item.said("size"):
        return None
    return next((key for key in (*RUN_KEYS, "mesh", "points") if item.said(key)), None)


def _handle(item: Item, high: float | None, ruler: BareUnit) -> list[Found]:
    mistakes: list[Found] = []
    if item.said("handle_reach") and not item.said("handle"):
        message = "found handle_reach without a handle, right is a handle beside it"
        mistakes.append(((KeyStep("handle_reach"),), message))
    if item.size and beyond(high, ruler.metres(item.handle)):
        message = f"right is a handle on the item, which is {shown(item.size[2])} high"
        mistakes.append((("handle",), f"found {shown(item.handle)}, {message}"))
    return mistakes


def _leaf(
    leaf: Leaf, item: Item, size: tuple[float | None, ...], ruler: BareUnit
) -> list[Found]:
    wide, _, high = size
    if item.size is None or wide is None or high is None:
        return []
    mistakes: list[Found] = []
    if beyond(wide, ruler.metres(leaf.offset), ruler.metres(leaf.width)):
        what = _from(leaf, "offset", "width")
        where = f"the front, which is {shown(item.size[0])} wide"
        mistakes.append((("width",), f"{what}, right is a leaf inside {where}"))
    # Without a height a leaf ends at the item's top, wherever it begins.
    key = "height" if leaf.said("height") else "sill"
    height = 2 * SLACK if key == "sill" else ruler.metres(leaf.height)
    if beyond(high, ruler.metres(leaf.sill), height):
        what = _from(leaf, "sill", key)
        where = f"the front, which is {shown(item.size[2])} high"
        mistakes.append(((key,), f"{what}, right is a leaf inside {where}"))
    return mistakes


def _from(leaf: Leaf, start: str, extent: str) -> str:
    what = f"found {shown(getattr(leaf, extent))}"
    if extent == start or not leaf.said(start):
        return what
    return f"{what} from {start} {shown(getattr(leaf, start))}"


def rack_mistakes(item: Item, ruler: BareUnit) -> list[Found]:
    """Return tiers that cannot be in their rack."""
    wide, deep, high = ruler.lengths(item.size, 3)
    tiers = numbered(Tier, item.tiers)
    mistakes: list[Found] = []
    for number, tier in tiers:
        width, depth, _ = ruler.lengths(tier.cell, 3)
        faults: list[tuple[Loc, str, str]] = []
        if beyond(wide, _row(tier.cells, width)):
            what = f"found {found(tier.cells)} cells of {shown(tier.cell[0])}"
            faults.append(
                (("cells",), f"{what}, right is a row", f"{_at(item, 0)} wide")
            )
        if fault := _too_deep(tier, depth, deep, ruler):
            faults.append((*fault, f"{_at(item, 1)} deep"))
        if beyond(high, ruler.metres(tier.shelf)):
            what = f"found {shown(tier.shelf)}, right is a shelf"
            faults.append((("shelf",), what, f"{_at(item, 2)} high"))
        mistakes += [
            (("tiers", number, *loc), f"{what} inside the rack, {extent}")
            for loc, what, extent in faults
        ]
    return mistakes + _gaps(item, tiers, ruler)


def _at(item: Item, axis: int) -> str:
    return shown(item.size[axis]) if item.size else ""


def _row(cells: object, width: float | None) -> float | None:
    if width is None or isinstance(cells, bool) or not isinstance(cells, int):
        return None
    return min(cells, _MOST_CELLS) * width


def _too_deep(
    tier: Tier, depth: float | None, deep: float | None, ruler: BareUnit
) -> tuple[Loc, str] | None:
    """Return what of a tier is too deep for its rack, and the start of the message."""
    if beyond(deep, depth):
        return ("cell", 1), f"found {shown(tier.cell[1])}, right is a cell"
    rows_depth = _row(tier.rows, depth)
    if beyond(deep, rows_depth):
        what = f"found {found(tier.rows)} rows of {shown(tier.cell[1])}"
        return ("rows",), f"{what}, right is rows"
    if beyond(deep, rows_depth, ruler.metres(tier.offset)):
        return ("offset",), f"found {shown(tier.offset)}, right is a row of cells"
    return None


def _gaps(item: Item, tiers: list[tuple[int, Tier]], ruler: BareUnit) -> list[Found]:
    thickness = ruler.metres(item.shelf_thickness)
    mistakes: list[Found] = []
    for (_, lower), (number, upper) in pairwise(tiers):
        low, up = ruler.metres(lower.shelf), ruler.metres(upper.shelf)
        if low is None or up is None:
            continue
        if up - low <= SLACK:
            above = f"right is a shelf above the one before, {shown(lower.shelf)}"
            message = f"found {shown(upper.shelf)}, {above}"
            mistakes.append((("tiers", number, "shelf"), message))
        elif thickness is not None and thickness >= up - low - SLACK:
            message = "right is less than from a shelf to the next"
            told = f"found {shown(item.shelf_thickness)}, {message}"
            mistakes.append((("shelf_thickness",), told))
    return mistakes
