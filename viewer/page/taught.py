"""A lesson as a page takes it: its stage, and the rooms where something is dragged."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any

from model3d.lessons import run_lesson
from viewer.page.data import lean
from viewer.page.remedies import remedies
from viewer.page.whatif import whatif
from viewer.stage import document
from viewer.stage.taught.lesson import lesson_stage, stage_beside

if TYPE_CHECKING:
    from model3d import Scene
    from viewer.stage import Stage


def taught(scene: Scene) -> tuple[Stage, dict[str, Any]]:
    """Return the stage of a lesson, and its document as a page takes it.

    A step that asks to drag something says under ``trial`` how the page is to judge the
    room before that step. Under ``remedies`` stands what may be done about what is not
    met, at the start and after each step.

    Raises:
        LessonError: The scene has no lesson, or it cannot be run.
        BookError: The scene's rule book cannot be used.
        MeshError: A mesh file of the scene cannot be used.
    """
    results = run_lesson(scene)
    stage = lesson_stage(scene, results)
    told = lean(document(stage))
    told["remedies"] = remedies(
        results[0].before, stage, partial(stage_beside, results, 0)
    )
    before = scene
    rows = zip(told["steps"], stage.steps, results, strict=True)
    for written, step, result in rows:
        if result.step.drag:
            written["trial"] = whatif(before, result.before)
        beside = partial(stage_beside, results, result.number)
        written["remedies"] = remedies(result.report, step.stage, beside)
        before = result.scene
    return stage, told
