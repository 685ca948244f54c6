"""Run the lesson of a scene: each step is applied, checked and held to its word.

What a step expects of an item is the worst of the item's judgements: ``not-met`` where
one is not met, else ``open`` where one is open, else ``met``. So ``{LP1: met}`` says
that every requirement at LP1 is met, and a lesson that says it must state all the facts
that the rules ask for. ``{LP1: {working-space: met}}`` speaks of one requirement alone,
of all leaves, tiers and sides it is judged at. Of what is not judged nothing may be
expected.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from pydantic import ValidationError

from model3d.check import check
from model3d.lessons.results import (
    LessonError,
    OpenedLeaf,
    StepResult,
    Unmet,
    expectations,
    goals,
    verdict_of,
)
from model3d.rules import requirements
from model3d.scene.parts.lesson import OpenLeaf, RemoveItem, SetItem, which_change
from model3d.scene.scene import require_scene
from model3d.scene.words.nearest import hint
from model3d.standing.changes import ChangeError, apply_change
from model3d.units import LengthError

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from model3d.judging.report import Report
    from model3d.scene.parts.lesson import Change, Step
    from model3d.scene.scene import Scene

Leaves = dict[tuple[str, int], float]
"""Degrees that leaves stand open at, by item or door id and number of the leaf."""


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
        TypeError: It is no scene.
    """
    require_scene(scene)
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
    lines = (str(one.get("ctx", {}).get("error", one["msg"])) for one in error.errors())
    return "; ".join(dict.fromkeys(" ".join(line.split()) for line in lines))


def _unmet(step: Step, report: Report) -> Iterator[Unmet]:
    for item, requirement, wanted in expectations(step):
        found = verdict_of(report, item, requirement)
        if found != wanted:
            yield Unmet(item, requirement, wanted, found)
