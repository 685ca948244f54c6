"""How much of a model is taken around an element that is asked about.

What is left out is in nobody's way: so all is taken that can lie in the space that work
at the element asks for, and in that of any other gear that is taken.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from model3d.codebook import BookError, load_book
from model3d.exchange.ifc.element import ModelError
from model3d.exchange.ifc.gear.rating import rating_of

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable
    from pathlib import Path

    from model3d.exchange.ifc.element import Element

_LOW, _HIGH = "working-space-depth", "high-voltage-depth"


def deepest_space(rules: str, folder: Path, element: Element) -> float:
    """Return the greatest depth that a rule book asks for at an element, metres.

    Of any voltage of the low-voltage table, for nobody may know the element's; of the
    one above where the model says a higher voltage.

    Raises:
        ModelError: There is no such rule book.
    """
    try:
        book = load_book(rules, folder)
        low = book.entry(_LOW)
        rows = low.rows
        if max(rating_of(element).volts, default=0.0) > rows[-1].up_to:
            rows = book.entry(_HIGH).rows
    except BookError as error:
        msg = f"--rules: {error}"
        raise ModelError(msg) from error
    return max(cell.at_most("either") for row in rows for cell in row.cells)


def within_reach(
    elements: Iterable[Element],
    centre: Element,
    reach: float,
    gear: Collection[tuple[int, int]],
    deep: float,
) -> set[tuple[int, int]]:
    """Return the keys of what is taken around an element, itself among them.

    Args:
        elements: All that could be.
        centre: The element.
        reach: Metres from it in plan: what is above is in the way at any height.
        gear: Keys of those that need a space of their own.
        deep: Metres around each of these up to which all is taken too.
    """
    left = {one.key: one for one in elements}
    taken = {centre.key}
    waiting = [(left.pop(centre.key, centre), reach)]
    while waiting:
        here, far = waiting.pop()
        for one in [one for one in left.values() if _is_near(here, one, far)]:
            taken.add(one.key)
            del left[one.key]
            if one.key in gear:
                waiting.append((one, deep))
    return taken


def _is_near(here: Element, one: Element, far: float) -> bool:
    low, high = here.points[:, :2].min(axis=0), here.points[:, :2].max(axis=0)
    return bool(
        (one.points[:, :2].min(axis=0) <= high + far).all()
        and (one.points[:, :2].max(axis=0) >= low - far).all()
    )
