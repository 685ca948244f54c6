"""Reports as text, read in ten seconds: what is not met, what is open, what is met."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, Final

from rich.table import Table
from rich.text import Text

from model3d.wording.said import parts_of, say
from viewer.output.terminal import rendered
from viewer.report.text.table import (
    LONGEST_LINE,
    LONGEST_NAME,
    LONGEST_REASON,
    not_met_rows,
    repeated,
    row_tables,
    which,
)
from viewer.wording.alike import listed, told_once
from viewer.wording.cleaning import clean
from viewer.wording.refusal import Refused
from viewer.wording.shortfall import in_the_way, shortfall
from viewer.wording.sizes import deciding, measured
from viewer.wording.words import (
    CAUTION,
    WORDS,
    from_memory,
    no_place,
    units_of,
    why_open,
)

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from rich.console import RenderableType

    from model3d import Judgement, Report, Verdict
    from viewer.report.text.table import Repeated

COLOURS: Final[dict[Verdict, str]] = {
    "not-met": "bold red",
    "open": "bold yellow",
    "met": "bold green",
}
_LONGEST_TITLE: Final = 200


Tally = Counter["Verdict"] | None
"""How many judgements there are of each verdict; None of a scene that is refused."""


def report_text(
    one: Report | Refused, *, width: int, colour: bool, shown: str = ""
) -> str:
    """Return what is told of one scene, without what ends all of it.

    Args:
        one: The scene's report, or why there is none.
        width: Columns that no line exceeds.
        colour: Add colours, by escape sequences.
        shown: What its file is called; else what it was read from.
    """
    parts = _refused(one) if isinstance(one, Refused) else _report(one, width, shown)
    return rendered(parts, width=width, colour=colour)


def end_text(tallies: Sequence[Tally], *, width: int, colour: bool) -> str:
    """Return what stands below all scenes: what they come to, and the caution."""
    parts: list[RenderableType] = [_total(tallies), ""] if len(tallies) > 1 else []
    parts += [Text(line) for line in CAUTION]
    return rendered(parts, width=width, colour=colour)


def tally_of(one: Report | Refused) -> Tally:
    """Return how many judgements of each verdict a scene has."""
    return None if isinstance(one, Refused) else Counter(one.counts)


def _refused(one: Refused) -> Iterator[RenderableType]:
    words = f"{clean(str(one.file))}: refused, {one.count}"
    # One line, however long the name: programs look for it.
    yield Text(words, style=COLOURS["not-met"], no_wrap=True, overflow="ignore")
    yield ""


def _report(report: Report, width: int, shown: str) -> Iterator[RenderableType]:
    yield from _head(report, shown)
    yield ""
    for section in (
        [*_not_met(report, width)],
        [*_open(report)],
        [*_met(report)],
        [*_no_place(report)],
        [*_assumed(report)],
        [*unread(report.unread)],
    ):
        if section:
            yield from section
            yield ""


def _head(report: Report, shown: str) -> Iterator[RenderableType]:
    yield Text(clean(report.scene, _LONGEST_TITLE), style="bold")
    scene = report.arrangement.scene if report.arrangement else None
    read = str(scene.file) if scene and scene.file else report.file
    file = shown or read
    where = ", ".join(clean(words) for words in (file, report.rules) if words)
    counts = _counts(Counter(report.counts), waiting=bool(report.no_place))
    yield Text.assemble(where, ": ", counts)


def _counts(counts: Counter[Verdict], *, waiting: bool = False) -> Text:
    """Return the counts in words, the worst first; only what there is."""
    if not counts.total():
        why = (
            "some items have no place yet" if waiting else "no item needs a clear space"
        )
        return Text(f"nothing was judged, {why}")
    words = [
        (f"{counts[verdict]} {word}", COLOURS[verdict])
        for verdict, word in WORDS.items()
        if counts[verdict]
    ]
    return Text(", ").join(Text(*word) for word in words)


def _total(tallies: Sequence[Tally]) -> RenderableType:
    counts: Counter[Verdict] = Counter()
    judged = [one for one in tallies if one is not None]
    refused = len(tallies) - len(judged)
    if not judged:
        return Text(f"{refused} scenes, all of them refused")
    for one in judged:
        counts.update(one)
    failed = sum(one["not-met"] > 0 for one in judged)
    bad = f"{failed} of them with something not met" if failed else "nothing not met"
    more = f"{refused} of them refused, " if refused else ""
    return Text.assemble(f"{len(tallies)} scenes, {more}{bad}: ", _counts(counts))


def _heading(verdict: Verdict, count: int) -> Text:
    return Text(f"{WORDS[verdict].upper()} ({count})", style=COLOURS[verdict])


def _not_met(report: Report, width: int) -> Iterator[RenderableType]:
    rows = not_met_rows(report)
    if rows:
        yield _heading("not-met", report.counts["not-met"])
        yield from row_tables(rows, width)


def _open(report: Report) -> Iterator[RenderableType]:
    """Say what is to do: the same thing once, whatever asks for it."""
    groups: dict[tuple[str, ...], list[Judgement]] = {}
    for judgement in report.judgements:
        if judgement.verdict == "open":
            short = shortfall(judgement)
            size = deciding(judgement, short.size) if short else ""
            asked = judgement.missing or judgement.reason
            key = (judgement.subject, judgement.requirement, size, asked)
            groups.setdefault(key, []).append(judgement)
    if not groups:
        return
    yield _heading("open", report.counts["open"])
    units, several = units_of(report), repeated(report)
    told = (
        (subject, subject, _told(requirement, size, group, units, several))
        for (subject, requirement, size, _), group in groups.items()
    )
    for subjects, (what, why) in told_once(told):
        names = listed(clean(one, LONGEST_NAME) for one in subjects)
        yield _hanging(Text("[ ]"), Text.assemble((names, "bold"), f" {what}: {why}"))


def _told(
    requirement: str,
    size: str,
    group: Sequence[Judgement],
    units: str,
    several: Repeated,
) -> tuple[str, str]:
    """Say what of one thing is open, and why."""
    parts = [*dict.fromkeys(which(one, several) for one in group)]
    why = _why(group)
    if len(parts) > 1 and any(measured(one, units, why) for one in group):
        parts = []  # each is named with what was measured of it
    what = ", ".join(filter(None, (f"{requirement} {size}".rstrip(), *parts)))
    known = "".join(_known(group, why, units, several))
    cited = clean(group[0].citation)
    return what, say("{}{} [{}]", clean(why, LONGEST_REASON), known, cited)


def _why(group: Sequence[Judgement]) -> str:
    """Say why something is open, or what is missing where each has its own reason."""
    one = group[0]
    if any(other.reason != one.reason for other in group):
        return one.missing
    return why_open(one)


def _known(
    group: Sequence[Judgement], why: str, units: str, several: Repeated
) -> Iterator[str]:
    """Say what is known of what is open: what was measured, what is in the way."""
    told = {which(one, several): measured(one, units, why) for one in group}
    sizes = [
        f"{part} {size}" if len(told) > 1 else size
        for part, size in told.items()
        if size
    ]
    if sizes:
        # Plain letters only: a terminal may have no sign for degrees.
        text = ", ".join(sizes).replace("\N{DEGREE SIGN}", " degrees")
        yield f" Measured: {text}."
    ways = dict.fromkeys(way for one in group for way in in_the_way(one, "", units))
    there = {*parts_of(why)}
    names = [clean(way) for way in ways if not there.issuperset(parts_of(way))]
    if names:
        yield f" In the way: {', '.join(names)}."
    for exception in dict.fromkeys(one.exception for one in group if one.exception):
        yield f" Exception: {clean(exception)}."


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
        yield _hanging(Text(f"{requirement:{column}}"), Text(listed(names)))
    yield from _by_exception(report)


def _by_exception(report: Report) -> Iterator[RenderableType]:
    """Name what is met only because an exception allows it."""
    groups: dict[tuple[str, str], dict[str, None]] = {}
    for one in report.judgements:
        if one.verdict == "met" and one.exception:
            subjects = groups.setdefault((one.requirement, one.exception), {})
            subjects[clean(one.subject, LONGEST_NAME)] = None
    if groups:
        yield Text("Met by an exception:")
    for (requirement, exception), subjects in groups.items():
        words = f"{', '.join(subjects)} {requirement}: {clean(exception)}"
        yield _hanging(Text("-"), Text(words))


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


def _no_place(report: Report) -> Iterator[RenderableType]:
    """Name what was not judged, for it is not said where it stands."""
    if report.no_place:
        yield Text(f"NO PLACE YET ({len(report.no_place)})", style=COLOURS["open"])
        names = ", ".join(clean(item, LONGEST_NAME) for item in report.no_place)
        yield _hanging(Text("-"), Text(f"{names}: {no_place(len(report.no_place))}"))


def unread(citations: Sequence[str]) -> Iterator[RenderableType]:
    """Name once what was not read in any source."""
    words = from_memory(citations)
    if words:
        yield _hanging(Text("From memory:"), Text(clean(words, LONGEST_REASON)))


def _hanging(mark: Text, text: Text) -> RenderableType:
    """Return text with a mark before it and its lines below one another."""
    table = Table.grid(padding=(0, 1))
    table.add_column(width=mark.cell_len)
    table.add_column(max_width=LONGEST_LINE - mark.cell_len, overflow="fold")
    table.add_row(mark, text)
    return table
