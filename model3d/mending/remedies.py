"""The remedies of a scene: for each breach the changes that cure it, smallest first."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from model3d.following import Following
from model3d.judging.unseen import no_judging
from model3d.mending.effort import effort_beside_scan
from model3d.mending.kinds import all_kinds
from model3d.mending.kinds.widen_way import second_choices
from model3d.mending.map.probe import key_of
from model3d.mending.placing.best import step_of
from model3d.mending.placing.further import further
from model3d.mending.proof.remedy import Bench, Remedy
from model3d.mending.proof.search import Enough, offered
from model3d.mending.several import several, why_none

if TYPE_CHECKING:
    from collections.abc import Iterable

    from model3d.judging.report import Report
    from model3d.judging.results import Judgement
    from model3d.mending.effort import Effort
    from model3d.mending.proof.search import Family
    from model3d.scene.scene import Scene

_BEYOND: Final = {
    "illumination": "It asks for light, or for what switches it.",
    "high-voltage-separation": "It asks for a partition, or for a fact to be stated.",
    "battery-room": "No move inside the room cures it.",
    "door-hardware": "It asks for another room door, which stays unless asked.",
    "limited-access": "It asks for another opening, and structure stays.",
    "guarded-live-parts": "It asks for a guard, or for live parts higher up.",
}
"""What no move of a thing cures, and why."""
_UNSEARCHED: Final = (
    "No change was tried beside so large a scan, nor was it asked what is tight."
)
_OFFERED: Final = 5
"""So many remedies are offered for one breach."""


@dataclass(frozen=True, slots=True)
class Mend:
    """What may be done about one breach.

    Attributes:
        judged: The breach.
        remedies: The smallest first; none where nothing was found.
        why: Why there is none.
        cut_short: What was not searched; "" where all was.
    """

    judged: Judgement
    remedies: tuple[Remedy, ...]
    why: str = ""
    cut_short: str = ""


def unsearched(judged: Judgement) -> Mend:
    """Return what may be done about a breach beside a scan too large to search."""
    return Mend(judged, (), _UNSEARCHED, _UNSEARCHED)


def bench_of(scene: Scene, step: float | None = None) -> Bench:
    """Return a scene on which changes may be tried: all, but beside a large scan.

    Args:
        scene: The scene.
        step: What changes are rounded to, metres; None: 10 mm, or half an inch.

    Raises:
        BookError: The scene's rule book cannot be used.
        MeshError: A mesh file of the scene cannot be used.
    """
    following = Following(scene)
    report = following.followed.report
    by = step_of(scene) if step is None else step
    effort = None
    if report.arrangement is not None:
        effort = effort_beside_scan(report.arrangement, report.counts["not-met"])
    return Bench(following, report, by, effort)


def bench_of_report(report: Report, effort: Effort | None = None) -> Bench:
    """Return a scene that was checked already, on which changes may be tried.

    Args:
        report: What the check says.
        effort: How much may be tried; None: as much as it takes.

    Raises:
        ValueError: The report does not say what was judged.
    """
    if report.arrangement is None:
        msg = "the report does not say what was judged"
        raise ValueError(msg)
    scene = report.arrangement.scene
    return Bench(Following(scene), report, step_of(scene), effort)


def bench_of_following(following: Following, effort: Effort | None = None) -> Bench:
    """Return a scene that is followed already, on which changes may be tried.

    Args:
        following: The scene; nothing of it waits to be judged.
        effort: How much may be tried; None: as much as it takes.
    """
    report = following.followed.report
    return Bench(following, report, step_of(following.scene), effort)


def mends(bench: Bench) -> tuple[Mend, ...]:
    """Return what may be done about everything that is not met.

    Where only so many changes may be tried, each breach has an equal share of what is
    left.
    """
    broken = [one for one in bench.report.judgements if one.verdict == "not-met"]
    found = []
    for number, judged in enumerate(broken):
        if bench.effort is not None:
            bench.effort.begin(len(broken) - number)
        found.append(mend(judged, bench))
    return tuple(found)


def mend(judged: Judgement, bench: Bench, most: int = _OFFERED) -> Mend:
    """Return what may be done about one breach; each remedy is proved.

    Args:
        judged: The breach.
        bench: The scene.
        most: So many of the smallest are enough; there may be more.
    """
    if unseen := no_judging(bench.scene):
        return Mend(judged, (), unseen)
    found = single(judged, bench, most)
    if all(one.changes == {judged.subject} for one in found):
        # Gear is seldom moved because of what stands in its way.
        found = sorted([*found, *several(judged, bench)], key=Remedy.order)
    if not found:
        found = _of(second_choices(judged, bench), judged, bench, most)
    if not found:
        found = sorted(further(judged, bench), key=Remedy.order)[:_OFFERED]
    cut_short = _cut_short(bench)
    if found:
        return Mend(judged, tuple(found), cut_short=cut_short)
    why = cut_short or _BEYOND.get(judged.requirement) or why_none(judged, bench)
    if not why:
        why = "No single change and no pair of changes that was tried cures it."
    return Mend(judged, (), why, cut_short)


def _cut_short(bench: Bench) -> str:
    if bench.effort is None or not bench.effort.is_short:
        return ""
    return "Not every change was tried: other ones, smaller ones too, may cure it."


def single(judged: Judgement, bench: Bench, most: int = _OFFERED) -> list[Remedy]:
    """Return the single changes that cure a breach, the smallest first.

    Args:
        judged: The breach.
        bench: The scene.
        most: So many of the smallest are enough; there may be more.
    """
    families = (
        family for kind in all_kinds() for family in kind.families(judged, bench)
    )
    return _of(families, judged, bench, most)


def _of(
    families: Iterable[Family], judged: Judgement, bench: Bench, most: int
) -> list[Remedy]:
    """Return the changes of some families that cure a breach, the smallest first."""
    asked = Enough(most, _OFFERED)
    return sorted(offered(families, judged, bench, asked), key=Remedy.order)


def document(found: tuple[Mend, ...]) -> dict[str, Any]:
    """Return the contract's JSON document of what may be done."""
    return {
        "format": 1,
        "mends": [
            {
                **about(one.judged),
                "remedies": [remedy.document() for remedy in one.remedies],
            }
            for one in found
            if one.remedies
        ],
        "none": [
            {**about(one.judged), "why": one.why} for one in found if not one.remedies
        ],
    }


def about(judged: Judgement) -> dict[str, Any]:
    """Return what a judgement is about as plain data."""
    parts = {
        "requirement": judged.requirement,
        "subject": judged.subject,
        "leaf": judged.leaf,
        "tier": judged.tier,
        "side": judged.side,
    }
    return {key: value for key, value in parts.items() if value is not None}


def with_remedies(report: Report, found: tuple[Mend, ...]) -> dict[str, Any]:
    """Return a report's document with remedies at what is not met."""
    told = report.document()
    by_key = {key_of(one.judged): one for one in found}
    for judged, entry in zip(report.judgements, told["judgements"], strict=True):
        one = by_key.get(key_of(judged))
        if one is not None:
            entry["remedies"] = [remedy.document() for remedy in one.remedies]
    return told
