"""What differs between two reports, as text."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.padding import Padding
from rich.text import Text

from viewer.output.terminal import PLAIN_WIDTH, rendered
from viewer.report.text.findings import COLOURS
from viewer.report.text.table import LONGEST_LINE, LONGEST_REASON
from viewer.wording.cleaning import clean
from viewer.wording.words import CAUTION, WORDS, part_words, requirement_words

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from rich.console import RenderableType

    from model3d.comparison import ChangedJudgement
    from model3d.judging.results import Verdict

Compared = tuple[str, tuple[str, str], tuple["ChangedJudgement", ...]]
"""Title, what the two are called, and what differs."""


def comparisons_text(
    compared: Sequence[Compared], *, width: int = PLAIN_WIDTH, colour: bool = False
) -> str:
    """Return comparisons as text for people.

    Args:
        compared: One or several.
        width: Columns that no line exceeds.
        colour: Add colours, by escape sequences.
    """
    parts: list[RenderableType] = []
    for one in compared:
        parts += [*_one(one, width), ""]
    parts += [Text(line) for line in CAUTION]
    return rendered(parts, width=width, colour=colour)


def _one(compared: Compared, width: int) -> Iterator[RenderableType]:
    title, (old, new), changes = compared
    yield Text(clean(title), style="bold")
    yield Text(f"{clean(old)}, then {clean(new)}: {changes_words(len(changes))}")
    right = max(0, width - LONGEST_LINE)
    for change in changes:
        yield ""
        yield Text.assemble(
            (clean(change.subject), "bold"),
            f" {asked(change)}: ",
            _verdict(change.old),
            ", then ",
            _verdict(change.new),
        )
        why = clean(f"{change.citation}: {change.why}", LONGEST_REASON)
        yield Padding(Text(why), (0, right, 0, 2))


def changes_words(count: int) -> str:
    """Say how much differs.

    >>> changes_words(0), changes_words(1), changes_words(3)
    ('nothing changed', '1 judgement changed', '3 judgements changed')
    """
    if not count:
        return "nothing changed"
    return f"{count} judgement{'' if count == 1 else 's'} changed"


def asked(change: ChangedJudgement) -> str:
    """Return what is asked, with the leaf, tier or side that is meant."""
    part = part_words(change.leaf, change.tier, change.side)
    words = requirement_words(change.requirement)
    return f"{words}, {part}" if part else words


def verdict_words(verdict: Verdict | None) -> str:
    """Return a verdict in words; where there is none, that it is not asked."""
    return "not asked" if verdict is None else WORDS[verdict]


def _verdict(verdict: Verdict | None) -> tuple[str, str]:
    style = "dim" if verdict is None else COLOURS[verdict]
    return verdict_words(verdict), style
