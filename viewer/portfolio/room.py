"""One room of many: judged, or refused with all that is wrong with it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from viewer.portfolio.foundation import foundation
from viewer.portfolio.unusable import unusable, usable
from viewer.report.formats import formats
from viewer.wording.refusal import Refused

if TYPE_CHECKING:
    from pathlib import Path

    from model3d import Report, Scene
    from viewer.portfolio.question import Question
    from viewer.report.basis import Basis


@dataclass(frozen=True, slots=True)
class RoomTask:
    """A room to be judged.

    Attributes:
        file: The scene's file.
        data: What is in it, where that has been read.
        before: What an earlier answer stands on, which is kept if nothing changed.
    """

    file: Path
    data: bytes | None = None
    before: Basis | None = None


@dataclass(frozen=True, slots=True)
class RoomOutcome:
    """What comes of a room; plain data, which may come from another process.

    Attributes:
        part: What goes into the whole; None where the earlier answer is kept.
        lines: All mistakes of a scene that cannot be used, a line each.
        passed: Nothing is not met.
        kept: The earlier answer still stands.
    """

    part: object
    lines: tuple[str, ...] = ()
    passed: bool = True
    kept: bool = False


def answer(room: RoomTask, question: Question) -> RoomOutcome:
    """Judge a room, unless what its earlier answer stands on is the same."""
    if not question.hashed:
        basis = foundation(room.file, None, question)
        return answered(checked(room, question), basis, question)
    from model3d.scene.text.file_content import scene_bytes  # noqa: PLC0415 - see main

    data = room.data
    if data is None:
        try:
            data = scene_bytes(room.file)
        except (OSError, ValueError):
            data = None  # reading it says what is wrong
    basis = foundation(room.file, data, question)
    # Two programs that do not know their version may be different ones.
    if basis == room.before and basis.hash and basis.version:
        return RoomOutcome(None, kept=True)
    return answered(
        checked(RoomTask(room.file, data), question),
        basis,
        question,
    )


def lost(room: RoomTask, question: Question, why: str) -> RoomOutcome:
    """Return the answer of a room whose process is gone; it says why."""
    return answered(unusable(room.file, why), basis_without(room, question), question)


def basis_without(room: RoomTask, question: Question) -> Basis:
    """Return the basis of a room of which nobody knows what was read."""
    return foundation(room.file, None, question)


def answered(one: Report | Refused, basis: Basis, question: Question) -> RoomOutcome:
    """Return the answer of a room that was judged, or refused."""
    part = formats()[question.form].part(one, basis, question.manner)
    if isinstance(one, Refused):
        return RoomOutcome(part, one.lines)
    return RoomOutcome(part, passed=one.passed)


def checked(room: RoomTask, question: Question) -> Report | Refused:
    """Judge a room, or refuse it with all that is wrong with it."""
    asked = {"rules": question.rules, "measures": question.measures}
    said = {key: value for key, value in asked.items() if value is not None}

    def judge() -> Report:
        # The help of every command is there without the model.
        from model3d import check  # noqa: PLC0415

        return check(_scene(room).model_copy(update=said))

    return usable(room.file, judge)


def _scene(room: RoomTask) -> Scene:
    from model3d import read_scene  # noqa: PLC0415
    from model3d.scene.text.reader import read_data  # noqa: PLC0415

    if room.data is None:
        return read_scene(room.file)
    return read_data(room.data, room.file)
