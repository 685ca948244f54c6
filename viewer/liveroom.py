"""A room that is worked on: items move, everything is checked again, nothing is lost.

Many threads may ask at once; each change and each look at the state is whole.
"""

from __future__ import annotations

import threading
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from pydantic import ValidationError

from model3d import check, read_scene
from model3d.scene.changing import ChangeError, apply_change
from model3d.scene.lesson import MoveItem
from model3d.scene.meshes import MeshError
from model3d.scene.reading import LARGEST
from model3d.units import from_metres, to_metres
from viewer.output import write_whole
from viewer.pagedata import lean, lean_change
from viewer.refusal import refused
from viewer.savefile import SaveError, edited
from viewer.stage import build_stage, difference, document

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

    from model3d import Report, Scene
    from viewer.stage import Stage

Place = tuple[float, float, float]
"""East and north of the middle of an item, and the height of its underside."""

_KEPT: Final = 60
"""Stages that a page may have fallen behind; one that is older gets all again."""
_MOST_UNDO: Final = 500
_STEP: Final = {"mm": 10.0, "m": 0.01, "in": 0.5, "ft": 0.05}
"""What a dragged item snaps to, in the scene's units."""
_DIGITS: Final = {"mm": 1, "m": 4, "in": 3, "ft": 4}
"""Decimals of a place that is shown."""


class MoveError(ValueError):
    """A move that leads to no scene; the message is for people."""


@dataclass(frozen=True, slots=True)
class _Written:
    """A scene as it stands in its file."""

    data: bytes
    scene: Scene


class LiveRoom:
    """One scene file and what has been moved in it since it was read."""

    def __init__(self, file: Path) -> None:
        """Read and check the file.

        Raises:
            SceneError: The file cannot be read, or something in it is wrong.
            BookError: Its rule book cannot be used.
            MeshError: A mesh file of it cannot be used.
        """
        self.file = file
        self._changed = threading.Condition(threading.RLock())
        self._written = _read(file)
        self._scene = self._written.scene
        self._report = check(self._scene)
        self._undo: list[Scene] = []
        self._gesture: object = None
        self._version = 1
        self._stages = {1: build_stage(self._scene, self._report)}
        self._message = ""
        self._mistake = False
        self._notice = 0
        self._refused: bytes | None = None
        self._closed = False

    def move(
        self, item: str, place: Sequence[float], *, by: bool, gesture: object = None
    ) -> None:
        """Move an item to a place, or by a distance, and check the room again.

        Args:
            item: Its id.
            place: East, north and up, in the scene's units; see ``Place``.
            by: It is a distance from where the item stands.
            gesture: Moves one after the other with the same one are undone as one.

        Raises:
            MoveError: There is no such item, or what comes of it is no scene.
        """
        with self._changed:
            if item not in {one.id for one in self._scene.items}:
                msg = f"there is no item {item} to be moved"
                raise MoveError(msg)
            distance = tuple(place) if by else self._distance(item, place)
            if not any(distance):
                return
            before = self._scene
            with _explained():
                change = MoveItem(move=item, by=_three(distance))
                scene = apply_change(before, change)
                self._show(scene, check(scene))
            if gesture is None or gesture != self._gesture:
                self._undo = [*self._undo[-_MOST_UNDO:], before]
            self._gesture = gesture

    def undo(self) -> None:
        """Go back to before the last move."""
        with self._changed:
            if not self._undo:
                return
            *self._undo, scene = self._undo
            self._gesture = None
            self._show(scene, check(scene))

    def save(self) -> None:
        """Write the moved items into the file; all else in it stays as it is.

        Raises:
            MoveError: The file has been changed elsewhere, or cannot be written.
        """
        with self._changed:
            try:
                if _bytes_of(self.file) != self._written.data:
                    msg = "the file has been changed elsewhere; it is read again first"
                    raise MoveError(msg)
                text = self._written.data.decode()
                new = edited(text, self._written.scene, self._scene, self.file)
                write_whole(self.file, new.encode())
            except SaveError as error:
                raise MoveError(str(error)) from error
            except OSError as error:
                raise MoveError(refused(error)) from error
            self._written = _Written(new.encode(), self._scene)
            self._tell("")

    def follow(self) -> None:
        """Read the file again where it has been changed elsewhere.

        Mistakes in it are told, and the last good room is kept.
        """
        with self._changed:
            try:
                data = _bytes_of(self.file)
            except OSError as error:
                self._tell(refused(error), mistake=True)
                return
            if data == self._written.data:
                if self._mistake:
                    self._refused = None
                    self._tell("")
            elif data != self._refused:
                self._take(data)

    def _take(self, data: bytes) -> None:
        try:
            written = _read(self.file)
            report = check(written.scene)
        except ValueError as error:  # mistakes in the scene, its rule book or a mesh
            self._refused = data
            self._tell(str(error), mistake=True)
            return
        except OSError as error:
            self._tell(refused(error), mistake=True)
            return
        lost = self._unsaved
        self._written, self._refused = written, None
        self._undo, self._gesture = [], None
        self._show(written.scene, report)
        more = "; what was moved here and not saved is gone" if lost else ""
        self._tell(f"The file was changed elsewhere and has been read again{more}.")

    def wait(self, version: int, notice: int, seconds: float) -> bool:
        """Wait until there is something that a page has not seen; tell whether so."""
        with self._changed:
            return self._changed.wait_for(
                lambda: (
                    self._closed or (version, notice) != (self._version, self._notice)
                ),
                seconds,
            )

    def close(self) -> None:
        """Let everybody go who waits."""
        with self._changed:
            self._closed = True
            self._changed.notify_all()

    def reply(self, since: int) -> dict[str, Any]:
        """Return what a page needs that shows version ``since``."""
        with self._changed:
            found: dict[str, Any] = {"version": self._version, "since": since}
            before = self._stages.get(since)
            if before is None:
                found["stage"] = lean(document(self.stage))
            else:
                found["change"] = lean_change(difference(before, self.stage))
            return {**found, "live": self.state()}

    @property
    def scene(self) -> Scene:
        """The scene as it is now, with what was moved."""
        return self._scene

    @property
    def stage(self) -> Stage:
        """What is shown now."""
        return self._stages[self._version]

    def state(self) -> dict[str, Any]:
        """Return where things stand and what can be done, as plain data."""
        with self._changed:
            unit = self._scene.units
            return {
                "version": self._version,
                "unit": unit,
                "step": _STEP[unit],
                "places": {one.id: self._place(one.id) for one in self._scene.items},
                "undo": len(self._undo),
                "unsaved": self._unsaved,
                "message": self._message,
                "mistake": self._mistake,
                "notice": self._notice,
            }

    @property
    def _unsaved(self) -> bool:
        return self._scene.items != self._written.scene.items

    def _show(self, scene: Scene, report: Report) -> None:
        stage = build_stage(scene, report)
        self._scene, self._report = scene, report
        self._version += 1
        self._stages[self._version] = stage
        self._stages.pop(self._version - _KEPT, None)
        self._tell("")

    def _tell(self, message: str, *, mistake: bool = False) -> None:
        if (message, mistake) != (self._message, self._mistake):
            self._message, self._mistake = message, mistake
            self._notice += 1
        self._changed.notify_all()

    def _place(self, item: str) -> Place:
        """Return where an item stands, rounded as it is shown."""
        unit = self._scene.units
        east, north, up = (
            round(from_metres(value, unit), _DIGITS[unit]) for value in self._at(item)
        )
        return east, north, up

    def _at(self, item: str) -> Place:
        arrangement = self._report.arrangement
        assert arrangement is not None  # noqa: S101 - a check always gives one
        low, high = arrangement.items[item].solid.bounds
        return (low[0] + high[0]) / 2, (low[1] + high[1]) / 2, low[2]

    def _distance(self, item: str, place: Sequence[float]) -> tuple[float, ...]:
        """Return how far a place is; none where it is the one that is shown."""
        unit = self._scene.units
        rows = zip(place, self._place(item), self._at(item), strict=True)
        return tuple(
            0.0 if to == shown else from_metres(to_metres(to, unit) - here, unit)
            for to, shown, here in rows
        )


@contextmanager
def _explained() -> Iterator[None]:
    try:
        yield
    except ValidationError as error:
        lines = (
            str(one["msg"]).removeprefix("Value error, ") for one in error.errors()
        )
        raise MoveError("\n".join(lines)) from error
    except (ChangeError, MeshError) as error:
        raise MoveError(str(error)) from error


def _three(values: Sequence[float]) -> Place:
    east, north, up = values
    return east, north, up


def _read(file: Path) -> _Written:
    """Read a scene and the bytes it was read from."""
    while True:
        data = _bytes_of(file)
        scene = read_scene(file)
        if _bytes_of(file) == data:
            return _Written(data, scene)


def _bytes_of(file: Path) -> bytes:
    with file.open("rb") as stream:
        return stream.read(LARGEST + 1)
