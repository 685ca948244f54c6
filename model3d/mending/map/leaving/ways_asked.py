"""What becomes of the ways out of a room with an item elsewhere, asked of the rules."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.egress.ways import ways_of
from model3d.following.watch import Note, Watched, watched
from model3d.geometry.plan.outline import hull_of
from model3d.judging.systems import answers
from model3d.mending.map.bar import rectangle
from model3d.mending.map.leaving.stand_in import StandIns, stand_ins_of
from model3d.mending.map.leaving.told import Purse, Told, told_of
from model3d.mending.map.leaving.without import (
    OF_ITEMS,
    OF_ROOM,
    Without,
    moved,
)
from model3d.mending.map.probe import key_of
from model3d.rules import Rule, entrance, question, second_entrance, tells
from model3d.standing.leaves import taken_leaves

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from model3d.geometry.frame import Corner
    from model3d.judging.results import Judgement
    from model3d.mending.map.posed import Posed
    from model3d.mending.map.stance import Stance
    from model3d.standing.placed import Placed

    Points = NDArray[np.float64]

_FULL: Final = 4
"""So many quick questions take as long as one that is answered in full."""
_PAST_LEAVES: Final = 15
"""The same where a personnel door's own leaf may be in the way to it."""
_LARGE: Final = 50
"""As much more takes what is asked of large gear."""
_SHORT: Final = 0.25
"""Metres. As far may something be moved at once near leaves that others open."""
_BACK: Final = 0.15
"""Metres. How far beyond the tips of its leaves somebody stands who steps back."""
_SAME: Final = 7
"""Decimals of a metre: nearer places are one."""
_MET: Final = Told()
_RANK: Final = {"met": 0, "open": 1, "not-met": 2}


@dataclass(frozen=True)
class WaysAsked:
    """The ways out of a room in which one item is put here and there.

    Attributes:
        posed: The item.
        stance: How a displacement is written as a place.
        without: The room without it.
        purse: How much may be asked.
    """

    posed: Posed
    stance: Stance
    without: Without
    purse: Purse
    _found: dict[Corner, Told] = field(default_factory=dict)
    _owns: dict[Corner, Told] = field(default_factory=dict)
    _last: dict[Corner, Watched] = field(default_factory=dict)

    @cached_property
    def stand_ins(self) -> StandIns:
        """What stands in for the item."""
        return stand_ins_of(self.posed)

    @cached_property
    def is_asked_by_places(self) -> bool:
        """Whether some of it can be asked only at places, and not of all between.

        So it is of an item that has leaves, or is worked at, of doors that open in, and
        of what makes spaces opposite it deeper, where doors are a little too far off to
        be near them.
        """
        return self._has_front or self._opens_in or self._may_near_doors

    @cached_property
    def _may_near_doors(self) -> bool:
        grounded = any(one.grounded is not False for one in self.posed.movers)
        return grounded and self.without.may_near_doors

    @cached_property
    def _has_front(self) -> bool:
        leaves = any(one.is_leaf for one in self.stand_ins.bodies)
        return leaves or self._is_worked_at

    @property
    def _is_worked_at(self) -> bool:
        return any(one.live for one in self.posed.movers)

    @property
    def _opens_in(self) -> bool:
        room = self.posed.situation.scene.room
        return any(door.opens != "out" for door in room.doors) if room else False

    def keeps(self, moves: Points) -> bool:
        """Tell whether all ways out are as good as before at some displacements.

        Those of others for certain, at all displacements between too; those of the item
        itself at these and in the middle of them.

        Args:
            moves: Shape (n, 2).
        """
        if self._may_stop_leaves(moves) or self._is_over_doors(moves):
            return False
        (x, y), ends = moves.mean(axis=0).tolist(), moves.tolist()
        spots = [(round(a, _SAME), round(b, _SAME)) for a, b in (*ends, (x, y))]
        if not all(self._owns.get(by, _MET).met for by in spots):
            return False
        near_leaves = self._is_beside_leaves(moves) or self._hangs_before_others(moves)
        if near_leaves and float(np.ptp(moves, axis=0).max()) > _SHORT:
            return False
        there = self.without.put(self.stand_ins.over(moves))
        subjects = self.without.subjects
        for place, (rule, one) in enumerate(subjects):
            if not self._keeps(rule, one, there):
                # What fails here fails nearby: it is asked first the next time.
                subjects.insert(0, subjects.pop(place))
                return False
        if self._is_worked_at and not self._steps_out(there, (x, y)):
            return False
        if near_leaves:
            return all(self.told(by).met for by in spots)
        return not self.is_asked_by_places or all(self._own(by).met for by in spots)

    def told(self, by: Corner) -> Told:
        """Return what comes of the ways out at one displacement."""
        by = round(by[0], _SAME), round(by[1], _SAME)
        if by not in self._found:
            others = told_of(self._judged_of_others(by), self.without.before)
            self._found[by] = self._own(by).with_others(others)
        return self._found[by]

    def _own(self, by: Corner) -> Told:
        """Return what is told of the item, what it carries, and the doors."""
        by = round(by[0], _SAME), round(by[1], _SAME)
        if by not in self._owns:
            self._owns[by] = told_of(self._judged_of_own(by), self.without.before)
        return self._owns[by]

    def _judged_of_own(self, by: Corner) -> Iterator[Judgement]:
        real = self._real_at(by)
        for rule in OF_ITEMS:
            for one in real.live:
                if one.id in self.posed.moved:
                    yield from self._asked(rule, one.id, real)
        for rule in OF_ROOM:
            real.watch.note = Note()
            yield from answers(question(rule, None), real)

    def _real_at(self, by: Corner) -> Watched:
        """Return the room with the item at a displacement; the last one is kept."""
        if by not in self._last:
            arrangement = self.posed.at(self.stance.place(by)).arrangement
            self._last.clear()
            self._last[by] = moved(self._real, arrangement, self.posed.moved)
        return self._last[by]

    def _judged_of_others(self, by: Corner) -> Iterator[Judgement]:
        """Yield what is judged of others, but of what is as good as before."""
        moves, quick = np.array([by]), True
        if self._may_stop_leaves(moves) or self._hangs_before_others(moves):
            quick = False
        # What stands in for a thing without a front is as good as it; of one with a
        # front its own ways out are asked there too, on the same floor.
        there = (
            self._real_at(by)
            if self._has_front or not quick
            else self.without.put(self.stand_ins.over(moves))
        )
        for rule, item in tuple(self.without.subjects):
            if not quick:
                yield from self._asked(rule, item.id, there)
            elif not self._keeps(rule, item, there):
                told = (rule, item.id) in self.without.quick
                yield from self._asked(rule, item.id, there, told=told)

    def _keeps(self, rule: Rule, item: Placed, there: Watched) -> bool:
        """Tell whether what a rule says of another item is no worse than before."""
        before = self.without.said[rule, item.id]
        now = there.arrangement.items[item.id]
        if (rule, item.id) in self.without.quick:
            there.watch.note = Note()
            self.purse.left -= 1
            return tells(rule, "is_met", now, there)
        return all(
            _RANK[one.verdict] <= _RANK[before.get(key_of(one), "met")]
            for one in self._answers(rule, now, there)
        )

    def _asked(
        self, rule: Rule, name: str, there: Watched, *, told: bool = False
    ) -> tuple[Judgement, ...]:
        """Return what is judged of an item; nothing where it is met for certain.

        Args:
            rule: What asks.
            name: The item's id.
            there: The room.
            told: It was told already that it is not met for certain.
        """
        item = there.arrangement.items[name]
        there.watch.note = Note()
        self.purse.left -= 1
        if not told and tells(rule, "is_met", item, there):
            return ()
        return self._answers(rule, item, there)

    def _answers(
        self, rule: Rule, item: Placed, there: Watched
    ) -> tuple[Judgement, ...]:
        there.watch.note = Note()
        height = there.least(there.book.entry(entrance.TABLES[0]).figure("height"))
        swinging = ways_of(there).floor(height).swinging
        self.purse.left -= _PAST_LEAVES if swinging else _FULL
        if rule.__name__ == second_entrance.__name__:
            self.purse.left -= _LARGE
        there.watch.note = Note()
        return answers(question(rule, item), there)

    def _may_stop_leaves(self, moves: Points) -> bool:
        """Tell whether a thing that moves comes into what a leaf of others sweeps."""
        return any(
            not one.is_leaf
            and one.bottom < high
            and one.top > low
            and plan.intersects(area)
            for one, plan in self.stand_ins.plans(moves)
            for low, high, area in self.without.swept
        )

    def _hangs_before_others(self, moves: Points) -> bool:
        """Tell whether a leaf that moves comes where people work, or leaves open."""
        leaves = [plan for one, plan in self.stand_ins.plans(moves) if one.is_leaf]
        return any(
            plan.intersects(self.without.worked_in)
            or any(plan.intersects(area) for _, _, area in self.without.swept)
            for plan in leaves
        )

    def _is_beside_leaves(self, moves: Points) -> bool:
        """Tell whether a way past an open leaf may be too narrow beside what moves."""
        return any(
            not one.is_leaf and plan.intersects(self.without.beside_leaves)
            for one, plan in self.stand_ins.plans(moves)
        )

    def _is_over_doors(self, moves: Points) -> bool:
        """Tell whether a space before the item may be what a room door sweeps."""
        return any(
            hull_of((plan[:, None] + moves[None]).reshape(-1, 2)).intersects(area)
            for plan in self._spaces
            for area in self.without.swept_by_doors
        )

    @cached_property
    def _spaces(self) -> tuple[Points, ...]:
        """Where the working spaces may be, slid to either side; corners."""
        self._real.watch.note = Note()
        ways, found = ways_of(self._real), []
        for one in self._real.live:
            if one.id in self.posed.moved and one.front is not None:
                space = ways.stand(one).space
                aside = max(space.width - one.front.width, 0.0)
                right = one.front.width + aside
                found.append(
                    rectangle(one.front.frame, -aside, right, 0.0, space.depth)
                )
        return tuple(found)

    def _steps_out(self, there: Watched, by: Corner) -> bool:
        """Tell whether somebody who steps back from the item has a way out.

        Past all that it takes anywhere near. What is beside its leaves is asked of the
        rule at places.
        """
        entry = there.book.entry(entrance.TABLES[0])
        if not entry.given:
            return True
        width, height = (there.least(entry.figure(n)) for n in ("width", "height"))
        there.watch.note = Note()
        ways = ways_of(there)
        floors = [ways.floor(height)]
        if self.stand_ins.doors:
            floors += [one.opened(height, "all").floor for one in ways.variants]
        spots = [(x + by[0], y + by[1]) for x, y in self._spots]
        return all(bool((one.necks.ways_out(spots) >= width).all()) for one in floors)

    @cached_property
    def _spots(self) -> tuple[Corner, ...]:
        """Where somebody stands who has stepped back, where nothing is displaced."""
        self._real.watch.note = Note()
        ways, found = ways_of(self._real), []
        for one in self._real.live:
            if one.id in self.posed.moved and one.front is not None:
                leaves, _ = taken_leaves(one, self._real.scene)
                open_ones = leaves if self.stand_ins.doors else ()
                tips = max((leaf.radius for leaf in open_ones), default=0.0)
                ahead = max(tips + _BACK, ways.stand(one).space.depth - _BACK)
                found.append(one.front.frame.to_plan(one.front.width / 2, ahead))
        return tuple(found)

    @cached_property
    def _real(self) -> Watched:
        """The room with the item where nothing is displaced."""
        return replace(watched(self.posed.asked), verdicts_only=True)
