"""Check the working space at every piece of gear in an electrical room.

Read or build a scene, check it, read the report::

    from model3d import Item, Room, Scene, check

    report = check(Scene(title="Annex", units="mm", rules="nec-2023", ...))
    report.passed
"""

from __future__ import annotations

from model3d.check import check
from model3d.codebook import BOOKS, BookError, load_book
from model3d.judging.report import Assumption, Report
from model3d.judging.results import ClearBox, Intrusion, Judgement, Verdict
from model3d.lessons import LessonError, StepResult, run_lesson
from model3d.scene.parts.item import AskedSpace, Item, Leaf, Tier
from model3d.scene.parts.lesson import Lesson
from model3d.scene.parts.room import Room, RoomDoor
from model3d.scene.parts.supply import Supply
from model3d.scene.scene import Scene
from model3d.scene.shape_files.meshes import MeshError
from model3d.scene.text.reader import Mistake, SceneError, read_scene, read_text

__all__ = [
    "BOOKS",
    "AskedSpace",
    "Assumption",
    "BookError",
    "ClearBox",
    "Intrusion",
    "Item",
    "Judgement",
    "Leaf",
    "Lesson",
    "LessonError",
    "MeshError",
    "Mistake",
    "Report",
    "Room",
    "RoomDoor",
    "Scene",
    "SceneError",
    "StepResult",
    "Supply",
    "Tier",
    "Verdict",
    "check",
    "load_book",
    "read_scene",
    "read_text",
    "run_lesson",
]
