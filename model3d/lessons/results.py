"""What came of the steps of a lesson, and what they were to show."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.report import Report
    from model3d.judging.results import Judgement, Verdict
    from model3d.scene.parts.lesson import Step
    from model3d.scene.parts.look import Look
    from model3d.scene.scene import Scene

WORST_FIRST: Final[tuple[Verdict, ...]] = ("not-met", "open", "met")


class LessonError(ValueError):
    """A scene without a lesson, or a lesson that cannot be run.

    Attributes:
        step: Number of the step that cannot be run; None where there is no lesson.
    """

    def __init__(self, message: str, step: int | None = None) -> None:
        where = f"step {step} of the lesson: " if step is not None else ""
        super().__init__(where + message)
        self.step = step


@dataclass(frozen=True, slots=True)
class Unmet:
    """An expectation that did not come true.

    Attributes:
        item: Id of the item, or of the personnel door.
        requirement: The one that was named; "" where all of the item's were meant.
        wanted: What the lesson says.
        found: What the check says; None where it says nothing.
    """

    item: str
    requirement: str
    wanted: Verdict
    found: Verdict | None


@dataclass(frozen=True, slots=True)
class OpenedLeaf:
    """A leaf that a lesson opens for show; no rule looks at that.

    Attributes:
        item: Id of the item, or of the personnel door.
        leaf: Its number, from 0.
        angle: Degrees from closed, as the lesson says; the room may stop it before.
    """

    item: str
    leaf: int
    angle: float


@dataclass(frozen=True, slots=True)
class StepResult:
    """What came of one step.

    Attributes:
        number: Of the step, from 1.
        step: As it was written.
        before: What the check said before the step.
        scene: The scene after the step.
        report: What the check says of it.
        unmet: The expectations that did not come true.
        opened: Every leaf that stands open after the step, by item and leaf.
    """

    number: int
    step: Step
    before: Report
    scene: Scene
    report: Report
    unmet: tuple[Unmet, ...] = ()
    opened: tuple[OpenedLeaf, ...] = ()

    @property
    def say(self) -> str:
        """What is said, or ""."""
        return self.step.say or ""

    @property
    def ask(self) -> str:
        """The question, or ""."""
        return self.step.ask or ""

    @property
    def look(self) -> Look | None:
        """Where the viewer looks; None where the step leaves that as it is."""
        return self.step.look

    @property
    def passed(self) -> bool:
        """Whether every expectation came true."""
        return not self.unmet


def verdict_of(report: Report, item: str, requirement: str = "") -> Verdict | None:
    """Return the worst verdict on an item, or None where nothing is judged.

    Args:
        report: What the check said.
        item: Id of the item, or of the personnel door.
        requirement: One requirement; all of the item's where it is left out.
    """
    found = {
        one.verdict
        for one in report.judgements
        if one.subject == item and requirement in {"", one.requirement}
    }
    return next((verdict for verdict in WORST_FIRST if verdict in found), None)


def expectations(step: Step) -> Iterator[tuple[str, str, Verdict]]:
    """Yield what a step expects: item, requirement or "", and verdict."""
    for item, wanted in step.expect.items():
        if isinstance(wanted, dict):
            for requirement, verdict in wanted.items():
                yield item, requirement, verdict
        else:
            yield item, "", wanted


def goals(result: StepResult) -> tuple[Judgement, ...]:
    """Return what is to become met by moving the item that a step asks to drag.

    That is what the step expects to be met and its own changes do meet, if it was not
    met before. Without such an item there is none.
    """
    if result.step.drag is None:
        return ()
    wanted = {
        (item, name)
        for item, name, verdict in expectations(result.step)
        if verdict == "met"
    }
    short = {
        _place(one) for one in result.before.judgements if one.verdict == "not-met"
    }
    return tuple(
        one
        for one in result.report.judgements
        if one.verdict == "met"
        and _place(one) in short
        and wanted & {(one.subject, ""), (one.subject, one.requirement)}
    )


def _place(one: Judgement) -> tuple[object, ...]:
    """Return what a judgement is about: the same before and after a change."""
    return one.subject, one.requirement, one.leaf, one.tier, one.side
