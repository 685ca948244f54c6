"""Questions without end: fresh rooms, each with a question and its checked answer."""

from model3d.lessons.drills.new_lesson import DrillError, drilled, new_lesson

__all__ = ["DrillError", "drilled", "new_lesson"]
