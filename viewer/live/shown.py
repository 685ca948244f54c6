"""What has been shown of a room, version by version."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from viewer.live.change import ConflictError

if TYPE_CHECKING:
    from viewer.live.rechecked import Known

_KEPT: Final = 60
"""Stages that a page may have fallen behind; one that is older gets all again."""


class Shown:
    """The versions of a room; whoever uses it sees to it that one does at a time.

    Attributes:
        version: Number of what is shown now, from 1.
        now: What is shown now.
    """

    def __init__(self, first: Known) -> None:
        """Begin with what is known at first."""
        self.version = 1
        self.now = first
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

    def at(self, version: int) -> Known | None:
        """Return what was shown in a version, None if that is not kept any more."""
        return self._kept.get(version)

    def require(self, version: int | None) -> None:
        """Make sure that a change is made to what stands there now.

        Raises:
            ConflictError: Things stand elsewhere by now than in that version.
        """
        known = version is None or self._changed_in <= version <= self.version
        # Nobody has seen anything below 1: whoever says so asks for all.
        if not known and version is not None and version > 0:
            msg = "something has been moved elsewhere meanwhile; look, and do it again"
            raise ConflictError(msg)
