"""Fronts of elements: those that the user states, and for the others the likeliest."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from model3d.exchange.ifc.gear.classes import kind_of
from model3d.exchange.ifc.gear.ids import front_said
from model3d.exchange.ifc.gear.likely_front import (
    SURE,
    ElementBody,
    FrontedBox,
    stand_facing,
    stand_of,
)
from model3d.exchange.ifc.gear.rooms_ahead import ModelledRoom, rooms_of

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from model3d.exchange.ifc.element import Building, Element
    from model3d.exchange.ifc.gear.classes import ClassRow

_NEAR: Final = 1.3
"""Metres around a piece of gear that its front is inferred from."""


def stand_in(
    building: Building,
    element: Element,
    rows: Sequence[ClassRow] = (),
    fronts: Mapping[str, float] | None = None,
) -> FrontedBox:
    """Return where an element of a building stands and what is its front.

    Args:
        building: The models.
        element: The element.
        rows: The user's own rows of the table of classes.
        fronts: Bearings of fronts that the user knows.
    """
    kinds = {one.key: kind_of(one, rows) for one in building.solids}
    bodies = [ElementBody(one, kinds[one.key] == "wall") for one in building.solids]
    return stand_among(element, bodies, fronts or {}, rooms_of(building.spaces))


def unknown_fronts(building: Building, fronts: Mapping[str, float]) -> list[str]:
    """Return the names of fronts that are of no element."""
    names = set().union(*(_names(one) for one in building.solids))
    return [name for name in fronts if name.casefold() not in names]


def _names(element: Element) -> set[str]:
    called = (element.guid, element.tag, element.called, slug_of(element))
    return {one.casefold() for one in called if one}


def stand_among(
    element: Element,
    bodies: Sequence[ElementBody],
    fronts: Mapping[str, float],
    rooms: Sequence[ModelledRoom] = (),
    asked: ModelledRoom | None = None,
) -> FrontedBox:
    """Return where an element stands among all others.

    Args:
        element: The element.
        bodies: All others, which may have it too.
        fronts: Bearings of fronts that the user knows.
        rooms: Where a person may stand.
        asked: The one of these that is asked for.
    """
    names = _names(element)
    for name, bearing in fronts.items():
        if name.casefold() in names:
            return stand_facing(element, bearing, margin=SURE)
    if (said := front_said(element)) is not None:
        return stand_facing(element, said, margin=SURE)
    low = element.points.min(axis=0) - _NEAR
    high = element.points.max(axis=0) + _NEAR
    near = [
        body
        for body in bodies
        if body.element.key != element.key
        and (body.bounds[0] < high).all()
        and (body.bounds[1] > low).all()
    ]
    return stand_of(
        element,
        near,
        lambda stand: any(room.serves(stand) for room in rooms),
        None if asked is None else asked.serves,
    )


def slug_of(element: Element) -> str:
    """Return an element's name as an id of a scene, not yet its own."""
    return slug_text(element.called)


def slug_text(text: str) -> str:
    """Return a text as an id of a scene."""
    slug = re.sub(r"[^\w.]+", "-", text).strip("-.")[:40] or "item"
    if re.fullmatch(r"(?i)wall-\w+|floor|ceiling|room", slug):
        return f"model-{slug}"
    return slug
