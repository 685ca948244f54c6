"""A scene as it would be if something were changed: judged as far as is asked."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, Protocol

from model3d.check import report_of
from model3d.following.watch import Note
from model3d.judging.requirement import requirement_of
from model3d.judging.systems import answers
from model3d.rules import all_rules, question, tells

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping, Sequence

    from model3d.following.glances import Key
    from model3d.following.watch import Watched
    from model3d.judging.report import Report
    from model3d.judging.results import Judgement
    from model3d.judging.situation import Situation
    from model3d.standing.arrangement import Arrangement


class Made(Protocol):
    """A claim as it was made before."""

    @property
    def judgements(self) -> tuple[Judgement, ...]:
        """What came of it."""


class Supposition:
    """What would be judged of a changed scene; what is followed does not change.

    Every claim that the change may touch is made anew, once and only when it is asked
    for; every other one stands as it was made before.
    """

    def __init__(
        self,
        situation: Watched,
        before: Mapping[Key, Made],
        is_touched: Callable[[Key], bool],
        touched: Callable[[], Sequence[Key]],
    ) -> None:
        """Take the changed scene.

        Args:
            situation: The scene after the change.
            before: Every claim as it was made before.
            is_touched: Tells whether the change may touch a claim.
            touched: Finds all claims that it may touch, the dearest last.
        """
        self._situation = situation
        self._before = before
        self._is_touched = is_touched
        self._touched = touched
        self._made: dict[Key, tuple[Judgement, ...]] = {}
        self._asked_so_far = 0

    @property
    def asked(self) -> int:
        """How many questions were asked of rules so far."""
        return self._asked_so_far

    @property
    def arrangement(self) -> Arrangement:
        """The changed scene with every item in its place."""
        return self._situation.plain

    @cached_property
    def situation(self) -> Situation:
        """The changed scene, asked by the figures that a verdict rests on."""
        found = self._situation
        return found.by("either") if found.accepted == "either" else found

    def judge(self, requirement: str, subject: str) -> tuple[Judgement, ...]:
        """Return what comes of one rule at one item, or of the room as a whole."""
        return self._claim(self._key(requirement, subject))

    def seems(self, requirement: str, subject: str) -> tuple[Judgement, ...]:
        """Return the same by the figures that a verdict rests on.

        The verdicts are those of ``judge``, and it takes half the time; what is said
        beside them is told by other figures.
        """
        key = self._key(requirement, subject)
        if key in self._made or not self._is_touched(key):
            return self._claim(key)
        return self._asked(key, self.situation)

    def is_breach(self, requirement: str, subject: str) -> bool:
        """Tell whether a rule tells quickly that it is not met at an item.

        By the figures that a verdict rests on. False says nothing: ask ``seems``.
        """
        key = self._key(requirement, subject)
        _, name = key
        if not name or key in self._made or not self._is_touched(key):
            return False
        return self._tells("is_breach", key, self.situation)

    def remade(self) -> Iterator[tuple[Judgement, ...]]:
        """Yield what comes of every claim that may be touched, the dearest last.

        What is no worse than before for certain, and of which a rule can tell so
        quickly, is left out: what is met, or was not met before and is no breach.
        """
        for key in self._touched():
            if key in self._made or not self._is_no_worse(key):
                yield self._claim(key)

    def _is_no_worse(self, key: Key) -> bool:
        if self._tells("is_met", key, self._situation):
            return True
        before = self._judged_before(key)
        was_met = not before or any(one.verdict == "met" for one in before)
        return not was_met and self._tells("is_no_breach", key, self._situation)

    def _tells(self, quick: str, key: Key, situation: Situation) -> bool:
        """Return what a rule tells quickly of an item; False where it has no such."""
        number, name = key
        rule = all_rules()[number]
        if not name or not hasattr(rule, quick):
            return False
        self._situation.watch.note = Note()
        self._asked_so_far += 1
        return tells(rule, quick, situation.arrangement.items[name], situation)

    @cached_property
    def report(self) -> Report:
        """What a check of the changed scene says."""
        found = [judged for key in self._before for judged in self._claim(key)]
        return report_of(found, self.arrangement, self._situation.book.id)

    def _key(self, requirement: str, subject: str) -> Key:
        names = [requirement_of(rule.__name__) for rule in all_rules()]
        number = names.index(requirement)
        key = number, subject
        return key if key in self._before else (number, "")

    def _claim(self, key: Key) -> tuple[Judgement, ...]:
        if key not in self._made:
            if key not in self._before:
                return ()
            if not self._is_touched(key):
                return self._judged_before(key)
            self._made[key] = self._asked(key, self._situation)
        return self._made[key]

    def _judged_before(self, key: Key) -> tuple[Judgement, ...]:
        made = self._before.get(key)
        return () if made is None else made.judgements

    def _asked(self, key: Key, situation: Situation) -> tuple[Judgement, ...]:
        number, name = key
        self._asked_so_far += 1
        self._situation.watch.note = Note()
        item = situation.arrangement.items[name] if name else None
        return answers(question(all_rules()[number], item), situation)
