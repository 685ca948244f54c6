"""What puts a room right, as a page plays it: each remedy with the room after it."""

from __future__ import annotations

from dataclasses import replace
from itertools import chain, islice, zip_longest
from typing import TYPE_CHECKING, Any, Final

from model3d.mending.effort import effort_for, is_beyond_search
from model3d.mending.remedies import (
    bench_of_following,
    bench_of_report,
    mend,
    unsearched,
)
from viewer.page.data import brief_change, lean, lean_difference
from viewer.stage import document
from viewer.stage.listed import ordered

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from model3d import Report, Scene
    from model3d.following import Following
    from model3d.mending.proof.remedy import Bench
    from model3d.mending.remedies import Mend
    from model3d.scene.parts.lesson import Change
    from viewer.stage import Stage

    Drawn = Callable[[Scene, Report, Sequence[Change]], Stage]

_MOST_THINGS: Final = 200
"""In a room with more nothing is looked for: it would take minutes."""
_MOST_BREACHES: Final = 12
"""So many breaches of a room are looked at."""
_MOST_EACH: Final = 2
"""So many remedies of a breach are played, the smallest."""
_LARGEST: Final = 1_000_000
"""Bytes of a page without a still: it is sent by mail."""


def remedies(
    report: Report, stage: Stage, drawn: Drawn, following: Following | None = None
) -> dict[str, Any]:
    """Return what may be done about what is not met, by the row in the page's list.

    ``{"3": {"remedies": [{"text", "change"}], "why"}}``: ``change`` turns the stage
    into that of the room after the remedy, as a step of a lesson has it, and is left
    out where the page would grow too large; ``why`` says why there is no remedy.

    Args:
        report: What the check said of the room.
        stage: The room as the page shows it.
        drawn: Returns the stage of a scene, its report and the changes that led to it.
        following: The room, where it is followed already.

    Raises:
        BookError: The scene's rule book cannot be used.
        MeshError: A mesh file of the scene cannot be used.
    """
    arrangement = report.arrangement
    if arrangement is None or len(arrangement.items) > _MOST_THINGS:
        return {}
    broken = [
        (row, judged)
        for row, judged in enumerate(ordered(report))
        if judged.verdict == "not-met"
    ][:_MOST_BREACHES]
    if is_beyond_search(arrangement):
        whys = ((row, unsearched(judged).why) for row, judged in broken)
        return {str(row): {"remedies": [], "why": why} for row, why in whys}
    effort = effort_for(arrangement, report.counts["not-met"])
    if following is None:
        bench = bench_of_report(report, effort)
    else:
        bench = bench_of_following(following, effort)
    found = []
    for number, (row, judged) in enumerate(broken):
        if bench.effort is not None:
            bench.effort.begin(len(broken) - number)
        found.append((row, mend(judged, bench, _MOST_EACH)))
    # What is worked out to play them comes after all that is counted.
    bare = replace(stage, steps=(), lesson="")
    before = lean(document(bare)) if found else {}
    return {
        str(row): {
            "remedies": [
                *islice(_played(one, bench, (bare, before), drawn), _MOST_EACH)
            ],
            "why": one.why,
        }
        for row, one in found
    }


def shorten(told: dict[str, Any], size: Callable[[], int]) -> None:
    """Take changes away until a page is small enough; what they do stays told.

    The first remedy of each breach stays longer than the second of any.

    Args:
        told: What the page is made of; ``remedies`` of the room and of each step.
        size: Returns how large the page is now, bytes.
    """
    rooms = [told, *told.get("steps", ())]
    breaches = [one for room in rooms for one in room.get("remedies", {}).values()]
    by_turns = zip_longest(*(one["remedies"] for one in breaches))
    left = [remedy for remedy in chain.from_iterable(by_turns) if remedy]
    while left and size() >= _LARGEST:
        del left.pop()["change"]


def _played(
    found: Mend, bench: Bench, shown: tuple[Stage, dict[str, Any]], drawn: Drawn
) -> Iterator[dict[str, Any]]:
    bare, before = shown
    for remedy in found.remedies:
        report = bench.after(remedy.do)
        if report is not None and report.arrangement is not None:
            after = drawn(report.arrangement.scene, report, remedy.do)
            change = brief_change(lean_difference(bare, after), before)
            yield {"text": remedy.text, "change": change}
