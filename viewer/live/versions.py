"""What has been shown and told of a room, version by version."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from viewer.live.change import ConflictError
from viewer.page.data import lean, lean_difference
from viewer.stage import document

if TYPE_CHECKING:
    from viewer.live.rechecked import Known

_KEPT: Final = 60
"""Stages that a page may have fallen behind; one that is older gets all again."""


class Shown:
    """The versions of a room; whoever uses it sees to it that one does at a time.

    Attributes:
        version: Number of what is shown now, from 1.
        now: What is shown now.
        notice: Number of what was told beside.
        message: What there is to say to whoever looks.
        mistake: Whether that is about something wrong.
    """

    def __init__(self, first: Known) -> None:
        """Begin with what is known at first."""
        self.version = 1
        self.now = first
        self.notice = 0
        self.message = ""
        self.mistake = False
        self._changed_in = 1
        self._kept = {1: first}

    def add(self, known: Known) -> None:
        """Show what is known by now."""
        self.version += 1
        self.now = self._kept[self.version] = known
        self._kept.pop(self.version - _KEPT, None)

    def mark_change(self) -> None:
        """Note that things stand elsewhere from this version on."""
        self._changed_in = self.version

    def tell(self, message: str, *, mistake: bool = False) -> None:
        """Say something, or nothing any more."""
        if (message, mistake) != (self.message, self.mistake):
            self.message, self.mistake = message, mistake
            self.notice += 1

    def since(self, version: int) -> dict[str, Any]:
        """Return what a page needs that shows a version; of one not kept, all."""
        found: dict[str, Any] = {"version": self.version, "since": version}
        before = self._kept.get(version)
        if before is None:
            return {**found, "stage": lean(document(self.now.stage))}
        return {**found, "change": lean_difference(before.stage, self.now.stage)}

    def require(self, version: int | None) -> None:
        """Make sure that a change is made to what stands there now.

        Raises:
            ConflictError: Things stand elsewhere by now than in that version.
        """
        if version is not None and not self._changed_in <= version <= self.version:
            msg = "something has been moved elsewhere meanwhile; look, and do it again"
            raise ConflictError(msg)
