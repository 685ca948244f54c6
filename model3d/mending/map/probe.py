"""Ask the rules themselves about one place of an item."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from model3d.check import report_of
from model3d.judging.systems import answers
from model3d.mending.map.quick import is_still_broken
from model3d.rules import all_questions, all_rules, question
from model3d.working.box import REQUIREMENT

if TYPE_CHECKING:
    from collections.abc import Iterable

    from model3d.judging.report import Report
    from model3d.judging.results import Judgement
    from model3d.judging.situation import Situation
    from model3d.mending.effort import Effort
    from model3d.mending.map.posed import Posed
    from model3d.rules import Rule
    from model3d.scene.parts.placement import At, AtWall

Key = tuple[str, str, int | None, int | None, str | None]
"""Requirement, subject, leaf, tier and side of a judgement."""


def key_of(judged: Judgement) -> Key:
    """Return what a judgement is about."""
    return judged.requirement, judged.subject, judged.leaf, judged.tier, judged.side


@dataclass(frozen=True)
class Probe:
    """The rules, asked about places of an item.

    Attributes:
        posed: The item.
        effort: How often they may be asked; None: as often as it takes. What is not
            asked counts as not met.
    """

    posed: Posed
    effort: Effort | None = None

    def is_met(self, place: At | AtWall, keys: Iterable[tuple[str, str]]) -> bool:
        """Tell whether nothing that is asked about is not met at a place.

        Args:
            place: Where the item is.
            keys: Requirement and subject of what is asked about.
        """
        if self.effort is not None and not self.effort.take():
            return False
        situation = _lenient(self.posed.at(place))
        own = self.posed.name
        asked = sorted(keys, key=lambda key: (key != (REQUIREMENT, own), key))
        for requirement, name in asked:
            # What bars most places by far is asked first.
            if name == own and is_still_broken(requirement, name, situation):
                return False
            item = situation.arrangement.items[name]
            found = answers(question(_rule(requirement), item), situation)
            broken = [one for one in found if one.verdict == "not-met"]
            if not broken:
                continue
            if name == own:
                return False
            before = self._before_of(requirement, name)
            if any(key_of(one) not in before for one in broken):
                return False
        return True

    def _before_of(self, requirement: str, name: str) -> frozenset[Key]:
        """Return what of a question is not met wherever the item is."""
        asked = requirement, name
        if asked not in self._asked_before:
            moves = name in self.posed.moved
            situation = self.posed.bare if moves else self.posed.base
            item = situation.arrangement.items[name]
            found = answers(question(_rule(requirement), item), situation)
            self._asked_before[asked] = frozenset(
                key_of(one) for one in found if one.verdict == "not-met"
            )
        return self._asked_before[asked]

    @cached_property
    def _asked_before(self) -> dict[tuple[str, str], frozenset[Key]]:
        return {}

    def report(self, place: At | AtWall) -> Report:
        """Return the whole report with the item at a place."""
        return whole(self.posed.at(place))

    def breaches(self, report: Report) -> list[Judgement]:
        """Return what is not met at a place and counts against it."""
        return [one for one in report.judgements if self._counts(one)]

    def doubts(self, report: Report) -> list[Judgement]:
        """Return what is open at a place and is not so without the item."""
        return [
            one
            for one in report.judgements
            if one.verdict == "open" and key_of(one) not in self._open_before
        ]

    def _counts(self, judged: Judgement) -> bool:
        if judged.verdict != "not-met":
            return False
        if judged.subject == self.posed.name:
            return True
        return key_of(judged) not in self._broken_before

    @cached_property
    def _broken_before(self) -> frozenset[Key]:
        """What is not met wherever the item is: of others, and of what it carries."""
        return frozenset(
            key_of(one) for one in self._before if one.verdict == "not-met"
        )

    @cached_property
    def _open_before(self) -> frozenset[Key]:
        return frozenset(key_of(one) for one in self._before if one.verdict == "open")

    @cached_property
    def _before(self) -> tuple[Judgement, ...]:
        own = [
            one
            for one in whole(self.posed.bare).judgements
            if one.subject in self.posed.moved
        ]
        return (*whole(self.posed.base).judgements, *own)


def whole(situation: Situation) -> Report:
    """Judge a scene that is arranged already."""
    found = [
        judged
        for asked in all_questions(situation)
        for judged in answers(asked, situation)
    ]
    return report_of(found, situation.arrangement, situation.book.id)


def _lenient(situation: Situation) -> Situation:
    # What is not met is not drawn by these figures, which saves most of the work.
    either = situation.accepted == "either"
    return situation.by("either") if either else situation


def _rule(requirement: str) -> Rule:
    names = {rule.__name__.rpartition(".")[2]: rule for rule in all_rules()}
    return names[requirement.replace("-", "_")]
