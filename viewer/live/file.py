"""The scene file of a room that is worked on: what it said when it was last read."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from model3d import LessonError, read_scene
from model3d.scene.text.file_content import scene_bytes
from viewer.live.saving.save import edited
from viewer.output.outlet import write_whole
from viewer.page.taught import taught

if TYPE_CHECKING:
    from pathlib import Path

    from model3d import Scene

_FIRST: Final = 1


@dataclass(frozen=True, slots=True)
class SceneFile:
    """A scene as it stands in its file.

    Attributes:
        file: The file.
        data: What is in it.
        scene: What was read from that.
        number: Of the times it was read or written, from 1.
        gear: What is in the files of gear that it names.
    """

    file: Path
    data: bytes
    scene: Scene
    number: int = _FIRST
    gear: bytes = b""

    @property
    def state(self) -> bytes:
        """What is in it and in its files of gear."""
        return self.data + self.gear

    @property
    def lesson(self) -> int:
        """Its number if it has a lesson, else 0."""
        return self.number if self.scene.lesson else 0


class ChangedError(Exception):
    """A file that somebody else has written meanwhile."""


def read(file: Path, number: int = _FIRST) -> SceneFile:
    """Read a scene and the bytes it was read from.

    Raises:
        SceneError: Something in it is wrong, or it cannot be read.
        OSError: It cannot be read.
    """
    while True:
        try:
            data = bytes_of(file)
        except OSError:
            read_scene(file)  # says it as of any scene
            raise
        scene = read_scene(file)
        gear = gear_of(scene)
        again = read_scene(file) if gear else scene
        if bytes_of(file) == data and gear_of(scene) == gear and again == scene:
            return SceneFile(file, data, scene, number, gear)


def save(written: SceneFile, scene: Scene) -> SceneFile:
    """Write moved items into the file; all else in it stays as it is.

    Raises:
        ChangedError: The file is not what was read.
        SaveError: The text cannot be changed without changing something else.
        OSError: It cannot be read or written.
    """
    msg = "the file has been changed elsewhere; it is read again first"
    if state_now(written) != written.state:
        raise ChangedError(msg)
    new = edited(written.data.decode(), written.scene, scene, written.file)
    data = new.encode()
    if not write_whole(written.file, data, written.data):
        raise ChangedError(msg)
    return SceneFile(written.file, data, scene, written.number + 1, written.gear)


def lesson(written: SceneFile) -> dict[str, Any]:
    """Return the lesson of a scene as its file has it, as a page takes it.

    Raises:
        LessonError: There is none, or it cannot be run.
        BookError: The scene's rule book cannot be used.
        MeshError: A mesh file of the scene cannot be used.
    """
    if not written.lesson:
        msg = "the scene has no lesson"
        raise LessonError(msg)
    told = taught(written.scene).told
    return {"lesson": written.number, "stage": told}


def state_now(written: SceneFile) -> bytes:
    """Return what is now in a scene's file and in the files of gear that it named.

    Raises:
        OSError: The scene's file cannot be read.
    """
    return bytes_of(written.file) + gear_of(written.scene)


def gear_of(scene: Scene) -> bytes:
    """Return what is in a scene's files of gear; nothing of one that has gone."""
    found = []
    for name in scene.types_from:
        with suppress(OSError):
            found.append(bytes_of(scene.folder / name))
    return b"\0".join(found)


def bytes_of(file: Path) -> bytes:
    """Return what is in a file, no more of it than a scene may have.

    Raises:
        OSError: It cannot be read, or is no plain file.
    """
    return scene_bytes(file)
