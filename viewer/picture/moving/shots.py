"""The pictures of a film: what each shows, how all are divided and written."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from viewer.output.outlet import write_whole
from viewer.picture.composition import compose_picture
from viewer.picture.drawing.graphics import require_graphics
from viewer.picture.moving.animation import FORMATS, encoded
from viewer.picture.still import check_size
from viewer.sheet.layout import spoken

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence
    from pathlib import Path

    from PIL import Image

    from viewer.sheet.layout import Layout
    from viewer.sheet.signage import PointText
    from viewer.stage import Dimension, Stage, View

    Progress = Callable[[int, int], None]

SIZE: Final = (960, 640)
"""Pixels, where nothing else is said."""
FEWEST: Final = 2
MOST: Final = 1000
TICK: Final = 70
"""Milliseconds a frame of a movement is shown."""


@dataclass(frozen=True, slots=True)
class Shot:
    """One picture of a film.

    Attributes:
        stage: What is drawn.
        view: From where.
        words: What is said below it.
        notes: Texts in the picture.
        shown: Milliseconds.
        of: The item it is about.
        title: In place of the scene's own; with it, the names of things are shown.
        sizes: Dimension lines; None leaves it to what the picture is about.
    """

    stage: Stage
    view: View
    words: str
    notes: tuple[PointText, ...] = ()
    shown: int = TICK
    of: str | None = None
    title: str = ""
    sizes: tuple[Dimension, ...] | None = None


def check_film(path: Path, size: tuple[int, int], frames: int) -> None:
    """Refuse a size, a number of pictures or an ending that cannot be.

    Raises:
        ValueError: There is one.
    """
    check_size(size)
    if path.suffix.lower() not in FORMATS:
        msg = f"a film ends in {', '.join(FORMATS)}, not {path.name!r}"
        raise ValueError(msg)
    if not FEWEST <= frames <= MOST:
        msg = f"{frames} frames: from {FEWEST} to {MOST}"
        raise ValueError(msg)


def plans_of(frames: Sequence[Shot], size: tuple[int, int]) -> list[Layout]:
    """Divide all pictures of a film alike, with room for all words and signs."""
    rooms = {id(frame.stage): frame.stage for frame in frames}
    words = (frame.words for frame in frames)
    first = frames[0]
    plan = divided(size, words, rooms.values(), title=first.title, of=first.of)
    return [
        replace(plan, words=frame.words, title=frame.title, of=frame.of)
        for frame in frames
    ]


def divided(
    size: tuple[int, int],
    words: Iterable[str],
    rooms: Iterable[Stage],
    *,
    title: str = "",
    of: str | None = None,
) -> Layout:
    """Divide a picture so that the longest words and the longest legend have room."""
    longest = max(words, key=len)
    plans = (spoken(size, longest, room, title=title, of=of) for room in rooms)
    return min(plans, key=lambda plan: plan.room.bottom)


def write_film(
    frames: Sequence[Shot],
    path: Path,
    size: tuple[int, int],
    progress: Progress | None,
) -> None:
    """Draw the pictures of a film, and write it whole or not at all.

    Raises:
        DrawingError: This machine cannot draw.
        OSError: The file cannot be written.
    """
    require_graphics()
    from viewer.picture.drawing.canvas import FILM, Studio  # noqa: PLC0415 - loads the graphics

    images: list[Image.Image] = []
    plans = plans_of(frames, size)
    with Studio(plans[0].room_size, FILM) as studio:
        for frame, plan in zip(frames, plans, strict=True):
            drawn = compose_picture(
                studio,
                frame.stage,
                plan,
                frame.view,
                names=bool(frame.title),
                notes=frame.notes,
                sizes=frame.sizes,
            )
            images.append(drawn)
            if progress is not None:
                progress(len(images), len(frames))
    shown = [frame.shown for frame in frames]
    write_whole(path, encoded(images, shown, FORMATS[path.suffix.lower()]))
