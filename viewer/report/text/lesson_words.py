"""What a step of a lesson changes, in words: what was done, and what came of it."""

from __future__ import annotations

import json
import math
from dataclasses import dataclass
from string import ascii_lowercase
from typing import TYPE_CHECKING, Any, Final

from model3d.lessons import expectations
from model3d.scene.parts.lesson import AddItem, MoveItem, OpenLeaf, RemoveItem, SetItem
from model3d.wording import bracketed, length
from viewer.report.text.table import which
from viewer.wording.shortfall import asked_about, shortfall
from viewer.wording.sizes import NOTHING, lacking, provided_words, required_words

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.report import Report
    from model3d.judging.results import Judgement, Sizes
    from model3d.lessons import StepResult
    from model3d.scene.parts.lesson import Change, Choice, ShownSize, Step
    from model3d.scene.scene import Scene
    from viewer.report.text.table import Repeated
    from viewer.wording.shortfall import Shortfall

_NOISE: Final = 1e-6
"""Metres and degrees; less is no change."""
_ORDER: Final = {"not-met": 0, "open": 1, "met": 2}
_FIRST: Final = "working-space"
"""The requirement that is told before others: what most lessons are about."""
_WAYS: Final = (("east", "west"), ("north", "south"), ("up", "down"))

JudgementKey = tuple[str, str, int | None, int | None, str | None]


@dataclass(frozen=True, slots=True)
class StepJudgement:
    """A judgement after a step, and the same one before it.

    Attributes:
        now: After the step.
        was: Before it; None where it was not made then.
        named: The step expects something of this very requirement.
    """

    now: Judgement
    was: Judgement | None
    named: bool

    @property
    def turned(self) -> bool:
        """Whether the verdict is another one."""
        return self.was is None or self.was.verdict != self.now.verdict


def lettered(step: Step) -> Iterator[tuple[str, Choice]]:
    """Yield the answers to choose from, each with its letter."""
    return zip(ascii_lowercase, step.choices, strict=False)


def deed(change: Change, scene: Scene) -> str:
    """Say what a change does, lengths in both systems of units."""
    match change:
        case MoveItem():
            ways = zip(change.by, _WAYS, strict=True)
            told = [_moved(scene.metres(by), way, scene.units) for by, way in ways]
            return f"{change.move} moved {' and '.join(filter(None, told)) or 'by 0'}"
        case SetItem():
            told = [_field(key, value) for key, value in change.fields.items()]
            return f"{change.set}: {', '.join(told)}"
        case RemoveItem():
            return f"{change.remove} taken away"
        case AddItem(add=item):
            name = f" ({item.name})" if item.name else ""
            return f"{item.id} put in: {item.kind}{name}"
        case OpenLeaf():
            leaf = f", leaf {change.leaf + 1}," if change.leaf else ""
            far = f"to {change.to:g} degrees, or as far as it goes"
            return f"{change.open}{leaf} opened {far}"


def shown(size: ShownSize, scene: Scene) -> str:
    """Return a dimension of the author's own, its length in both systems of units."""
    ends = zip(size.from_, size.to, strict=True)
    far = math.hypot(*(scene.metres(b) - scene.metres(a) for a, b in ends))
    return f"{size.label or ''} {length(far, scene.units)}".strip()


def _moved(metres: float, way: tuple[str, str], units: str) -> str:
    if abs(metres) < _NOISE:
        return ""
    return f"{length(abs(metres), units)} {way[metres < 0]}"


def _field(key: str, value: Any) -> str:  # noqa: ANN401 - whatever is written
    if key == "name" and value is not None:
        return f'named "{value}"'
    return f"no {key}" if value is None else f"{key} {_plain(value)}"


def _plain(value: Any) -> str:  # noqa: ANN401 - whatever is written
    match value:
        case str():
            return value
        case float() | int() if not isinstance(value, bool):
            return f"{value:g}"
        case list() | tuple() if any(isinstance(one, dict) for one in value):
            return "; ".join(_plain(one) for one in value)
        case list() | tuple():
            return " x ".join(_plain(one) for one in value)
        case dict():
            return " ".join(f"{key} {_plain(one)}" for key, one in value.items())
        case _:
            return json.dumps(value, ensure_ascii=False)


def turns(result: StepResult) -> tuple[list[StepJudgement], dict[str, list[str]]]:
    """Return what a step brings about, what is not met first.

    Returns:
        The judgements to be told: those with a new verdict, those that the step names,
        and of other items that something is expected of what is not met, open, or
        asked for with other sizes; and by item the requirements that are judged for
        the first time and simply met.
    """
    old = {_key(one): one for one in result.before.judgements}
    wanted = enumerate(expectations(result.step))
    expected = {(item, name): number for number, (item, name, _) in wanted}
    items = {item for item, name in expected if not name}
    found: list[StepJudgement] = []
    new: dict[str, list[str]] = {}
    for one in result.report.judgements:
        turn = StepJudgement(
            one, old.get(_key(one)), (one.subject, one.requirement) in expected
        )
        if turn.was is None and one.verdict == "met" and not turn.named:
            names = new.setdefault(one.subject, [])
            names += [one.requirement] if one.requirement not in names else []
        elif _is_told(turn, items):
            found.append(turn)

    def order(turn: StepJudgement) -> tuple[int, int, bool]:
        now = turn.now
        place = expected.get((now.subject, now.requirement), len(expected))
        return _ORDER[now.verdict], place, now.requirement != _FIRST

    return sorted(found, key=order), new


def _key(one: Judgement) -> JudgementKey:
    return one.subject, one.requirement, one.leaf, one.tier, one.side


def _is_told(turn: StepJudgement, items: set[str]) -> bool:
    now, was = turn.now, turn.was
    if was is None or turn.turned or turn.named:
        return True
    asked_anew = now.condition != was.condition or bool(
        _others(now.required, was.required)
    )
    return now.subject in items and (asked_anew or now.verdict != "met")


def _others(sizes: Sizes, before: Sizes) -> list[str]:
    """Return the names of sizes that are other ones than before."""
    return [
        name
        for name, size in sizes.items()
        if abs(size - before.get(name, 0.0)) > _NOISE
    ]


def title(turn: StepJudgement, several: Repeated) -> str:
    """Name a judgement: item, requirement, and leaf, tier or side.

    Args:
        turn: The judgement.
        several: What is judged several times after the step.
    """
    now = turn.now
    parts = (now.subject, now.requirement, which(now, several))
    return " ".join(filter(None, parts))


def sizes(turn: StepJudgement, report: Report, units: str) -> Iterator[str]:
    """Yield a line for each size of a judgement that tells something."""
    now, was = turn.now, turn.was
    short = shortfall(now) if now.verdict != "met" else None
    if short is not None:
        yield _short(now, short, units)
        return
    for name in _told_sizes(turn):
        yield _size(name, now, was, units)
    if turn.named and now.verdict == "met":
        yield from _place(now, report, units)


def _told_sizes(turn: StepJudgement) -> list[str]:
    """Return the sizes of a judgement without a short one that tell something."""
    now, was = turn.now, turn.was
    if now.verdict != "met":
        return [*asked_about(now)] if now.verdict == "open" else []
    if was is None:
        return [*now.required]
    before = shortfall(was) if was.verdict != "met" else None
    if before is not None and before.size in now.required:
        return [before.size]
    if not turn.named:
        return _others(now.required, was.required)
    new = {
        *_others(now.required, was.required),
        *_others(now.provided, was.provided),
    }
    return [name for name in now.required if name in new] or [*now.required]


def _short(now: Judgement, short: Shortfall, units: str) -> str:
    needed = required_words(now, short.size, units)
    there = provided_words(now, short.size, units) or NOTHING
    by = bracketed(lacking(now, short, units))
    if short.most:
        return f"{short.size}: {needed}, it is {there}, {by} {short.too}"
    return f"{short.size}: {needed} required, {there} there, short by {by}"


def _size(name: str, now: Judgement, was: Judgement | None, units: str) -> str:
    there = provided_words(now, name, units) or "no limit"
    if name not in now.required or name in now.unknown:
        return f"{name}: {there} measured"
    needed = required_words(now, name, units)
    if name not in now.limit:
        needed = f"{needed} required"
    old = None if was is None else was.required.get(name)
    before = ""
    if was is not None and old is not None and abs(old - now.required[name]) > _NOISE:
        before = f" (before: {required_words(was, name, units)})"
    return f"{name}: {needed}{before}, {there} there"


def _place(now: Judgement, report: Report, units: str) -> Iterator[str]:
    """Say how far a space that may slide reaches past its item on either side."""
    arrangement = report.arrangement
    if now.place is None or arrangement is None:
        return
    front = arrangement.items[now.subject].front
    if front is None or "width" not in now.required:
        return
    left = -now.place
    right = now.required["width"] - front.width - left
    told = [length(side if side > _NOISE else 0.0, units) for side in (left, right)]
    yield (
        f"the space reaches {told[0]} past the left side of {now.subject} and "
        f"{told[1]} past its right side"
    )
