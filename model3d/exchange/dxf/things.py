"""What stands in a room of a plan: footprints with names, gear with its fronts."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from model3d.exchange.dxf.footprints import Footprint, names_of
from model3d.exchange.dxf.fronts import (
    UNKNOWN,
    element_of,
    inferred,
    stated,
    walls_around,
)
from model3d.exchange.dxf.layer_table import IGNORE
from model3d.exchange.ifc.element import ModelError
from model3d.exchange.ifc.gear.likely_front import ElementBody, FrontedBox
from model3d.exchange.ifc.gear.stated_front import slug_of, slug_text
from model3d.geometry.plan.lines.enclosed import stands_in
from model3d.geometry.plan.lines.ring import holds
from model3d.scene.kinds import KINDS
from model3d.scene.words.nearest import hint

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from model3d.exchange.dxf.drawn_plan import Plan
    from model3d.exchange.dxf.layer_table import LayerTable
    from model3d.exchange.dxf.room_outline import Place
    from model3d.exchange.ifc.element import Element

_STEM: Final = {"wall": "partition"}
"""What things are called by, where not by their kind: the room has its own walls."""
_LONGEST: Final = 100
"""Letters of a name."""


@dataclass(frozen=True, slots=True)
class Thing:
    """A footprint in the room with its name and its body.

    Attributes:
        footprint: What is drawn of it.
        id: Its own.
        name: What else is written in it, or "".
        element: Its body, as a building model would give it.
        notes: What is told of it.
    """

    footprint: Footprint
    id: str
    name: str
    element: Element
    notes: tuple[str, ...] = ()

    @property
    def kind(self) -> str:
        """What it is."""
        return self.footprint.row.becomes

    @property
    def is_gear(self) -> bool:
        """Whether somebody works in front of it."""
        return KINDS[self.kind].needs_working_space


def named(
    plan: Plan,
    table: LayerTable,
    place: Place,
    footprints: Sequence[Footprint],
) -> list[Thing]:
    """Return footprints as things, each with an id of its own.

    Args:
        plan: With what is written in it.
        table: What its layers become.
        place: The room.
        footprints: Of things in it and about it.
    """
    labels = [
        one
        for one in plan.labels
        if (row := table.row_of(one.layer)) is None or row.becomes != IGNORE
    ]
    names = names_of(footprints, labels)
    firsts = [one[0].splitlines()[0] if len(one) == 1 else "" for one in names]
    count = Counter(one.casefold() for one in firsts)
    taken = {"room"} | {one.casefold() for one in firsts}
    things = []
    for number, (one, texts, first) in enumerate(
        zip(footprints, names, firsts, strict=True)
    ):
        top = place.height if one.row.top is None else one.row.top
        notes = one.row.notes
        called = first if first and count[first.casefold()] == 1 else ""
        if not called:
            called = _new(_STEM.get(one.row.becomes, one.row.becomes), taken)
            if len(texts) > 1:
                notes = (*notes, "several texts in it: which is its id is not known")
            elif first:
                notes = (*notes, f"several things are called {first}: none has that id")
        element = element_of(number, called, one.area, one.row.bottom, top)
        slug = slug_of(element)
        if slug != called and slug.casefold() in taken:
            slug = _new(slug, taken)
        taken.add(slug.casefold())
        name = " / ".join(line for text in texts for line in text.splitlines())
        things.append(
            Thing(one, slug, "" if name == slug else name[:_LONGEST], element, notes)
        )
    return things


def _new(stem: str, taken: set[str]) -> str:
    number = 1
    while f"{stem}-{number}".casefold() in taken:
        number += 1
    taken.add(f"{stem}-{number}".casefold())
    return f"{stem}-{number}"


def free_id(text: str, taken: set[str]) -> str:
    """Return an id made of a text that nothing has yet, and keep it.

    Args:
        text: Any.
        taken: The ids that there are, without regard to case.
    """
    used = {one.casefold() for one in taken}
    slug = slug_text(text)
    name = slug if slug.casefold() not in used else _new(slug, used)
    taken.add(name.casefold())
    return name


def in_the_room(
    every: Sequence[Thing], place: Place, fronts: Mapping[str, float]
) -> tuple[list[Thing], dict[str, FrontedBox]]:
    """Return what stands in the room or serves it, and its gear with fronts.

    Args:
        every: All things.
        place: The room.
        fronts: Bearings of fronts that the user knows, by id.

    Raises:
        ModelError: A front is not known, or cannot be; all mistakes.
    """
    bodies = walls_around(place)
    bodies += [ElementBody(one.element, one.kind == "wall") for one in every]
    given = {name.casefold(): bearing for name, bearing in fronts.items()}
    known = [one.id for one in every if one.is_gear]
    mistakes = [
        f"--front: found {name}, right is the id of gear on the plan{hint(name, known)}"
        for name in fronts
        if name.casefold() not in {one.casefold() for one in known}
    ]
    things, stands = [], {}
    for one in every:
        inside = stands_in(place.outline, one.footprint.area)
        if not one.is_gear:
            things += [one] if inside else []
            continue
        bearing = given.get(one.id.casefold(), one.footprint.row.facing)
        try:
            stand = (
                inferred(one.element, bodies)
                if bearing is None
                else stated(one.element, one.footprint.area, bearing)
            )
        except ModelError as error:
            mistakes += [f"{one.id}: {said}" for said in error.mistakes]
            continue
        if not inside and not holds(place.outline, stand.ahead):
            continue
        things.append(one)
        stands[one.id] = stand
        mistakes += _faults(one, stand, place)
    if mistakes:
        raise ModelError(*mistakes)
    return things, stands


def _faults(thing: Thing, stand: FrontedBox, place: Place) -> Iterator[str]:
    layer = thing.footprint.layer
    if stand.margin <= UNKNOWN:
        said = f"nothing tells where its front is (margin {stand.margin:.2f})"
        right = f"--front {thing.id}=SIDE, or column Facing in the table"
        yield f"{thing.id} on layer {layer}: {said}, right is {right}"
    if any(hole.has(stand.middle) for hole in place.holes):
        said = "found within an outline that lies within the room's"
        yield f"{thing.id} on layer {layer}: {said}, right is one outline of the room"
