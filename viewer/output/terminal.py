"""Terminals: what can be shown on one, and how wide it is."""

from __future__ import annotations

import io
import shutil
from typing import TYPE_CHECKING, Final, TextIO

from rich.console import Console
from rich.text import Text

if TYPE_CHECKING:
    from collections.abc import Iterable

    from rich.console import RenderableType

PLAIN_WIDTH: Final = 100
"""Columns of a text that is no terminal's."""
NARROWEST: Final = 40
"""Columns below which nothing can be laid out; a terminal wraps the lines itself."""


def rendered(parts: Iterable[RenderableType], *, width: int, colour: bool) -> str:
    """Lay out parts one below the other; none that may wrap is too wide."""
    console = Console(
        file=io.StringIO(),
        width=max(width, NARROWEST),
        color_system="standard" if colour else None,
        force_terminal=colour,
        no_color=not colour,
        legacy_windows=False,
        highlight=False,
        markup=False,
        emoji=False,
    )
    with console.capture() as capture:
        for part in parts:
            # Printing forgets that a text says so itself.
            whole = isinstance(part, Text) and bool(part.no_wrap)
            console.print(part, no_wrap=whole, crop=not whole, soft_wrap=whole)
    lines = capture.get().removesuffix("\n").split("\n")
    return "".join(f"{line.rstrip()}\n" for line in lines)


def wants_colour(stream: TextIO | None) -> bool:
    """Tell whether a stream is a terminal that shows colour, and nobody objects."""
    if stream is None or not stream.isatty():
        return False
    console = Console(file=stream)
    return not (
        console.color_system is None or console.no_color or console.legacy_windows
    )


def width_of(stream: TextIO | None) -> int:
    """Return how many columns a text for a stream, or for a file, may have."""
    if stream is None or not stream.isatty():
        return PLAIN_WIDTH
    return shutil.get_terminal_size((PLAIN_WIDTH, 24)).columns
