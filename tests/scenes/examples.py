"""The example rooms and lessons: each is read, checked and staged once a process."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any, Final

from jsonschema import Draft202012Validator

from model3d import check, read_scene
from model3d.lessons import run_lesson
from model3d.scene.text.composing.composer import compose
from model3d.scene.text.schema import json_schema
from tests.paths import LESSONS, ROOMS, SCENES
from viewer.stage import build_stage
from viewer.stage.taught.lesson import lesson_stage

if TYPE_CHECKING:
    from pathlib import Path

    from model3d import Report, Scene
    from model3d.lessons import StepResult
    from viewer.stage import Stage

NAMES: Final = tuple(path.stem for path in ROOMS)
SCHEMA: Final = Draft202012Validator(json_schema())
LESSON_NAMES: Final = tuple(sorted(path.stem for path in LESSONS.glob("*.yaml")))


@cache
def scene(name: str) -> Scene:
    """Return an example room."""
    return read_scene(SCENES / f"{name}.yaml")


@cache
def report(name: str) -> Report:
    """Return what the check says of an example room."""
    return check(scene(name))


@cache
def stage(name: str) -> Stage:
    """Return an example room as it is shown."""
    return build_stage(scene(name), report(name))


@cache
def taught(name: str) -> Scene:
    """Return the room of an example lesson."""
    return read_scene(LESSONS / f"{name}.yaml")


@cache
def results(name: str) -> tuple[StepResult, ...]:
    """Return what comes of the steps of an example lesson."""
    return run_lesson(taught(name))


@cache
def steps_shown(name: str) -> Stage:
    """Return an example lesson as it is shown."""
    return lesson_stage(taught(name), results(name))


def written(path: Path) -> Any:  # noqa: ANN401 - any YAML
    """Return what a scene file holds, before it is looked at."""
    node, _ = compose(path.read_text(encoding="utf-8"))
    return None if node is None else node.value
