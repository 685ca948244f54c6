"""Which place of a building is meant, and where its floor, walls and ceiling are."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from model3d.exchange.ifc.element import ModelError
from model3d.exchange.ifc.gear.classes import kind_of
from model3d.exchange.ifc.gear.likely_front import yaw_of
from model3d.exchange.ifc.gear.rooms_ahead import floor_outline
from model3d.exchange.ifc.levels import (
    HEAD,
    STEP,
    ceiling_over,
    finished_floor,
    holes_in,
)
from model3d.geometry.bodies.solid import Mesh
from model3d.geometry.frame import Frame
from model3d.geometry.plan.lines.ring import (
    holds,
    reaches_into,
)
from model3d.scene.kinds import KINDS
from model3d.scene.words.mistakes import found
from model3d.scene.words.nearest import hint, listed

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from model3d.exchange.ifc.element import Building, Element
    from model3d.exchange.ifc.gear.likely_front import FrontedBox
    from model3d.geometry.frame import Corner
    from model3d.geometry.plan.lines.enclosed import Turned

_RAISED: Final = 1.0
"""Metres above the bottom of a space up to which a raised floor may lie."""
_UNDER: Final = 0.3
"""Metres below the top of a space from where a slab or roof counts as its ceiling."""
_FEW: Final = 6
_BELOW: Final = 2.0
_AHEAD: Final = 1.0
"""Metres before a front over which its floor and its ceiling are looked for."""
_OVER: Final = 2.0
"""Metres over gear that are taken where nothing says how high the room is."""


@dataclass(frozen=True, slots=True)
class Location:
    """A place in a building, lengths in the model's frame, metres.

    Attributes:
        name: For people.
        outline: Its corners, counter-clockwise.
        floor: Height of the finished floor.
        top: Height of the structural ceiling.
        notes: What was taken for granted.
        holes: The boxes around what is open of its floor.
        bounded: It is a space of the model; else it only ends where the reach does.
        of: The space, or the element that it is about.
    """

    name: str
    outline: tuple[Corner, ...]
    floor: float
    top: float
    notes: tuple[str, ...]
    holes: tuple[Turned, ...] = ()
    bounded: bool = True
    of: Element | None = None


def called(space: Element) -> str:
    """Return what a space is called: its number and its name, else its GlobalId."""
    names = [part for part in (space.name.strip(), space.long_name.strip()) if part]
    return " ".join(names) or f"space {space.guid}"


def chosen_space(
    building: Building, name: str | None, storey: str | None
) -> Element | None:
    """Return the one space that is meant; None where the model has none.

    Args:
        building: The building.
        name: Long name, name or both, whole, without regard to case; or a GlobalId.
        storey: Only spaces of this storey.

    Raises:
        ModelError: None or several are meant; they are listed.
    """
    spaces = [one for one in building.spaces if one.meshed]
    if storey is not None:
        levels = [*dict.fromkeys(one.storey for one in spaces)]
        spaces = [one for one in spaces if one.storey.casefold() == storey.casefold()]
        if not spaces:
            right = listed(map(found, levels)) + hint(storey, levels)
            msg = f"--storey: found {found(storey)}, right is {right}"
            raise ModelError(msg)
    if name is not None and spaces:
        spaces = [one for one in spaces if name.casefold() in _names(one)]
        if not spaces:
            names = [called(one) for one in building.spaces if one.meshed]
            right = f"a space of the model: {'; '.join(sorted(names))}"
            msg = f"--space: found {found(name)}, right is {right}{hint(name, names)}"
            raise ModelError(msg)
    if len(spaces) > 1:
        raise ModelError(*_several(spaces, _such(building)))
    return spaces[0] if spaces else None


def without_space(building: Building) -> str:
    """Return the message about a building in which no space can be taken."""
    flat = [called(one) for one in building.spaces]
    what = f"no shape of the spaces ({'; '.join(flat[:_FEW])})" if flat else "no space"
    return f"--space: found {what} in the model, right is --around ID{_such(building)}"


def _such(building: Building) -> str:
    """Return what gear one may ask about, to stand behind a word for an id."""
    gear = [one.called for one in building.solids if _is_gear(one)]
    return f", such as {'; '.join([*dict.fromkeys(gear)][:_FEW])}" if gear else ""


def _is_gear(element: Element) -> bool:
    kind = KINDS.get(kind_of(element, ()) or "")
    return kind is not None and kind.needs_working_space


def _names(space: Element) -> set[str]:
    names = (space.name, space.long_name, called(space), space.guid)
    return {one.casefold() for one in names if one}


def _several(spaces: Sequence[Element], such: str) -> list[str]:
    right = f"right is one: --space NAME or --around ID{such}"
    lines = [f"--space: found {len(spaces)} spaces, {right}"]
    lines += [
        f"  {called(one)}{f', {one.storey}' if one.storey else ''}, {one.guid}"
        for one in sorted(spaces, key=lambda one: (one.storey, called(one)))
    ]
    return lines


def chosen_element(building: Building, name: str) -> Element:
    """Return the element with a GlobalId, a tag or a name.

    Raises:
        ModelError: None or several are meant, or it has no solid shape.
    """
    wanted = name.casefold()
    fits = [
        one
        for one in building.elements
        if name == one.guid or wanted in {one.tag.casefold(), one.called.casefold()}
    ]
    if not fits:
        names = [one.called for one in building.solids]
        near = hint(name, names) or _such(building)
        right = f"a GlobalId, a tag or a name of the model{near}"
        msg = f"--around: found {found(name)}, right is {right}"
        raise ModelError(msg)
    if len(fits) > 1:
        msg = f"--around: found {len(fits)} elements {found(name)}, right is one:"
        raise ModelError(msg, *(f"  {one.guid} {one.name}" for one in fits))
    if not fits[0].meshed:
        msg = f"--around: {name} has no solid shape in the model, right is one that has"
        raise ModelError(msg)
    return fits[0]


def space_ahead(building: Building, stand: FrontedBox) -> Element | None:
    """Return the space that a person in front of some gear stands in, or None."""
    for space in building.spaces:
        if not space.meshed:
            continue
        low, high = space.points[:, 2].min(), space.points[:, 2].max()
        if low - STEP <= stand.bottom <= high and holds(
            floor_outline(space), stand.ahead
        ):
            return space
    return None


def location_of_space(building: Building, space: Element) -> Location:
    """Return where a space of the model has its walls, floor and ceiling."""
    outline = floor_outline(space)
    if not outline:
        msg = f"{called(space)}: its shape has no floor, right is a space with one"
        raise ModelError(msg)
    low, high = float(space.points[:, 2].min()), float(space.points[:, 2].max())
    found = finished_floor(building, outline, low, above=_RAISED)
    holes = () if found is None else holes_in(building, outline, found)
    floor = low if found is None else found
    top = ceiling_over(building, outline, floor, high - _UNDER)
    notes: tuple[str, ...] = ()
    if floor - low > STEP:
        raised = f"a raised floor {1000 * (floor - low):.0f} mm above the bottom of the"
        notes += (f"{raised} room is taken as its floor: what is below is left out",)
    if top is None:
        over = "no slab or roof of the model is over the room"
        notes += (f"{over}: its height is the space's",)
        top = high
    return Location(called(space), outline, floor, top, notes, holes=holes, of=space)


def location_around(
    building: Building, element: Element, stand: FrontedBox, reach: float
) -> Location:
    """Return the surroundings of an element where the model has no space around it.

    Its floor and its ceiling are those of whoever stands before it: what lies within
    the reach may go on through walls, over floors that are not its own.
    """
    frame = Frame.facing(0.0, 0.0, yaw_of(element))
    local = frame.local(element.points)
    (u0, v0, _), (u1, v1, _) = local.min(axis=0) - reach, local.max(axis=0) + reach
    corners = [(u0, v0), (u0, v1), (u1, v1), (u1, v0)]
    outline = tuple(frame.to_plan(float(u), float(v)) for u, v in corners)
    if _area(outline) < 0:
        outline = outline[::-1]
    wide = stand.size[0]
    ends = ((0.0, 0.0), (wide, 0.0), (wide, _AHEAD), (0.0, _AHEAD))
    ahead = tuple(stand.frame.to_plan(u, v) for u, v in ends)
    notes = ["no space of the model is here: the room ends where the reach does, and "]
    notes[0] += "its doors are not known"
    floor = finished_floor(building, ahead, stand.bottom, _BELOW)
    holes = () if floor is None else holes_in(building, ahead, floor)
    if floor is None:
        floor = stand.bottom
        said = "no floor of the model is before it: its bottom is taken as the floor"
        notes.append(said)
    top = ceiling_over(building, ahead, floor, floor + HEAD)
    if top is None:
        top = max(floor, stand.bottom + stand.size[2]) + _OVER
        high = f"the room is taken as {top - floor:.3g} m high"
        notes.append(f"no slab or roof of the model is over it: {high}")
    told = tuple(notes)
    found = Location(element.called, outline, floor, top, told, holes)
    return replace(found, bounded=False, of=element)


def _area(outline: Sequence[Corner]) -> float:
    ends = zip(outline, (*outline[1:], outline[0]), strict=True)
    return sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in ends) / 2


def standing_in(location: Location, elements: Iterable[Element]) -> list[Element]:
    """Return the elements that stand, hang or run in a place."""
    # A coving of two millimetres over the floor is floor to whoever stands there.
    low = location.floor + 20e-4
    return [
        one
        for one in elements
        if reaches_into(
            location.outline, Mesh(one.points, one.faces), low, location.top
        )
    ]
