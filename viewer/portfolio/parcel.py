"""A room with all that it needs, to be judged on a machine that has none of it."""

from __future__ import annotations

import os
import pickle
import subprocess
import sys
from dataclasses import dataclass, replace
from hashlib import sha256
from typing import TYPE_CHECKING, Final

from viewer.portfolio.foundation import foundation
from viewer.portfolio.room import RoomTask, answered, checked
from viewer.portfolio.version import version
from viewer.wording.refusal import Refused

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from model3d import Mistake
    from viewer.portfolio.question import Question
    from viewer.portfolio.room import RoomOutcome
    from viewer.report.basis import Basis

TASK: Final = "task"
RESULT: Final = "result"
_ALONE: Final = "viewer.portfolio.alone"
"""What the process of a room that may not take for ever runs."""


@dataclass(frozen=True, slots=True)
class Parcel:
    """A room, as plain data that means the same on every system.

    Attributes:
        name: Of the scene's file, without a folder.
        data: What is in it.
        files: Names of the files that it uses, relative to it; they travel beside.
        basis: What the answer will stand on.
        question: What is asked of it.
        version: Of the program that must judge it.
        limit: Seconds that it may take; None where there is no limit.
    """

    name: str
    data: bytes
    files: tuple[str, ...]
    basis: Basis
    question: Question
    version: str
    limit: float | None


@dataclass(frozen=True, slots=True)
class Returned:
    """What comes back.

    Attributes:
        version: Of the program that got it; another than was asked for says no more.
        answer: Of a room that was judged.
        mistakes: Of one that cannot be used; their files are relative to the scene's.
        lost: Why there is neither.
    """

    version: str
    answer: RoomOutcome | None = None
    mistakes: tuple[Mistake, ...] = ()
    lost: str = ""


def contents_of(room: RoomTask, data: bytes, question: Question) -> dict[str, bytes]:
    """Return what is in the files that a room uses, by the names it calls them.

    Raises:
        OSError: One cannot be read.
    """
    from model3d.disk.files import content  # noqa: PLC0415 - the help needs no model
    from model3d.scene.checks.files import LARGEST_MESH  # noqa: PLC0415
    from model3d.scene.text.used import files_used  # noqa: PLC0415

    more = (question.rules,) if question.rules else ()
    folder = room.file.parent
    return {
        name: content(folder / name, LARGEST_MESH)
        for name in files_used(data, room.file, more)
    }


def parcel_of(
    room: RoomTask,
    data: bytes,
    files: Sequence[str],
    question: Question,
    limit: float | None,
) -> Parcel:
    """Return a room to be sent."""
    basis = foundation(room.file, data, question)
    name = room.file.name or "-"
    return Parcel(name, data, (*files,), basis, question, version(), limit)


def key_of(content: bytes) -> str:
    """Return a name for what is in a file: the same for the same."""
    return sha256(content).hexdigest()


def judge_parcel(parcel: Parcel, contents: Sequence[bytes]) -> Returned:
    """Judge a room from what has travelled; nothing of it stays on this machine.

    Args:
        parcel: The room.
        contents: What is in each of its files.
    """
    own = version()
    if own != parcel.version:
        return Returned(own)
    from model3d.disk.scratch import scratch  # noqa: PLC0415 - the help needs no model

    with scratch() as folder:
        home = folder / "room"
        home.mkdir()
        (home / parcel.name).write_bytes(parcel.data)
        for name, content in zip(parcel.files, contents, strict=True):
            target = home / name
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(content)
        if parcel.limit is None:
            return judged_in(home, parcel)
        return _limited(folder, replace(parcel, data=b""))


def judged_in(home: Path, parcel: Parcel) -> Returned:
    """Judge a room whose files lie in a folder."""
    file = home / parcel.name
    one = checked(RoomTask(file), parcel.question)
    if isinstance(one, Refused):
        mistakes = tuple(_as_seen_from(home, mistake) for mistake in one.mistakes)
        return Returned(parcel.version, mistakes=mistakes)
    return Returned(parcel.version, answered(one, parcel.basis, parcel.question))


def _as_seen_from(home: Path, mistake: Mistake) -> Mistake:
    before = f"{home}{os.sep}"
    return replace(
        mistake,
        file=mistake.file.removeprefix(before).replace(os.sep, "/"),
        message=mistake.message.replace(before, ""),
    )


def _limited(folder: Path, parcel: Parcel) -> Returned:
    """Judge a room in a process of its own, which can be ended."""
    (folder / TASK).write_bytes(pickle.dumps(parcel))
    try:
        done = subprocess.run(  # noqa: S603 - this Python, with a file of our own
            [sys.executable, "-m", _ALONE, folder],
            env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)},
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            timeout=parcel.limit,
            check=False,
        )
    except subprocess.TimeoutExpired:
        why = f"it took longer than {parcel.limit:g} seconds"
        return Returned(parcel.version, lost=why)
    if done.returncode:
        why = f"its process ended with status {done.returncode}"
        return Returned(parcel.version, lost=why)
    found = pickle.loads((folder / RESULT).read_bytes())  # noqa: S301 - written above
    if isinstance(found, Returned):
        return found
    return Returned(parcel.version, lost="its process gave no answer")
