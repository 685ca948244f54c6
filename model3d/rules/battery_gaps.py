"""Gap between a battery rack and a wall.

Applies to: every battery rack, on the sides that need no access: left, right, and the
back unless something is reached from there.

Measures: from the rack's side to the nearest wall or other structure beside it, over
the rack's height.

Breach: a wall or column nearer than the figure.

Exceptions: none here.

Source: NEC 480.9(C) in 2014, 480.10(C) since.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from model3d.judging import judge
from model3d.spaces import ANY, Space, Stretch

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.geometry.frame import Frame
    from model3d.results import Judgement
    from model3d.scene.placed import Front, Placed
    from model3d.situation import Situation

TABLES: Final = ("battery-gap",)
REQUIREMENT: Final = "battery-gaps"
_LEVEL: Final = ("ceiling", "platform", "beam", "floor")
"""Structure that is above or below, not beside."""


def claims(item: Placed, situation: Situation) -> Iterator[Judgement]:
    """Judge the sides of a rack that need no access: the closest wall decides."""
    entry = situation.book.entry(TABLES[0])
    if item.kind.name != "battery-rack" or item.front is None or not entry.given:
        return
    figure = entry.figure("gap")
    gap = situation.least(figure)

    def limit(placed: Placed) -> Stretch | None:
        beside = placed.kind.structure and placed.kind.name not in _LEVEL
        return Stretch(0.0, gap) if beside and placed is not item else None

    judged = [
        judge(
            Space(
                requirement=REQUIREMENT,
                subject=item.id,
                frame=frame,
                width=width,
                depth=gap,
                bottom=item.front.bottom,
                top=item.front.top,
                limit=limit,
                required={"gap": gap},
                measures={"gap": "out"},
                citations={ANY: entry.citation},
                clear="No wall is nearer than the gap.",
                words={"out": "from the rack"},
                unread={},
            ),
            situation,
        )
        for frame, width in _sides(item.front, behind=_closed_behind(item))
    ]
    worst = min(judged, key=lambda one: one.provided.get("gap", float("inf")))
    verdict = max((one.verdict for one in judged), key=_SEVERITY.index)
    decisive = next(one for one in judged if one.verdict == verdict)
    yield replace(
        worst,
        verdict=verdict,
        reason=worst.reason if worst.verdict == verdict else decisive.reason,
        intrusions=tuple(hit for one in judged for hit in one.intrusions),
        shapes=tuple(shape for one in judged for shape in one.shapes),
    )


_SEVERITY: Final = ("met", "open", "not-met")


def _closed_behind(item: Placed) -> bool:
    rear = item.item.rear if item.item else None
    return rear in {None, "bolted"}


def _sides(front: Front, *, behind: bool) -> Iterator[tuple[Frame, float]]:
    """Yield left, right and back as frames that look away from the rack."""
    (rx, ry), (ox, oy) = front.frame.right, front.frame.out
    at = front.frame.moved
    left, right, back = at(0, -front.depth), at(front.width, 0), at(0, -front.depth)
    yield replace(left, right=(ox, oy), out=(-rx, -ry)), front.depth
    yield replace(right, right=(-ox, -oy), out=(rx, ry)), front.depth
    if behind:
        yield replace(back, out=(-ox, -oy)), front.width
