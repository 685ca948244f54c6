"""A room that is worked on: items move and are judged again, nothing is lost.

Many threads may ask at once; each change and each look at the state is whole.
"""

from __future__ import annotations

import threading
import time
from typing import TYPE_CHECKING, Any

from model3d import LessonError
from model3d.standing.moves import moved
from viewer.live.advice import Advice, is_move, remedied
from viewer.live.change import (
    ConflictError,
    MoveError,
    explained,
    movable,
    with_item,
)
from viewer.live.file import ChangedError, lesson, read, save, state_now
from viewer.live.history import History
from viewer.live.moment import Moment
from viewer.live.rechecked import LiveCheck
from viewer.live.saving.save import SaveError
from viewer.live.versions import Shown
from viewer.page.places import STEP
from viewer.wording.refusal import refused

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from model3d import Scene
    from viewer.live.rechecked import Known
    from viewer.stage import Stage


class Workroom:
    """One scene file and what has been moved in it since it was read.

    What a move bears on is known at once; the rest is found beside.
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
        self._history = History()
        self._shown = Shown(self._check.seen())
        self._lesson: tuple[int, dict[str, Any]] | None = None
        self._refused: bytes | None = None
        self._advice = Advice(self.scene)

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
            if self._history.begins(gesture):
                self._shown.require(seen)
            before = self.scene
            found = movable(before, item)
            distance = place if by else self._check.distance(item, place)
            if not any(distance):
                return
            with explained():
                there = moved(before, found, distance)
                self._go_to(with_item(before, found, there))
            self._history.add(before, gesture)

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
            self._history.add(before, trial=remedy.text)
            self._begin(check)
            self._tell("")

    def keep(self) -> None:
        """Leave a remedy that was tried as it is."""
        with self._changed:
            self._history.trial = ""
            self._note()

    def undo(self, *, seen: int | None = None) -> None:
        """Go back to before the last move.

        Raises:
            ConflictError: Things stand elsewhere by now than was seen.
        """
        with self._changed:
            self._shown.require(seen)
            if self._history:
                with explained():
                    self._go_to(self._history.back())

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
                if self._shown.mistake:
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
        self._history = History()
        self._begin(check)
        more = "; what was moved here and not saved is gone" if lost else ""
        self._tell(f"The file was changed elsewhere and has been read again{more}.")

    def reply(self, since: int | None) -> dict[str, Any]:
        """Return what a page needs that shows version ``since``, or none."""
        with self._changed:
            return {**self._shown.since(since or 0), "live": self.state()}

    def moment(self) -> Moment:
        """Return the room as it stands, to work out of that what takes a while."""
        with self._changed:
            check = self._check
            report = check.report if check.is_done else None
            return Moment(self._shown.version, self.scene, check.places, report)

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
                "undo": len(self._history),
                "unsaved": self._unsaved,
                "message": self._shown.message,
                "mistake": self._shown.mistake,
                "notice": self._shown.notice,
                "trial": self._history.trial,
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
            self._shown.mark_change()
        else:
            # What else about an item is another one now is not followed.
            self._begin(LiveCheck(scene))
        self._tell("")

    def _begin(self, check: LiveCheck) -> None:
        """Go on with another scene."""
        self._check = check
        self._show(check.seen())
        self._shown.mark_change()

    def _show(self, seen: Known) -> None:
        self._shown.add(seen)
        self._changed.notify_all()

    def _tell(self, message: str, *, mistake: bool = False) -> None:
        self._shown.tell(message, mistake=mistake)
        self._changed.notify_all()

    def _note(self) -> None:
        """Let everybody look again who waits, though what is shown is the same."""
        self._shown.notice += 1
        self._changed.notify_all()
