"""A room that is worked on: items move, everything is checked again, nothing is lost.

Many threads may ask at once; each change and each look at the state is whole.
"""

from __future__ import annotations

import threading
import time
from dataclasses import replace
from typing import TYPE_CHECKING, Any, Final

from model3d import LessonError
from model3d.mending.provisional.record import bodies_of
from model3d.standing.moves import moved
from viewer.live.advice import Advice, advised, is_move, remedied
from viewer.live.change import (
    ConflictError,
    MoveError,
    explained,
    movable,
    with_item,
)
from viewer.live.file import ChangedError, lesson, read, save, state_now
from viewer.live.maps import map_of
from viewer.live.rechecked import LiveCheck
from viewer.live.saving.save import SaveError
from viewer.live.shown import Shown
from viewer.page.data import lean, lean_difference
from viewer.page.places import STEP
from viewer.stage import document
from viewer.wording.refusal import refused

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from model3d import Scene
    from viewer.live.rechecked import Known
    from viewer.stage import Stage

_MOST_UNDO: Final = 500
_REST: Final = 0.3
"""Seconds without a move until the room is checked as a whole: it takes longer."""
_BREATH: Final = 0.02
"""Seconds left to whoever asks, between two goes at what waits."""


class LiveRoom:
    """One scene file and what has been moved in it since it was read.

    What a move bears on is known at once; ``work`` must run beside to find the rest.
    """

    def __init__(self, file: Path) -> None:
        """Read and check the file.

        Raises:
            SceneError: The file cannot be read, or something in it is wrong.
            BookError: Its rule book cannot be used.
            MeshError: A mesh file of it cannot be used.
        """
        self.file = file
        self._changed = threading.Condition(threading.RLock())
        self._written = read(file)
        self._check = LiveCheck(self._written.scene)
        self._moved_at = 0.0
        self._undo: list[Scene] = []
        self._gesture: object = None
        self._shown = Shown(self._check.seen())
        self._lesson: tuple[int, dict[str, Any]] | None = None
        self._message = ""
        self._mistake = False
        self._notice = 0
        self._refused: bytes | None = None
        self._closed = False
        self._advice = Advice(self.scene)
        self._trial = ""

    def move(
        self,
        item: str,
        place: Sequence[float],
        *,
        by: bool,
        gesture: object = None,
        seen: int | None = None,
    ) -> None:
        """Move an item to a place, or by a distance, and check the room again.

        Args:
            item: Its id.
            place: East, north and up, in the scene's units; see ``Place``.
            by: It is a distance from where the item stands.
            gesture: Moves one after the other with the same one are undone as one.
            seen: The version that is shown where the move was made.

        Raises:
            ConflictError: Things stand elsewhere by now than was seen.
            MoveError: There is no such item, or what comes of it is no scene.
        """
        with self._changed:
            if gesture is None or gesture != self._gesture:
                self._shown.require(seen)
            before = self.scene
            found = movable(before, item)
            distance = place if by else self._check.distance(item, place)
            if not any(distance):
                return
            with explained():
                there = moved(before, found, distance)
                self._go_to(with_item(before, found, there))
            if gesture is None or gesture != self._gesture:
                self._undo = [*self._undo[-_MOST_UNDO:], before]
            self._gesture = gesture
            self._trial = ""

    def attempt(self, row: int, number: int, version: int) -> None:
        """Put a remedy into effect; undo takes it back, ``keep`` leaves it.

        Args:
            row: Of the judgement.
            number: Of the remedy there, from 0.
            version: Of the room that the remedy was shown for.

        Raises:
            MoveError: The room has changed meanwhile, or there is no such remedy.
        """
        with self._changed:
            before = self.scene
            remedy = self._advice.remedy(row, number)
            if version != self._shown.version or self._advice.scene is not before:
                remedy = None
        after = None if remedy is None else remedied(before, remedy)
        if remedy is None or after is None:
            msg = "the room has changed meanwhile: look again at what may be done"
            raise MoveError(msg)
        with explained():
            check = LiveCheck(after)  # not under the lock: it takes a while
        with self._changed:
            if self.scene is not before:
                msg = "the room has changed meanwhile"
                raise MoveError(msg)
            self._undo = [*self._undo[-_MOST_UNDO:], before]
            self._gesture = None
            self._trial = remedy.text
            self._check = check
            self._show(check.seen())
            self._shown.mark_change()
            self._tell("")

    def keep(self) -> None:
        """Leave a remedy that was tried as it is."""
        with self._changed:
            self._trial = ""
            self._notice += 1
            self._changed.notify_all()

    def undo(self, *, seen: int | None = None) -> None:
        """Go back to before the last move.

        Raises:
            ConflictError: Things stand elsewhere by now than was seen.
        """
        with self._changed:
            self._shown.require(seen)
            if not self._undo:
                return
            *self._undo, scene = self._undo
            self._gesture = None
            self._trial = ""
            with explained():
                self._go_to(scene)

    def save(self) -> None:
        """Write the moved items into the file; all else in it stays as it is.

        Raises:
            ConflictError: The file has been changed elsewhere.
            MoveError: It cannot be written.
        """
        with self._changed:
            try:
                self._written = save(self._written, self.scene)
            except ChangedError as error:
                raise ConflictError(str(error)) from error
            except SaveError as error:
                raise MoveError(str(error)) from error
            except OSError as error:
                raise MoveError(refused(error)) from error
            self._tell("")

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
            self._notice += 1
            self._changed.notify_all()
            return True

    def map_of(self, item: str) -> dict[str, Any]:
        """Return where an item may stand, as plain data in metres.

        Raises:
            MoveError: A file that the room needs cannot be used.
        """
        with self._changed:
            scene, version = self.scene, self._shown.version
            report = self._check.report if self._check.is_done else None
        # Not under the lock: it takes a while.
        try:
            return {"version": version, **map_of(scene, item, report)}
        except (ValueError, OSError) as error:
            raise MoveError(str(error)) from error

    def bodies(self) -> dict[str, Any]:
        """Return the bodies of the room and where its items are, as plain data.

        Raises:
            MoveError: A file that the room needs cannot be used.
        """
        with self._changed:
            scene, places, version = self.scene, self._check.places, self._shown.version
        try:
            return {"version": version, "places": places, "record": bodies_of(scene)}
        except (ValueError, OSError) as error:
            raise MoveError(str(error)) from error

    def follow(self) -> None:
        """Read the file again where it has been changed elsewhere.

        Mistakes in it are told, and the last good room is kept.
        """
        with self._changed:
            try:
                data = state_now(self._written)
            except OSError as error:
                self._tell(refused(error), mistake=True)
                return
            if data == self._written.state:
                if self._mistake:
                    self._refused = None
                    self._tell("")
            elif data != self._refused:
                self._take(data)

    def _take(self, data: bytes) -> None:
        try:
            written = read(self.file, self._written.number + 1)
            check = LiveCheck(written.scene)
        except ValueError as error:  # mistakes in the scene, its rule book or a mesh
            self._refused = data
            self._tell(str(error), mistake=True)
            return
        except OSError as error:
            self._tell(refused(error), mistake=True)
            return
        lost = self._unsaved
        self._written, self._refused = written, None
        self._undo, self._gesture, self._trial = [], None, ""
        self._check = check
        self._show(check.seen())
        self._shown.mark_change()
        more = "; what was moved here and not saved is gone" if lost else ""
        self._tell(f"The file was changed elsewhere and has been read again{more}.")

    def wait(self, version: int, notice: int, seconds: float) -> bool:
        """Wait until there is something that a page has not seen; tell whether so."""
        with self._changed:
            return self._changed.wait_for(
                lambda: (
                    self._closed
                    or (version, notice) != (self._shown.version, self._notice)
                ),
                seconds,
            )

    def close(self) -> None:
        """Let everybody go who waits."""
        with self._changed:
            self._closed = True
            self._changed.notify_all()

    def reply(self, since: int | None) -> dict[str, Any]:
        """Return what a page needs that shows version ``since``, or none."""
        since = since or 0
        with self._changed:
            found: dict[str, Any] = {"version": self._shown.version, "since": since}
            before = self._shown.at(since)
            if before is None:
                found["stage"] = lean(document(self.stage))
            else:
                found["change"] = lean_difference(before.stage, self.stage)
            return {**found, "live": self.state()}

    def lesson(self) -> dict[str, Any]:
        """Return the lesson of the room as it is written in the file, as plain data.

        Raises:
            MoveError: There is none, or it cannot be played.
        """
        with self._changed:
            written, known = self._written, self._lesson
        if known is None or known[0] != written.number:
            try:
                # Not under the lock: to check all steps takes a while.
                known = written.number, lesson(written)
            except LessonError as error:
                msg = f"The lesson cannot be played: {error}"
                raise MoveError(msg) from error
            with self._changed:
                self._lesson = known
        return known[1]

    @property
    def scene(self) -> Scene:
        """The scene as it is now, with what was moved."""
        return self._check.scene

    @property
    def stage(self) -> Stage:
        """What is shown now."""
        return self._shown.now.stage

    def state(self) -> dict[str, Any]:
        """Return where things stand and what can be done, as plain data."""
        with self._changed:
            unit = self.scene.units
            return {
                "version": self._shown.version,
                "waiting": self._shown.now.waiting,
                "checking": not self._check.is_done,
                "lesson": self._written.lesson,
                "unit": unit,
                "step": STEP[unit],
                "places": self._check.places,
                "undo": len(self._undo),
                "unsaved": self._unsaved,
                "message": self._message,
                "mistake": self._mistake,
                "notice": self._notice,
                "trial": self._trial,
                "advice": self._advice.document()
                if self._advice.scene is self.scene
                else {"done": False, "rows": {}},
            }

    @property
    def _unsaved(self) -> bool:
        return self.scene.items != self._written.scene.items

    def _go_to(self, scene: Scene) -> None:
        self._moved_at = time.monotonic()
        if is_move(self.scene, scene):
            self._show(self._check.move(scene))
        else:
            # What else about an item is another one now is not followed.
            self._check = LiveCheck(scene)
            self._show(self._check.seen())
        self._shown.mark_change()
        self._tell("")

    def _show(self, seen: Known) -> None:
        self._shown.add(seen)
        self._changed.notify_all()

    def _tell(self, message: str, *, mistake: bool = False) -> None:
        if (message, mistake) != (self._message, self._mistake):
            self._message, self._mistake = message, mistake
            self._notice += 1
        self._changed.notify_all()
