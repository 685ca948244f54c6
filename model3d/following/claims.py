"""A checked scene in which items move: judged again only where that can change it.

Every rule at every item is a claim, made under watch. A move can change a claim only if
it looked at the place of something that moved, or asked for what is in a box of space
that something has moved into. The ways through the whole room take too long to be found
while something moves: claims that ask for them wait for a whole check.
"""

from __future__ import annotations

import time
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from model3d.check import report_of, situate
from model3d.egress.overhead import is_overhead
from model3d.following.glances import Glances
from model3d.following.supposition import Supposition
from model3d.following.touch import WAITS, Claim, Touch, bounds_of
from model3d.following.watch import Movement, Note, watched
from model3d.judging.situation import Situation
from model3d.judging.systems import answers
from model3d.rules import all_rules, question
from model3d.standing.arrangement import rearrange

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from model3d.following.glances import Key
    from model3d.following.watch import Watched
    from model3d.judging.report import Report
    from model3d.judging.results import Judgement
    from model3d.scene.scene import Scene


@dataclass(frozen=True, slots=True)
class Followed:
    """What is known of a scene in which something has moved.

    Attributes:
        report: The judgements; those that wait are still of the scene before.
        waiting: Which of them wait, by their place in the report.
    """

    report: Report
    waiting: frozenset[int]


class Following:
    """A scene that is followed while its items move.

    Raises:
        BookError: The scene's rule book cannot be used.
        MeshError: A mesh file of the scene cannot be used.
    """

    def __init__(self, scene: Scene) -> None:
        """Judge the whole scene, as ``check`` does."""
        self._scene = scene
        self._situation = watched(situate(scene))
        self._claims: dict[Key, Claim] = {}
        self._places: dict[Key, int] = {}
        self._glances = Glances()
        self._of_ways: set[Key] = set()
        self._telling: list[Key] | None = None
        self._due: dict[Key, int] = {}
        self._turn = 0
        for place, key in enumerate(self._keys()):
            self._places[key] = place
            self._make(key)

    @property
    def scene(self) -> Scene:
        """The scene as it is now, with what has no place yet."""
        return self._scene

    @property
    def followed(self) -> Followed:
        """What is known now."""
        found: list[Judgement] = []
        late: set[int] = set()
        if self._telling is None:
            told = (key for key, claim in self._claims.items() if claim.judgements)
            self._telling = [*told]
        for key in self._telling:
            judgements = self._claims[key].judgements
            found += judgements
            if key in self._due:
                late.update(id(one) for one in judgements)
        situation = self._situation
        report = report_of(found, situation.plain, situation.book.id)
        waiting = (n for n, one in enumerate(report.judgements) if id(one) in late)
        return Followed(report, frozenset(waiting))

    @property
    def hurried(self) -> bool:
        """Whether there is something left that ``judge`` can do."""
        return any(rank != WAITS for rank in self._due.values())

    def move(self, scene: Scene) -> None:
        """Take note of a scene in which items stand elsewhere; nothing is judged yet.

        Args:
            scene: The scene with the same items; one that was not moved is the very
                same.

        Raises:
            ValueError: An item is new, or is gone.
        """
        self._situation, touch = self._changed(scene)
        self._scene = scene
        for key in self._touched(touch):
            rank = touch.rank(self._claims[key])
            self._due[key] = min(rank, self._due.get(key, rank))

    def suppose(self, scene: Scene) -> Supposition:
        """Return what would be judged of a scene; what is followed does not change.

        Args:
            scene: The scene with the same items; one that was not moved or changed is
                the very same. What an item is does not change, only where it is, how
                large, and how its doors hang.

        Raises:
            ValueError: An item is new, or is gone.
        """
        situation, touch = self._changed(scene, supposed=True)
        before, due = dict(self._claims), dict(self._due)

        def is_due(key: Key) -> bool:
            return key in due or touch.is_near(key, before[key])

        def all_due() -> list[Key]:
            near = (key for key in before if touch.is_near(key, before[key]))
            ranks = {**due, **{key: touch.rank(before[key]) for key in near}}
            return sorted(ranks, key=lambda key: ranks[key])

        return Supposition(situation, before, is_due, all_due)

    def _changed(
        self, scene: Scene, *, supposed: bool = False
    ) -> tuple[Watched, Touch]:
        """Return a changed scene, and which claims the change may touch.

        Args:
            scene: The scene.
            supposed: It is only supposed, so that it may rest on what is followed.
        """
        old = self._situation
        plain = rearrange(old.plain, scene)
        moved = {
            name
            for name, placed in plain.items.items()
            if placed is not old.plain.items[name]
        }
        here = np.array([plain.items[name].solid.bounds for name in moved])
        there = np.array([old.plain.items[name].solid.bounds for name in moved])
        both = np.concatenate([here, there])
        change = Movement(old, frozenset(moved), both) if supposed else None
        asked = Situation(plain, old.book, old.measures, old.accepted)
        new = watched(asked, old, change)
        # How far a space is looked at that has no end depends on the whole place.
        whole = bool(moved) and new.size != old.size
        overhead = all(
            is_overhead(one, old)
            for name in moved
            for one in (old.plain.items[name], plain.items[name])
        )
        bounds = bounds_of(both)
        return new, Touch(frozenset(moved), here, both, bounds, whole, overhead)

    def _touched(self, touch: Touch) -> Iterable[Key]:
        """Return the claims that a change may touch; as ``is_near``, of all at once."""
        if not touch.moved:
            return ()
        if touch.whole:
            return self._claims
        found = self._glances.touched(touch.moved, touch.here) - self._of_ways
        found |= {key for key in self._of_ways if touch.is_near(key, self._claims[key])}
        found |= {key for name in touch.moved for key in self._about(name)}
        return sorted(found, key=self._places.__getitem__)

    def _about(self, name: str) -> Iterator[Key]:
        """Yield the claims about an item, whatever they looked at."""
        for number in range(len(all_rules())):
            if (number, name) in self._claims:
                yield number, name

    def judge(self, seconds: float) -> Followed:
        """Judge again what can be judged in some time, what matters most first.

        At least one claim is made, however short the time; none about ways out.
        """
        end = time.perf_counter() + seconds
        self._turn += 1
        due = sorted(
            (rank, self._claims[key].turn, key)
            for key, rank in self._due.items()
            if rank != WAITS
        )
        for _, _, key in due:
            self._make(key)
            if time.perf_counter() >= end:
                break
        return self.followed

    def _keys(self) -> Iterator[Key]:
        for number, rule in enumerate(all_rules()):
            if hasattr(rule, "claims"):
                yield from ((number, item.id) for item in self._situation.items)
            if hasattr(rule, "room_claims"):
                yield number, ""

    def _make(self, key: Key) -> None:
        number, name = key
        situation = self._situation
        situation.watch.note = note = Note()
        item = situation.arrangement.items[name] if name else None
        found = answers(question(all_rules()[number], item), situation)
        (self._of_ways.add if note.ways else self._of_ways.discard)(key)
        before = self._claims.get(key)
        if before is None or bool(before.judgements) != bool(found):
            self._telling = None  # which claims say something, in their order
        items, boxes = self._glances.put(key, note)
        self._claims[key] = Claim(
            found, items, boxes, bounds_of(boxes), note.ways, self._turn
        )
        self._due.pop(key, None)
