"""What of a report goes out to other programs: spaces, and what is in their way.

All coordinates are the scene's own, metres.
"""

from __future__ import annotations

import re
import uuid
from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.geometry.bodies.solid import Box, Mesh
from model3d.geometry.frame import Frame
from model3d.judging.results import ClearBox
from model3d.wording import part_words

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from model3d.judging.report import Report
    from model3d.judging.results import Intrusion, Judgement

    Points = NDArray[np.float64]
    Faces = NDArray[np.int64]

WORKING_SPACE: Final = "working-space"
_OWN: Final = uuid.UUID("6d1c7c1e-5f0a-5c37-9a53-1d1f3f0e8a44")
"""Of all identities that are made here; it must never change."""
_GUID: Final = re.compile(r"[0-3][0-9A-Za-z_$]{21}")


@dataclass(frozen=True, slots=True)
class Required:
    """One space that must be clear.

    Attributes:
        judgement: What it was judged by.
        number: Which of the judgement's spaces, from 0.
        points, faces: Its surface.
    """

    judgement: Judgement
    number: int
    points: Points
    faces: Faces


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing in the way of one judgement that is not met; or none is.

    Attributes:
        judgement: It is not met.
        intrusion: What is in the way; None where nothing is.
    """

    judgement: Judgement
    intrusion: Intrusion | None


def origin_of(report: Report) -> tuple[float, float, float]:
    """Return where the scene's own origin lies in the model it came from."""
    scene = report.arrangement.scene if report.arrangement else None
    if scene is None or scene.origin is None:
        return 0.0, 0.0, 0.0
    x, y, z = (scene.metres(length) for length in scene.origin)
    return x, y, z


def guid_of(report: Report, item: str) -> str | None:
    """Return the GlobalId of an item that came from a model, if it is one."""
    placed = report.arrangement.items.get(item) if report.arrangement else None
    guid = placed.item.guid if placed and placed.item else None
    return guid if guid and _GUID.fullmatch(guid) else None


def identity(report: Report, *parts: object) -> uuid.UUID:
    """Return an identity that stays from run to run; items go by their GlobalId.

    Models copy these: of what shares one with another item, the id is said too.
    """
    named = [_named(report, str(part)) for part in parts]
    return uuid.uuid5(_OWN, "|".join((report.scene, *named)))


def _named(report: Report, part: str) -> str:
    guid = guid_of(report, part)
    if guid is None or report.arrangement is None:
        return part
    scene = report.arrangement.scene
    return (
        f"{guid} {part}" if sum(one.guid == guid for one in scene.items) > 1 else guid
    )


def name_of(judgement: Judgement) -> tuple[object, ...]:
    """Return what tells a judgement from all others of its report."""
    part = part_words(judgement.leaf, judgement.tier, judgement.side)
    return judgement.requirement, judgement.subject, part


def asked_of(judgement: Judgement) -> str:
    """Return what a judgement asks for, and of which leaf, tier or side."""
    requirement, _, part = name_of(judgement)
    return " ".join(str(one) for one in (requirement, part) if one)


def required_spaces(report: Report) -> Iterator[Required]:
    """Yield every space that was tested, in the report's order."""
    for judgement in report.judgements:
        for number, shape in enumerate(judgement.shapes):
            if isinstance(shape, ClearBox):
                (u0, v0, low), (u1, v1, high) = shape.low, shape.high
                frame = shape.frame.moved(u0, v0)
                points, faces = Box(frame, u1 - u0, v1 - v0, low, high).mesh
            else:
                points, faces = shape.mesh().mesh
            yield Required(judgement, number, points, faces)


def findings(report: Report) -> Iterator[Finding]:
    """Yield each pair of a judgement that is not met and a thing in its way."""
    for judgement in report.judgements:
        if judgement.verdict == "not-met":
            seen = {(one.item, one.part): one for one in judgement.intrusions}
            yield from (Finding(judgement, one) for one in seen.values())
            if not seen:
                yield Finding(judgement, None)


def clear_depth(finding: Finding) -> float | None:
    """Return how far ahead of the front what is in the way begins, metres."""
    judgement, intrusion = finding.judgement, finding.intrusion
    boxes = [one for one in judgement.shapes if isinstance(one, ClearBox)]
    if intrusion is None or intrusion.body is None or "depth" not in judgement.required:
        return None
    if not boxes or not len(intrusion.body.vertices):
        return None
    return float(boxes[0].frame.local(intrusion.body.vertices)[:, 1].min())


def outline_of(report: Report, finding: Finding) -> Mesh | None:
    """Return the box around what is in the way as a body, in the scene's own frame.

    Its sides are along the space it stands in: along the scene's own axes it would come
    nearer to turned gear than what it is about.
    """
    intrusion = finding.intrusion
    if intrusion is None:
        return None
    ends = np.array([*product(*zip(intrusion.low, intrusion.high, strict=True))])
    frame = _frame_of(report, finding.judgement)
    if frame is None or intrusion.body is None or not len(intrusion.body.corners):
        frame = Frame(0.0, 0.0, (1.0, 0.0), (0.0, 1.0))
    else:
        ends = intrusion.body.corners
    local = frame.local(ends)
    u, v, low = local.min(axis=0).tolist()
    # A sheet has to be seen, too.
    wide, deep, tall = np.maximum(np.ptp(local, axis=0), 1e-3).tolist()
    return Mesh(*Box(frame.moved(u, v), wide, deep, low, low + tall).mesh)


def _frame_of(report: Report, judgement: Judgement) -> Frame | None:
    """Return the axes of what must be clear, else of the gear's front."""
    for one in judgement.shapes:
        if isinstance(one, ClearBox):
            return one.frame
    placed = (
        report.arrangement.items.get(judgement.subject) if report.arrangement else None
    )
    return placed.front.frame if placed and placed.front else None
