"""What was done to a room since its file was read, as far as it can be undone."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from model3d import Scene

_MOST: Final = 500


class History:
    """The scenes before each change, the latest last.

    Attributes:
        trial: The words of the remedy that was tried last, until it is kept or undone.
    """

    def __init__(self) -> None:
        """Begin with nothing done."""
        self.trial = ""
        self._before: list[Scene] = []
        self._gesture: object = None

    def __len__(self) -> int:
        """Return how many changes can be undone."""
        return len(self._before)

    def begins(self, gesture: object) -> bool:
        """Tell whether a change of a gesture is one to be undone by itself."""
        return gesture is None or gesture != self._gesture

    def add(self, before: Scene, gesture: object = None, trial: str = "") -> None:
        """Note a change by the scene before it."""
        if self.begins(gesture):
            self._before = [*self._before[-_MOST:], before]
        self._gesture, self.trial = gesture, trial

    def back(self) -> Scene:
        """Take back the last change; return the scene before it."""
        self._gesture, self.trial = None, ""
        return self._before.pop()
