"""What is proved to cure the breaches of a report, and what of the rest is tightest."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from model3d.mending.effort import effort_for, is_beyond_search
from model3d.mending.map.probe import key_of
from model3d.mending.remedies import bench_of_report, mends, unsearched
from model3d.mending.slack import slacks, to_measure
from viewer.report.text.mend import TIGHTEST

if TYPE_CHECKING:
    from collections.abc import Mapping

    from model3d import Judgement, Report
    from model3d.mending.map.probe import Key
    from model3d.mending.remedies import Mend
    from model3d.mending.slack import Slack


@dataclass(frozen=True, slots=True)
class Cures:
    """What is known about putting one room right.

    Attributes:
        mends: What may be done about each breach; each remedy is proved.
        tightest: How far things may come before what is met fails, the least first.
        again: The one distance to be measured again; None where none is so tight.
    """

    mends: Mapping[Key, Mend] = field(default_factory=dict)
    tightest: tuple[Slack, ...] = ()
    again: Slack | None = None

    def of(self, judgement: Judgement) -> Mend | None:
        """Return what may be done about a breach; None where that was not asked."""
        return self.mends.get(key_of(judgement))


def cures_of(report: Report) -> Cures:
    """Look for the remedies of a report, and for what is tight in it.

    A report that does not say what was judged has neither. In a room where very much
    stands only so much is tried, and each breach says so where that ended the
    search: a report is not waited for as a search is. Beside a large scan none is made,
    and each breach says that.

    Raises:
        BookError: The scene's rule book cannot be used.
        MeshError: A mesh file of the scene cannot be used.
    """
    if report.arrangement is None:
        return Cures()
    if is_beyond_search(report.arrangement):
        broken = (one for one in report.judgements if one.verdict == "not-met")
        return Cures({key_of(one): unsearched(one) for one in broken})
    scene = report.arrangement.scene
    effort = effort_for(report.arrangement, report.counts["not-met"])
    bench = bench_of_report(report, effort)
    found = {key_of(one.judged): one for one in mends(bench)}
    tight = slacks(scene)
    return Cures(found, tight[:TIGHTEST], to_measure(scene, tight))
