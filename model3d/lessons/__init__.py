"""Lessons: a scene changes step by step; each step is held to its word."""

from model3d.lessons.document import lesson_document
from model3d.lessons.results import (
    LessonError,
    OpenedLeaf,
    StepResult,
    Unmet,
    expectations,
    goals,
    verdict_of,
)
from model3d.lessons.run import run_lesson

__all__ = [
    "LessonError",
    "OpenedLeaf",
    "StepResult",
    "Unmet",
    "expectations",
    "goals",
    "lesson_document",
    "run_lesson",
    "verdict_of",
]
