"""Invented judgements for the tests of what tells of them, and reports of these.

Sizes that were measured are plain arithmetic: 25.4 mm to the inch exactly (ISO
80000-3). The figures 900 mm (3 ft) and 150 mm (6 in) stand as the NEC prints them.
Which sentence of 110.26(A) speaks of which size, (1) depth, (2) width, (3) height, is
the published order of the NEC.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from model3d import Intrusion, Judgement, Report, Scene, check
from model3d.wording import sentences
from model3d.wording.said import Amount, Named, say
from viewer.output.terminal import PLAIN_WIDTH
from viewer.report.text.findings import end_text, report_text, tally_of

if TYPE_CHECKING:
    from collections.abc import Sequence


class Stated(NamedTuple):
    """What somebody says that a solid and a space share."""

    volume: float
    low: tuple[float, float, float]
    high: tuple[float, float, float]


DEPTH = Judgement(
    requirement="working-space",
    subject="MSB",
    verdict="not-met",
    citation="NEC 2023 110.26(A)(1)",
    reason="BOX is 350 mm ahead of the front.",
    required={"depth": 0.9, "width": 2.4, "height": 2.15},
    provided={"depth": 0.35},
    printed={"depth": ("900 mm", "3 ft")},
    margin=-0.55,
    condition=1,
    intrusions=(Intrusion("BOX", Stated(0.15, (1.25, 2.75, 0.0), (1.75, 3.25, 0.6))),),
)
REACH = Judgement(
    requirement="working-space",
    subject="LP1",
    verdict="not-met",
    citation="NEC 2023 110.26(A)(3)",
    reason="WW1 reaches 170 mm past the front.",
    short="reach",
    required={"reach": 0.15},
    provided={"reach": 0.17},
    printed={"reach": ("150 mm", "6 in")},
    limit={"reach": "at-most"},
    margin=-0.02,
    intrusions=(
        Intrusion(
            "WW1",
            Stated(0.002, (0.3, 1.4, 1.85), (0.32, 2.1, 2.0)),
            reach=0.17,
            allowed=0.15,
        ),
    ),
)
SWING = Judgement(
    requirement="door-swing",
    subject="MSB",
    verdict="not-met",
    citation="NEC 2023 110.26(A)(2)",
    reason="BOX stops the leaf at 25.9 degrees.",
    required={"angle": 90.0},
    provided={"angle": 25.94},
    margin=-64.06,
    leaf=1,
    intrusions=DEPTH.intrusions,
)
OPENED = replace(SWING, verdict="met", provided={"angle": 90.0}, leaf=0, intrusions=())
ASKED = Judgement(
    requirement="battery-top-clearance",
    subject="R1",
    verdict="open",
    citation="NEC 2023 480.10(D)",
    reason="Say the battery maker's clearance above the cells of R1 (top_clearance).",
    provided={"clearance": 0.28},
    tier=0,
)
CLEAR = Judgement(
    requirement="working-space",
    subject="T1",
    verdict="met",
    citation="NEC 2023 110.26(A)(1)",
    reason="Nothing is in the way.",
)


TIGHT = replace(
    DEPTH,
    verdict="open",
    provided={"depth": 0.88},
    short="depth",
    reason=sentences(
        say("{} is {} ahead of the front.", Named("BOX"), Amount("880 mm")),
        "Measure again.",
    ),
    missing="Measure again.",
)
UNSAID = replace(
    TIGHT,
    provided={"depth": 2.0, "width": 3.0, "height": 2.5},
    short="",
    reason="Say the supply of MSB: the depth depends on it.",
    missing="Say the supply of MSB: the depth depends on it.",
    unknown=("depth",),
    intrusions=(),
)


EXCEPTION = "NEC 2023 110.26(A)(3) Exception No. 2: existing dwellings"


def report(*judgements: Judgement, scene: str = "Annex", units: str = "mm") -> Report:
    """Return an invented report of a scene in some units."""
    made = Report(scene, "annex.yaml", "nec-2023", judgements)
    empty = {"title": "Annex", "units": units, "rules": "nec-2023", "use": "outdoor"}
    return replace(made, arrangement=check(Scene.model_validate(empty)).arrangement)


def reports_text(
    checked: Sequence[Report], *, width: int = PLAIN_WIDTH, colour: bool = False
) -> str:
    """Return reports as a check of several scenes prints them."""
    told = (report_text(one, width=width, colour=colour) for one in checked)
    tallies = [tally_of(one) for one in checked]
    return "".join((*told, end_text(tallies, width=width, colour=colour)))


def text(*judgements: Judgement, width: int = PLAIN_WIDTH, units: str = "mm") -> str:
    return reports_text([report(*judgements, units=units)], width=width)


def prose(*judgements: Judgement) -> str:
    """Return a report as one line: where it breaks is tested elsewhere."""
    return " ".join(text(*judgements).split())
