"""Run the lesson of a scene: each step is applied, checked and held to its word.

What a step expects of an item is the worst of the item's judgements: ``not-met`` where
one is not met, else ``open`` where one is open, else ``met``. So ``{LP1: met}`` says
that every requirement at LP1 is met, and a lesson that says it must state all the facts
that the rules ask for. ``{LP1: {working-space: met}}`` speaks of one requirement alone,
of all leaves, tiers and sides it is judged at. Of what is not judged nothing may be
expected.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from pydantic import ValidationError

from model3d.check import check
from model3d.rules import requirements
from model3d.scene.lesson import OpenLeaf, RemoveItem, SetItem, which_change
from model3d.scene.words.nearest import hint
from model3d.standing.changes import ChangeError, apply_change
from model3d.units import LengthError

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from model3d.judging.report import Report
    from model3d.judging.results import Judgement, Verdict
    from model3d.scene.lesson import Change, Step
    from model3d.scene.look import Look
    from model3d.scene.scene import Scene

WORST_FIRST: Final[tuple[Verdict, ...]] = ("not-met", "open", "met")

Leaves = dict[tuple[str, int], float]
"""Degrees that leaves stand open at, by item or door id and number of the leaf."""


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


def run_lesson(
    scene: Scene, judge: Callable[[Scene], Report] = check
) -> tuple[StepResult, ...]:
    """Run the lesson of a scene, each step from the scene the step before left.

    Args:
        scene: The scene.
        judge: Says what ``check`` says of a scene; for who keeps more of it.

    Raises:
        LessonError: The scene has no lesson, a change leads to no scene, a
            requirement that is named is none, or nothing becomes met by moving what
            is to be dragged.
        BookError: The scene's rule book cannot be used.
        MeshError: A mesh file of the scene cannot be used.
    """
    if scene.lesson is None:
        msg = "found no lesson, right is a scene with a lesson"
        raise LessonError(msg)
    names = requirements()
    report = judge(scene)
    leaves: Leaves = {}
    results: list[StepResult] = []
    for number, step in enumerate(scene.lesson.steps, start=1):
        _know(step, names, number)
        before, old = report, scene
        scene, leaves = _changed(scene, leaves, step.do, number)
        # To open a leaf changes nothing that is judged.
        report = before if scene is old else judge(scene)
        results.append(
            StepResult(
                number=number,
                step=step,
                before=before,
                scene=scene,
                report=report,
                unmet=tuple(_unmet(step, report)),
                opened=tuple(
                    OpenedLeaf(item, leaf, angle)
                    for (item, leaf), angle in sorted(leaves.items())
                ),
            )
        )
        if step.drag and not goals(results[-1]):
            msg = (
                f"found nothing that becomes met by moving {step.drag}, right is what "
                "is expected to be met and was not met before"
            )
            raise LessonError(msg, number)
    return tuple(results)


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


def lesson_document(scene: Scene, results: Iterable[StepResult]) -> dict[str, Any]:
    """Return a lesson that was run as plain data for JSON.

    ``start`` and each step's ``report`` are the documents of ``Report``. ``failed``
    lists what a step expected in vain; ``found`` is null where nothing is judged.

    Raises:
        LessonError: The scene has no lesson.
    """
    steps = [*results]
    if scene.lesson is None or not steps:
        msg = "found no lesson, right is a scene with a lesson"
        raise LessonError(msg)
    start = steps[0].before.document()
    return {
        "format": 1,
        "lesson": scene.lesson.title,
        **{key: start[key] for key in ("scene", "file", "rules")},
        "passed": all(one.passed for one in steps),
        "start": start,
        "steps": [_document(one) for one in steps],
    }


def _document(result: StepResult) -> dict[str, Any]:
    look = result.look
    return {
        "step": result.number,
        "say": result.say,
        "ask": result.ask,
        "choices": [one.model_dump() for one in result.step.choices],
        "find": [*result.step.find],
        "drag": result.step.drag,
        "notes": result.step.notes or "",
        "minutes": result.step.minutes,
        "look": look and look.model_dump(mode="json", by_alias=True, exclude_none=True),
        "show": [one.model_dump(by_alias=True) for one in result.step.show],
        "open": [
            {"item": one.item, "leaf": one.leaf, "angle": one.angle}
            for one in result.opened
        ],
        "failed": [
            {
                "item": one.item,
                "requirement": one.requirement or None,
                "expected": one.wanted,
                "found": one.found,
            }
            for one in result.unmet
        ],
        "report": result.report.document(),
    }


def _place(one: Judgement) -> tuple[object, ...]:
    """Return what a judgement is about: the same before and after a change."""
    return one.subject, one.requirement, one.leaf, one.tier, one.side


def _know(step: Step, names: tuple[str, ...], number: int) -> None:
    for item, requirement, _ in expectations(step):
        if requirement and requirement not in names:
            msg = (
                f'found "{requirement}" expected of {item}, right is the name of a '
                f"requirement{hint(requirement, names)}"
            )
            raise LessonError(msg, number)


def _changed(
    scene: Scene, leaves: Leaves, changes: Iterable[Change], number: int
) -> tuple[Scene, Leaves]:
    """Return scene and open leaves after some changes."""
    leaves = {**leaves}
    for change in changes:
        try:
            scene = apply_change(scene, change)
        except (ChangeError, LengthError, ValidationError) as error:
            key = str(which_change(change))
            named = getattr(change, key)
            own_id = named if isinstance(named, str) else named.id
            msg = f"{key} {own_id}: {_words(error)}"
            raise LessonError(msg, number) from error
        match change:
            case OpenLeaf():
                leaves[change.open, change.leaf] = change.to
            case RemoveItem(remove=gone):
                leaves = _without(leaves, gone)
            case SetItem(set=gone, fields=fields) if fields.keys() & {"door", "doors"}:
                # Other leaves, which nobody has opened.
                leaves = _without(leaves, gone)
    return scene, {at: to for at, to in leaves.items() if to > 0}


def _without(leaves: Leaves, item: str) -> Leaves:
    return {at: to for at, to in leaves.items() if at[0] != item}


def _words(error: ChangeError | LengthError | ValidationError) -> str:
    if not isinstance(error, ValidationError):
        return str(error)
    lines = (one["msg"].removeprefix("Value error, ") for one in error.errors())
    return "; ".join(dict.fromkeys(" ".join(line.split()) for line in lines))


def _unmet(step: Step, report: Report) -> Iterator[Unmet]:
    for item, requirement, wanted in expectations(step):
        found = verdict_of(report, item, requirement)
        if found != wanted:
            yield Unmet(item, requirement, wanted, found)
