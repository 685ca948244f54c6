"""The end of a room's part of a report: what is met, assumed, overridden; who signs."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from model3d.judging.results import ROOM
from model3d.wording import length
from viewer.report.document.content import (
    Heading,
    Paragraph,
    Points,
    Signature,
    Table,
)
from viewer.report.rows import asked, called
from viewer.wording.words import (
    CAUTION,
    from_memory,
    no_place,
    requirement_words,
    units_of,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d import Report
    from viewer.report.document.content import Block
    from viewer.report.document.cures import Cures


def rests_blocks(report: Report, name: str, cures: Cures) -> Iterator[Block]:
    """Yield what a room's report rests on, and the place to sign.

    Args:
        report: What the check answered.
        name: Of the room, that its anchors begin with.
        cures: How little what is met holds by.
    """
    # It goes on below the last sheet: else that may leave a page with two lines.
    yield Heading(2, "What this rests on", f"{name}-rests")
    yield from _met(report, name)
    yield from _tightest(report, name, cures)
    if report.no_place:
        yield Heading(3, "No place yet", f"{name}-no-place", listed=False)
        names = ", ".join(report.no_place)
        yield Paragraph(f"{names}: {no_place(len(report.no_place))}")
    if report.assumed:
        yield Heading(
            3, "Assumed, because nothing was said", f"{name}-assumed", listed=False
        )
        groups: dict[str, list[str]] = {}
        for one in report.assumed:
            groups.setdefault(one.what, []).append(called(one.item, report.arrangement))
        yield Points(tuple(f"{'; '.join(who)}: {what}" for what, who in groups.items()))
    overrides = [*_overrides(report)]
    if overrides:
        yield Heading(
            3, "Overrides, with their reasons", f"{name}-overrides", listed=False
        )
        yield Points(tuple(overrides))
    words = from_memory(report.unread)
    if words:
        yield Heading(3, "Values to verify", f"{name}-verify", listed=False)
        yield Paragraph(
            "These sentences and figures decide here and were not read in any source; "
            f"{words}."
        )
    yield Heading(3, "Caution", f"{name}-caution", listed=False)
    for line in CAUTION:
        yield Paragraph(line, "caution")
    yield Signature(("Name", "Licence", "Date", "Signature"))


def _met(report: Report, name: str) -> Iterator[Block]:
    met: dict[str, Counter[str]] = {}
    for one in report.judgements:
        if one.verdict == "met":
            met.setdefault(one.requirement, Counter())[one.subject] += 1
    if not met:
        return
    yield Heading(3, f"Met ({report.counts['met']})", f"{name}-met", listed=False)
    rows = []
    for requirement, counted in sorted(met.items()):
        who = [
            ("the room" if subject == ROOM else subject)
            + (f" ({times})" if times > 1 else "")
            for subject, times in counted.items()
        ]
        rows.append((requirement_words(requirement), ", ".join(who)))
    yield Table("What is met", ("Requirement", "At"), tuple(rows), (3, 9))
    exceptions = [
        f"{one.subject}, {asked(one).lower()}: {one.exception}"
        for one in report.judgements
        if one.verdict == "met" and one.exception
    ]
    if exceptions:
        yield Paragraph("Met by an exception:", "strong")
        yield Points(tuple(exceptions))


def _tightest(report: Report, name: str, cures: Cures) -> Iterator[Block]:
    """Tell how little what is met holds by, and what to measure again."""
    if not cures.tightest:
        return
    yield Heading(3, "The tightest of what is met", f"{name}-tightest", listed=False)
    units, arrangement = units_of(report), report.arrangement
    rows = tuple(
        (
            length(one.distance, units),
            called(one.thing, arrangement),
            f"{requirement_words(one.requirement)}: {called(one.subject, arrangement)}",
        )
        for one in cures.tightest
    )
    title = "How much nearer things may come before what is met fails"
    heads = ("By less than", "This may come nearer", "Before this fails")
    yield Table(title, heads, rows, (2.4, 4, 6))
    again = cures.again
    if again is not None:
        thing, subject = (
            called(one, arrangement) for one in (again.thing, again.subject)
        )
        yield Paragraph(
            f"Measure again: from {thing} to {subject}. What is left over there, "
            f"{length(again.distance, units)}, is less than the survey tolerance.",
            "strong",
        )


def _overrides(report: Report) -> Iterator[str]:
    scene = report.arrangement.scene if report.arrangement else None
    for item in scene.items if scene else ():
        said = []
        if item.working_space == "none":
            said.append("no working space")
        elif item.working_space != "auto":
            said.append("a working space of its own")
        if item.condition is not None:
            said.append(f"condition {item.condition}")
        for key in ("associated", "grounded", "foreign", "dead_front", "structural"):
            value = getattr(item, key)
            if value is not None:
                said.append(f"{key.replace('_', ' ')}: {'yes' if value else 'no'}")
        if said:
            why = f" ({item.why})" if item.why else ", no reason given"
            yield f"{called(item.id, report.arrangement)}: {', '.join(said)}{why}"
