"""Equipment that a model gives as a whole of parts: the parts are one with it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from collections.abc import Iterable


def wholes_of(model: Any) -> tuple[dict[int, list[Any]], list[Any]]:
    """Return the parts with a shape of each piece of equipment that has any.

    A board may be an assembly without a shape, of sections that are no equipment, or a
    cabinet with breakers in it that are. Ports have no shape.

    Returns:
        The parts by the number of the whole; and equipment that has no shape at all
        and is no part of other equipment.
    """
    parts: dict[int, list[Any]] = {}
    flat: list[Any] = []
    inner: set[int] = set()
    every = [
        one
        for one in model.by_type("IfcDistributionElement")
        if not one.is_a("IfcDistributionPort")
    ]
    below = {one.id(): [*_below(one, {one.id()})] for one in every}
    for one in every:
        inner.update(part.id() for part in below[one.id()])
    for one in every:
        if one.id() in inner:
            continue
        if shaped := [part for part in below[one.id()] if part.Representation]:
            parts[one.id()] = shaped
        elif not one.Representation:
            flat.append(one)
    return parts, flat


_NO_THINGS: Final = ("IfcFeatureElement", "IfcVirtualElement", "IfcDistributionElement")


def undrawn_in(model: Any) -> list[Any]:
    """Return the elements of which nothing is drawn, and that are no whole of others.

    Equipment is left to ``wholes_of``.
    """
    return [
        one
        for one in model.by_type("IfcElement")
        if not one.Representation
        and not any(one.is_a(name) for name in _NO_THINGS)
        and not is_part_or_whole(one)
    ]


def is_part_or_whole(element: Any) -> bool:
    """Tell whether an element has parts, or is one: these are drawn, or the whole."""
    from ifcopenshell.util import element as util

    whole = util.get_aggregate(element) or util.get_nest(element)
    above = whole is not None and whole.is_a("IfcElement")
    return above or bool(util.get_parts(element) or util.get_components(element))


def _below(whole: Any, seen: set[int]) -> Iterable[Any]:
    from ifcopenshell.util import element as util

    # A file may hold a thing in itself.
    for part in (*util.get_parts(whole), *util.get_components(whole)):
        if part.id() not in seen and part.is_a("IfcElement"):
            seen.add(part.id())
            yield part
            yield from _below(part, seen)
