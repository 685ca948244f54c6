"""A lesson as a page takes it: its stage, and the rooms where something is dragged."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from model3d.lessons import run_lesson
from viewer.page.data import lean
from viewer.page.whatif import whatif
from viewer.stage import document
from viewer.stage.taught.lesson import lesson_stage

if TYPE_CHECKING:
    from model3d import Scene
    from viewer.stage import Stage


def taught(scene: Scene) -> tuple[Stage, dict[str, Any]]:
    """Return the stage of a lesson, and its document as a page takes it.

    A step that asks to drag something says under ``trial`` how the page is to judge the
    room before that step.

    Raises:
        LessonError: The scene has no lesson, or it cannot be run.
        BookError: The scene's rule book cannot be used.
        MeshError: A mesh file of the scene cannot be used.
    """
    results = run_lesson(scene)
    stage = lesson_stage(scene, results)
    told = lean(document(stage))
    before = scene
    for written, result in zip(told["steps"], results, strict=True):
        if result.step.drag:
            written["trial"] = whatif(before, result.before)
        before = result.scene
    return stage, told
