"""List the kinds of items, what follows from each, and other words for it."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Final

from viewer.output.outlet import emit
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace

    from model3d.scene.kinds import Kind

RANK: Final = 16
MORE: Final = """\
examples:
  standclear kinds              every kind
  standclear kinds panelboard   one of them
  standclear kinds gutter       the kind that a word of the trade means
"""


def take(parser: ArgumentParser) -> None:
    """Take a kind or another word for one, or nothing."""
    parser.add_argument(
        "word",
        metavar="WORD",
        nargs="?",
        help="a kind, or another word for one; without it all are listed",
    )


def run(arguments: Namespace) -> int:
    """Print kinds and return the exit status.

    Raises:
        UnusableError: No kind is called so.
    """
    from viewer.output.terminal import wants_colour, width_of
    from viewer.report.text.kinds import kinds_text

    text = kinds_text(
        _meant(arguments.word),
        width=width_of(sys.stdout),
        colour=wants_colour(sys.stdout),
    )
    emit(text)
    return 0


def _meant(word: str | None) -> list[Kind]:
    from model3d.scene.kinds import KINDS
    from model3d.scene.words.nearest import hint
    from model3d.scene.words.trade import kinds_called

    if word is None:
        return [*KINDS.values()]
    found = [word] if word in KINDS else kinds_called(word)
    if not found:
        near = hint(word, KINDS)
        msg = f"WORD: found {word}, right is a kind or another word for one{near}"
        raise UnusableError([msg])
    return [KINDS[name] for name in found]
