"""A lesson that was run as plain data for JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from model3d.lessons.results import LessonError

if TYPE_CHECKING:
    from collections.abc import Iterable

    from model3d.lessons.results import StepResult
    from model3d.scene.scene import Scene


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
