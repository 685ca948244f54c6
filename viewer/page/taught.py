"""A lesson as a page takes it: its stage, and the rooms where something is dragged."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any

from model3d.following import Following
from model3d.lessons import run_lesson
from viewer.page.data import lean
from viewer.page.remedies import remedies
from viewer.page.whatif import whatif
from viewer.stage import document
from viewer.stage.kept import Kept
from viewer.stage.taught.lesson import lesson_stage, stage_beside

if TYPE_CHECKING:
    from model3d import Report, Scene
    from viewer.stage import Stage


@dataclass(frozen=True, slots=True)
class Taught:
    """A lesson that was run.

    Attributes:
        stage: Of the scene, with the steps in it.
        told: Its document as a page takes it.
        report: What the check says at the start.
    """

    stage: Stage
    told: dict[str, Any]
    report: Report


def taught(scene: Scene) -> Taught:
    """Return the stage of a lesson, and its document as a page takes it.

    A step that asks to drag something says under ``trial`` how the page is to judge the
    room before that step. Under ``remedies`` stands what may be done about what is not
    met, at the start and after each step.

    Raises:
        LessonError: The scene has no lesson, or it cannot be run.
        BookError: The scene's rule book cannot be used.
        MeshError: A mesh file of the scene cannot be used.
    """
    judged = _Judged()
    results = run_lesson(scene, judged.judge)
    kept = [Kept() for _ in (None, *results)]
    stage = lesson_stage(scene, results, kept)
    told = lean(document(stage))
    start = results[0].before
    beside = partial(stage_beside, results, 0, stage, kept=kept[0])
    told["remedies"] = remedies(start, stage, beside, judged.following(start))
    before = scene
    rows = zip(told["steps"], stage.steps, results, kept[1:], strict=True)
    for written, step, result, made in rows:
        if result.step.drag:
            written["trial"] = whatif(before, result.before)
        beside = partial(stage_beside, results, result.number, step.stage, kept=made)
        following = judged.following(result.report)
        written["remedies"] = remedies(result.report, step.stage, beside, following)
        before = result.scene
    return Taught(stage, told, start)


class _Judged:
    """Judges each room once, and keeps what each of its judgements looked at.

    That is what remedies start from: they need not judge the room once more.
    """

    def __init__(self) -> None:
        self._known: list[tuple[Report, Following]] = []

    def judge(self, scene: Scene) -> Report:
        """Return what a check says of a scene."""
        following = Following(scene)
        report = following.followed.report
        self._known.append((report, following))
        return report

    def following(self, report: Report) -> Following:
        """Return what is known of the room of a report."""
        return next(found for known, found in self._known if known is report)
