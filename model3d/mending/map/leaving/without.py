"""A room without the item whose places are told: what its ways out are like before."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING, Final, cast

import numpy as np

from model3d.egress.ways import ways_of
from model3d.following.watch import Movement, Note, Watched, watched
from model3d.geometry.plan import flat
from model3d.judging.situation import Situation
from model3d.judging.systems import answers
from model3d.mending.map.leaving.stand_in import stand_ins_of
from model3d.mending.map.own_doors import sector
from model3d.mending.map.probe import Key, key_of
from model3d.rules import (
    Rule,
    door_hardware,
    door_over_working_space,
    entrance,
    question,
    second_entrance,
    tells,
)
from model3d.standing.arrangement import Arrangement
from model3d.standing.leaves import taken_leaves

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from model3d.mending.map.leaving.stand_in import StandIns
    from model3d.mending.map.posed import Posed
    from model3d.standing.placed import Placed

OF_ITEMS: Final = cast("tuple[Rule, ...]", (entrance, second_entrance))
"""Rules about the ways out of each item."""
OF_ROOM: Final = cast("tuple[Rule, ...]", (door_hardware, door_over_working_space))
"""Rules about the doors of the room."""
_DEEPER: Final = 1.5
"""Metres. By no more differ the depths of a table by what is opposite."""
_TOUCHED: Final = 1e-3
"""Metres. What reaches no further into what a leaf sweeps only touches it."""


@dataclass(frozen=True)
class Without:
    """The room, in which something stands in for the item, nowhere.

    Attributes:
        posed: The item.
        stand_ins: What stands in for it.
    """

    posed: Posed
    stand_ins: StandIns

    @cached_property
    def room(self) -> Watched:
        """The room."""
        base = self.posed.base
        old = base.arrangement
        items = {**old.items, **self.stand_ins.nowhere(base.index.low)}
        plain = Arrangement(old.scene, old.shell, items, old.no_place)
        there = Situation(plain, base.book, base.measures, base.accepted)
        return replace(watched(there), verdicts_only=True)

    def put(self, bodies: Mapping[str, Placed]) -> Watched:
        """Return the room with what stands in for the item somewhere."""
        old = self.room.plain
        items = {**old.items, **bodies}
        plain = Arrangement(old.scene, old.shell, items, old.no_place)
        return moved(self.room, plain, bodies)

    @cached_property
    def subjects(self) -> list[tuple[Rule, Placed]]:
        """The rules and the items whose ways out there are to be kept."""
        items = self.room.arrangement.items
        return [
            (rule, items[name])
            for (rule, name), said in self.said.items()
            if not said or any(verdict != "not-met" for verdict in said.values())
        ]

    @cached_property
    def quick(self) -> frozenset[tuple[Rule, str]]:
        """By rule and item, of what it is told quickly that it is met."""
        found = set()
        for rule in OF_ITEMS:
            for item in self.room.live:
                self.room.watch.note = Note()
                if tells(rule, "is_met", item, self.room):
                    found.add((rule, item.id))
        return frozenset(found)

    @cached_property
    def said(self) -> dict[tuple[Rule, str], dict[Key, str]]:
        """By rule and item, the verdicts; none of what is quickly told to be met."""
        found: dict[tuple[Rule, str], dict[Key, str]] = {}
        for rule in OF_ITEMS:
            for item in self.room.live:
                if (rule, item.id) not in self.quick:
                    if said := _verdicts(rule, item, self.room):
                        found[rule, item.id] = said
                elif self._is_asked(rule, item):
                    found[rule, item.id] = {}
        return found

    def _is_asked(self, rule: Rule, item: Placed) -> bool:
        """Tell whether a rule that is met for certain asks anything of an item."""
        self.room.watch.note = Note()
        large = rule.__name__ == second_entrance.__name__
        return not large or second_entrance.is_asked(item, self.room)

    @cached_property
    def before(self) -> dict[str, frozenset[Key]]:
        """By verdict, what is told so of others and of the doors."""
        verdicts = {key: v for said in self.said.values() for key, v in said.items()}
        for rule in OF_ROOM:
            verdicts |= _verdicts(rule, None, self.room)
        return {
            word: frozenset(key for key, v in verdicts.items() if v == word)
            for word in ("not-met", "open")
        }

    @cached_property
    def may_near_doors(self) -> bool:
        """Whether spaces that something makes deeper may come near a faulty door."""
        self.room.watch.note = Note()
        return door_hardware.may_ask_more(self.room, _DEEPER)

    @cached_property
    def swept(self) -> tuple[tuple[float, float, flat.Geometry], ...]:
        """What leaves sweep: from what height to what height, and where."""
        return tuple(
            (leaf.bottom, leaf.top, flat.Polygon(sector(leaf)).buffer(-_TOUCHED))
            for one in self.room.items
            for leaf in taken_leaves(one, self.room.scene)[0]
        )

    @cached_property
    def beside_leaves(self) -> flat.Geometry:
        """Where a thing may stand too near to a leaf that stands open.

        Who comes out past both is in a place that is no passage if the thing reaches
        back behind the leaf's edge: to take more floor may be to bar less there.
        """
        entry = self.room.book.entry(entrance.TABLES[1])
        if not self.stand_ins.doors:
            return flat.Polygon()
        self.room.watch.note = Note()
        variants = ways_of(self.room).variants
        plans = [leaf.plan for ways in variants for leaf in ways.leaves]
        width = self.room.least(entry.figure("width"))
        return flat.union_all(plans).buffer(width)

    @cached_property
    def swept_by_doors(self) -> tuple[flat.Geometry, ...]:
        """What the doors of the room sweep that open into it."""
        room = self.room.scene.room
        self.room.watch.note = Note()
        return tuple(
            door_over_working_space.swept(door, self.room).buffer(-_TOUCHED)
            for door in (room.doors if room else ())
            if door.opens != "out"
        )

    @cached_property
    def worked_in(self) -> flat.Geometry:
        """The floor where people work."""
        self.room.watch.note = Note()
        ways = ways_of(self.room)
        plans = [ways.stand(one).ahead for one in self.room.live]
        return flat.union_all(plans).buffer(-_TOUCHED)


def _verdicts(rule: Rule, item: Placed | None, situation: Watched) -> dict[Key, str]:
    situation.watch.note = Note()
    found = answers(question(rule, item), situation)
    return {key_of(one): one.verdict for one in found}


def moved(before: Watched, plain: Arrangement, names: Iterable[str]) -> Watched:
    """Return a room in which some items stand elsewhere, that rests on it as it was."""
    those = sorted(names)
    both = [
        arrangement.items[name].solid.bounds
        for name in those
        for arrangement in (plain, before.plain)
    ]
    change = Movement(before, frozenset(those), np.array(both))
    said = before.book, before.measures, before.accepted
    return watched(Situation(plain, *said), before, change)


def room_without(posed: Posed) -> Without:
    """Return the room without an item; the same wherever and however that is put."""
    return Without(posed, stand_ins_of(posed))
