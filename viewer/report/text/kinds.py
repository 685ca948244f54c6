"""The kinds of items as text: what each is, what follows, and other words for it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.padding import Padding
from rich.text import Text

from model3d.scene.handbook.consequences import consequences
from model3d.scene.words.trade import other_words
from viewer.output.terminal import PLAIN_WIDTH, rendered
from viewer.report.text.table import LONGEST_LINE

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from rich.console import RenderableType

    from model3d.scene.kinds import Kind

_ABOUT = (
    "What follows from a kind holds unless the item says otherwise; what the code asks "
    "of each is told by standclear rules."
)
_INDENT = 2


def kinds_text(
    kinds: Iterable[Kind], *, width: int = PLAIN_WIDTH, colour: bool = False
) -> str:
    """Return kinds as text, in the order given.

    Args:
        kinds: The rows.
        width: Columns that no line exceeds.
        colour: Add colours, by escape sequences.
    """
    parts: list[RenderableType] = [Text(_ABOUT)]
    for kind in kinds:
        parts += _kind(kind)
    return rendered(parts, width=min(width, LONGEST_LINE), colour=colour)


def _kind(kind: Kind) -> Iterator[RenderableType]:
    yield ""
    yield Text.assemble((kind.name, "bold"), f": {kind.about}")
    follows = "; ".join(consequences(kind))
    yield _indented(f"{follows[:1].upper()}{follows[1:]}.")
    if words := other_words(kind.name):
        yield _indented(f"Other words: {', '.join(words)}.")


def _indented(words: str) -> RenderableType:
    return Padding(Text(words), (0, 0, 0, _INDENT))
