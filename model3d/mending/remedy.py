"""A change as data that puts a judgement right, and the proof that it does."""

from __future__ import annotations

import heapq
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any, Final

from pydantic import ValidationError

from model3d.check import check, situate
from model3d.geometry.tolerance import TOUCH
from model3d.judging.systems import answers
from model3d.mending.probe import Key, key_of
from model3d.rules import all_rules, question
from model3d.scene.lesson import MoveItem
from model3d.standing.changes import ChangeError, apply_change

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from model3d.judging.results import Judgement, Report, Verdict
    from model3d.judging.situation import Situation
    from model3d.scene.lesson import Change
    from model3d.scene.scene import Scene

_RANK: Final[dict[Verdict, int]] = {"met": 0, "open": 1, "not-met": 2}


@dataclass(frozen=True, slots=True)
class Remedy:
    """A change that puts a judgement right and makes nothing worse.

    Attributes:
        do: The change, in the language of lessons.
        size: How far something is moved in all, metres; 0 where nothing moves.
        text: What is done, in a sentence.
    """

    do: tuple[Change, ...]
    size: float
    text: str

    def document(self) -> dict[str, Any]:
        """Return the contract's plain data, the size in millimetres."""
        return {
            "do": [written(change) for change in self.do],
            "size": round(self.size * 1000, 2) + 0.0,
            "text": self.text,
        }


def written(change: Change) -> dict[str, Any]:
    """Return a change as it would be written in a lesson."""
    found: dict[str, Any] = change.model_dump(by_alias=True, exclude_unset=True)
    return found


def changed(scene: Scene, do: Sequence[Change]) -> Scene | None:
    """Return a scene after changes; None where what comes of them is no scene."""
    try:
        for change in do:
            scene = apply_change(scene, change)
    except (ChangeError, ValidationError, ValueError):
        return None
    return scene


@dataclass(frozen=True)
class Bench:
    """A scene on which changes are tried.

    Attributes:
        scene: The scene.
        report: What a check of it says.
        step: What changes are rounded to, metres.
    """

    scene: Scene
    report: Report
    step: float

    @cached_property
    def before(self) -> dict[Key, Verdict]:
        """Every verdict of the scene as it is."""
        return {key_of(one): one.verdict for one in self.report.judgements}

    @cached_property
    def broken(self) -> frozenset[tuple[str, str]]:
        """Requirement and subject of what is not met."""
        return frozenset(
            (one.requirement, one.subject)
            for one in self.report.judgements
            if one.verdict == "not-met"
        )

    @cached_property
    def reports(self) -> dict[str, Report | None]:
        """What was checked already, by what was done."""
        return {}

    @cached_property
    def maps(self) -> dict[tuple[object, ...], Any]:
        """Maps of free places that were made already."""
        return {}

    def length(self, metres: float) -> str:
        """Write a length in both systems, the scene's own first."""
        return situate(self.scene).length(metres)

    def seems_cured(self, judged: Judgement, do: Sequence[Change]) -> bool:
        """Tell whether the rule itself is met after changes; the rest is not asked."""
        scene = changed(self.scene, do)
        if scene is None:
            return False
        situation = situate(scene)
        if situation.accepted == "either":
            situation = situation.by("either")
        item = situation.arrangement.items.get(judged.subject)
        names = {rule.__name__.rpartition(".")[2]: rule for rule in all_rules()}
        rule = names[judged.requirement.replace("-", "_")]
        if item is None:
            return False
        found = answers(question(rule, item), situation)
        return is_cured(judged, found) and self._is_inside(situation, do)

    def _is_inside(self, situation: Situation, do: Sequence[Change]) -> bool:
        """Tell whether what is moved is no further out of the room than before."""
        old = self.report.arrangement
        shell = situation.arrangement.shell
        if old is None or not shell.outline:
            return True
        names = {change.move for change in do if isinstance(change, MoveItem)}
        xs, ys = zip(*shell.outline, strict=True)
        high = float("inf") if shell.height is None else shell.height
        room = (min(xs), min(ys), 0.0), (max(xs), max(ys), high)
        for name in names:
            item = situation.arrangement.items[name]
            kind = item.kind
            let_in = kind.flush or (kind.boxed and not kind.in_ceiling)
            level = (2,) if let_in else (0, 1, 2)
            was, now = old.items[name].solid.bounds, item.solid.bounds
            for n in level:
                out = max(room[0][n] - now[0][n], now[1][n] - room[1][n])
                before = max(room[0][n] - was[0][n], was[1][n] - room[1][n])
                if out > max(before, 0.0) + TOUCH:
                    return False
        return True

    def after(self, do: Sequence[Change]) -> Report | None:
        """Return what a check of the whole scene says after changes."""
        name = repr([written(change) for change in do])
        if name not in self.reports:
            scene = changed(self.scene, do)
            self.reports[name] = None if scene is None else check(scene)
        return self.reports[name]

    def proves(self, judged: Judgement, do: Sequence[Change]) -> bool:
        """Tell whether changes put a judgement right and make none worse."""
        report = self.after(do)
        if report is None:
            return False
        return is_cured(judged, report.judgements) and not self.worse(report)

    def worse(self, report: Report) -> list[Judgement]:
        """Return what is worse than before; what is new counts where it is not met."""
        return [
            one
            for one in report.judgements
            if _RANK[one.verdict] > _RANK[self.before.get(key_of(one), "met")]
        ]


def is_cured(judged: Judgement, found: Sequence[Judgement]) -> bool:
    """Tell whether what was not met is met.

    Where an item has other leaves now, all of them must be met.
    """
    own = [
        one
        for one in found
        if (one.requirement, one.subject) == (judged.requirement, judged.subject)
    ]
    same = [one for one in own if key_of(one) == key_of(judged)]
    asked = same or own
    return bool(asked) and all(one.verdict == "met" for one in asked)


@dataclass(frozen=True, slots=True)
class Family:
    """Changes of one kind that differ in an amount alone.

    Attributes:
        do: The changes for an amount in metres; None where there is no such change.
        text: The sentence for an amount.
        least: The amount that is tried first, metres.
        most: No greater amount is tried.
        moves: The amount is the length of a move.
        fixed: The amount is not rounded: it is a place that was worked out.
    """

    do: Callable[[float], tuple[Change, ...] | None]
    text: Callable[[float], str]
    least: float
    most: float
    moves: bool = True
    fixed: bool = False


MORE: Final = (1, 3, 9)
"""Steps by which an amount is raised that cures the breach and breaks something else.
"""


def first_amount(family: Family, judged: Judgement, bench: Bench) -> float | None:
    """Return the smallest amount of a family by which the rule itself is met.

    By doubling and halving, as for what only gets better with more; None: none is.
    """
    step = bench.step
    if family.fixed:
        return family.least if _seems(family, family.least, judged, bench) else None
    count = max(1, _up(family.least / step))
    last = int(family.most / step + _SLIP)
    if count > last:
        return None
    low, high = count - 1, count
    while not _seems(family, high * step, judged, bench):
        if high >= last:
            return None
        low, high = high, min(2 * high, last)
    while high - low > 1:
        middle = (low + high) // 2
        if _seems(family, middle * step, judged, bench):
            high = middle
        else:
            low = middle
    return high * step


def offered(
    families: Iterable[Family], judged: Judgement, bench: Bench, most: int
) -> list[Remedy]:
    """Return the smallest proved remedies of some families, the smallest first.

    Args:
        families: Changes that may cure the breach.
        judged: The breach.
        bench: The scene.
        most: So many are enough.
    """
    waiting: list[_Candidate] = []
    for number, family in enumerate(families):
        amount = first_amount(family, judged, bench)
        if amount is not None:
            waiting.append(_candidate(family, amount, number, 0))
    heapq.heapify(waiting)
    found: dict[str, Remedy] = {}
    proofs = 0
    while waiting and len(found) < most and proofs < _MOST_PROOFS:
        _, number, tries, amount, family = heapq.heappop(waiting)
        do, text = family.do(amount), family.text(amount)
        if do is None or text in found:
            continue
        proofs += 1
        if bench.proves(judged, do):
            found[text] = Remedy(do, amount if family.moves else 0.0, text)
        elif tries < len(MORE) and not family.fixed:
            more = amount + MORE[tries] * bench.step
            if more <= family.most:
                heapq.heappush(waiting, _candidate(family, more, number, tries + 1))
    return list(found.values())


_MOST_PROOFS: Final = 16
"""So many whole checks are made for one breach."""

_Candidate = tuple[float, int, int, float, Family]
"""Size, number of the family, tries, amount, family."""


def _candidate(family: Family, amount: float, number: int, tries: int) -> _Candidate:
    size = round(amount, 6) if family.moves else 0.0
    return size, number, tries, amount, family


_SLIP: Final = 1e-6
"""Of a step: rounding."""


def _up(count: float) -> int:
    whole = int(count)
    return whole if count - whole <= _SLIP else whole + 1


def _seems(family: Family, amount: float, judged: Judgement, bench: Bench) -> bool:
    do = family.do(amount)
    return do is not None and bench.seems_cured(judged, do)
