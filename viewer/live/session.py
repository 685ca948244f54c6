"""A room that is worked on, and what is found out of it beside.

Many threads may ask at once; each change and each look at the state is whole.
"""

from __future__ import annotations

import time
from dataclasses import replace
from typing import TYPE_CHECKING, Final

from viewer.live.advice import Advice, advised
from viewer.live.rechecked import LiveCheck
from viewer.live.workroom import Workroom

if TYPE_CHECKING:
    from pathlib import Path

    from model3d import Scene

_REST: Final = 0.3
"""Seconds without a move until the room is checked as a whole: it takes longer."""
_BREATH: Final = 0.02
"""Seconds left to whoever asks, between two goes at what waits."""


class LiveRoom(Workroom):
    """A room that is worked on; ``work`` and ``advise`` must run beside."""

    def __init__(self, file: Path) -> None:
        """Read and check the file, see ``Workroom``."""
        super().__init__(file)
        self._closed = False

    def work(self) -> None:
        """Find out, beside, whatever was not known at once; return when it is closed.

        Where the whole room cannot be checked, because a file of it has gone, that is
        told.
        """
        while True:
            with self._changed:
                self._changed.wait_for(lambda: self._closed or not self._check.is_done)
                if self._closed:
                    return
                if self._check.has_more:
                    self._show(self._check.more())
                wait = self._moved_at + _REST - time.monotonic()
                if self._check.has_more or wait > 0:
                    self._changed.wait(_BREATH if self._check.has_more else wait)
                    continue
                scene = self.scene
            self._check_whole(scene)

    def _check_whole(self, scene: Scene) -> None:
        try:
            check = LiveCheck(scene)
            seen = check.seen()
        except (ValueError, OSError) as error:
            with self._changed:
                self._check.give_up()
                self._tell(f"The room could not be checked: {error}", mistake=True)
            return
        with self._changed:
            if self.scene is scene:
                self._check = check
                self._show(seen)

    def advise(self) -> None:
        """Find, beside, what may be done about what is not met; return when closed.

        It begins only where all is known, and gives up what it has begun as soon as
        something moves.
        """
        while True:
            with self._changed:
                self._changed.wait_for(lambda: self._closed or self._wants_advice)
                if self._closed:
                    return
                report, scene = self._check.report, self.scene
                self._advice = Advice(scene)
            try:
                for row, found in advised(report):
                    if not self._advised(scene, self._advice.of(row, found)):
                        break
            except (ValueError, OSError):  # a file of the scene has gone
                pass
            self._advised(scene, replace(self._advice, is_done=True))

    @property
    def _wants_advice(self) -> bool:
        is_other = self._advice.scene is not self.scene
        return self._check.is_done and (is_other or not self._advice.is_done)

    def _advised(self, scene: Scene, advice: Advice) -> bool:
        """Take over advice; tell whether it is still of the scene as it is."""
        with self._changed:
            if self._closed or self.scene is not scene:
                return False
            self._advice = advice
            self._note()
            return True

    def wait(self, version: int, notice: int, seconds: float) -> bool:
        """Wait until there is something that a page has not seen; tell whether so."""
        with self._changed:
            return self._changed.wait_for(
                lambda: (
                    self._closed
                    or (version, notice) != (self._shown.version, self._shown.notice)
                ),
                seconds,
            )

    def close(self) -> None:
        """Let everybody go who waits."""
        with self._changed:
            self._closed = True
            self._changed.notify_all()
