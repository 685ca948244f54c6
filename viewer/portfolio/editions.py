"""One room of many, judged by one rule book and by another."""

from __future__ import annotations

from typing import TYPE_CHECKING

from viewer.portfolio.unusable import usable
from viewer.report.editions import RoomChanges

if TYPE_CHECKING:
    from pathlib import Path

    from viewer.wording.refusal import Refused


def room_changes(file: Path, books: tuple[str, str]) -> RoomChanges | Refused:
    """Return what comes out otherwise in a room by the second rule book."""

    def judge() -> RoomChanges:
        # The help of every command is there without the model.
        from model3d import check, read_scene  # noqa: PLC0415
        from model3d.comparison import compare  # noqa: PLC0415

        scene = read_scene(file)
        old, new = (check(scene.model_copy(update={"rules": book})) for book in books)
        return RoomChanges(file, scene.title, compare(old, new))

    return usable(file, judge)
