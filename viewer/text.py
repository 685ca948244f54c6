"""Reports as text, read in ten seconds: what is not met, what is open, what is met."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, Final

from rich.table import Table
from rich.text import Text

from viewer.cleaning import clean
from viewer.lengths import both, units_of
from viewer.rows import (
    LONGEST_LINE,
    LONGEST_NAME,
    LONGEST_REASON,
    not_met_rows,
    repeated,
    row_tables,
    which,
)
from viewer.terminal import PLAIN_WIDTH, rendered
from viewer.words import CAUTION, WORDS

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from rich.console import RenderableType

    from model3d import Judgement, Report, Verdict

COLOURS: Final[dict[Verdict, str]] = {
    "not-met": "bold red",
    "open": "bold yellow",
    "met": "bold green",
}
_LONGEST_TITLE: Final = 200
_MOST_NAMES: Final = 60
"""So many subjects that meet a requirement are named; the JSON names them all."""


def reports_text(
    reports: Sequence[Report], *, width: int = PLAIN_WIDTH, colour: bool = False
) -> str:
    """Return reports as text for people.

    Args:
        reports: One or several.
        width: Columns that no line exceeds.
        colour: Add colours, by escape sequences; they say nothing that words do not.
    """
    parts: list[RenderableType] = []
    for report in reports:
        parts += _report(report, width)
    if len(reports) > 1:
        parts += [_total(reports), ""]
    parts += [Text(line) for line in CAUTION]
    return rendered(parts, width=width, colour=colour)


def _report(report: Report, width: int) -> Iterator[RenderableType]:
    yield from _head(report)
    yield ""
    for section in (
        [*_not_met(report, width)],
        [*_open(report)],
        [*_met(report)],
        [*_assumed(report)],
    ):
        if section:
            yield from section
            yield ""


def _head(report: Report) -> Iterator[RenderableType]:
    yield Text(clean(report.scene, _LONGEST_TITLE), style="bold")
    scene = report.arrangement.scene if report.arrangement else None
    file = str(scene.file) if scene and scene.file else report.file
    where = ", ".join(clean(words) for words in (file, report.rules) if words)
    yield Text.assemble(where, ": ", _counts(Counter(report.counts)))


def _counts(counts: Counter[Verdict]) -> Text:
    """Return the counts in words, the worst first; only what there is."""
    if not counts.total():
        return Text("nothing was judged, no item needs a clear space")
    words = [
        (f"{counts[verdict]} {word}", COLOURS[verdict])
        for verdict, word in WORDS.items()
        if counts[verdict]
    ]
    return Text(", ").join(Text(*word) for word in words)


def _total(reports: Sequence[Report]) -> RenderableType:
    counts: Counter[Verdict] = Counter()
    for report in reports:
        counts.update(report.counts)
    failed = sum(not report.passed for report in reports)
    bad = f"{failed} of them with something not met" if failed else "nothing not met"
    return Text.assemble(f"{len(reports)} scenes, {bad}: ", _counts(counts))


def _heading(verdict: Verdict, count: int) -> Text:
    return Text(f"{WORDS[verdict].upper()} ({count})", style=COLOURS[verdict])


def _not_met(report: Report, width: int) -> Iterator[RenderableType]:
    rows = not_met_rows(report)
    if rows:
        yield _heading("not-met", len(rows))
        yield from row_tables(rows, width)


def _open(report: Report) -> Iterator[RenderableType]:
    """Say what is to do: the same thing once, whatever asks for it."""
    groups: dict[tuple[str, str, str], list[Judgement]] = {}
    for judgement in report.judgements:
        if judgement.verdict == "open":
            asked = judgement.missing or judgement.reason
            key = (judgement.subject, judgement.requirement, asked)
            groups.setdefault(key, []).append(judgement)
    if not groups:
        return
    yield _heading("open", report.counts["open"])
    units, several = units_of(report), repeated(report)
    for (subject, requirement, reason), group in groups.items():
        measured = [
            " ".join(filter(None, (which(one, several), name, both(size, units))))
            for one in group
            if not one.required
            for name, size in one.provided.items()
        ]
        text = Text.assemble(
            (clean(subject, LONGEST_NAME), "bold"),
            f" {requirement}: {clean(reason, LONGEST_REASON)}",
            f" Measured: {', '.join(measured)}." if measured else "",
            f" [{clean(group[0].citation)}]",
        )
        yield _hanging(Text("[ ]"), text)


def _met(report: Report) -> Iterator[RenderableType]:
    judged = Counter((one.subject, one.requirement) for one in report.judgements)
    met: dict[str, Counter[str]] = {}
    for judgement in report.judgements:
        if judgement.verdict == "met":
            subjects = met.setdefault(judgement.requirement, Counter())
            subjects[judgement.subject] += 1
    if not met:
        return
    yield _heading("met", report.counts["met"])
    column = max(len(requirement) for requirement in met)
    for requirement, subjects in sorted(met.items()):
        names = [
            _of_several(subject, times, judged[subject, requirement])
            for subject, times in subjects.items()
        ]
        more = len(names) - _MOST_NAMES
        if more > 0:
            names[_MOST_NAMES:] = [f"and {more} more"]
        yield _hanging(Text(f"{requirement:{column}}"), Text(", ".join(names)))


def _of_several(subject: str, times: int, judged: int) -> str:
    """Name a subject, and how many of its leaves or tiers are meant."""
    name = clean(subject, LONGEST_NAME)
    return name if judged == 1 else f"{name} ({times} of {judged})"


def _assumed(report: Report) -> Iterator[RenderableType]:
    """Name what was taken for granted once, with all items it holds for."""
    groups: dict[str, list[str]] = {}
    for assumption in report.assumed:
        name = clean(assumption.item, LONGEST_NAME)
        groups.setdefault(assumption.what, []).append(name)
    if groups:
        yield Text("ASSUMED", style="bold")
    for what, items in groups.items():
        text = f"{', '.join(items)}: {clean(what, LONGEST_REASON)}"
        yield _hanging(Text("-"), Text(text))


def _hanging(mark: Text, text: Text) -> RenderableType:
    """Return text with a mark before it and its lines below one another."""
    table = Table.grid(padding=(0, 1))
    table.add_column(width=mark.cell_len)
    table.add_column(max_width=LONGEST_LINE - mark.cell_len, overflow="fold")
    table.add_row(mark, text)
    return table
