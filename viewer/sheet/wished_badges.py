"""Which badges a picture is to bear, and what each of them points at."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from model3d.judging.results import ROOM
from viewer.sheet.sign_places import Sign
from viewer.sheet.signage import LETTERS, PAD, Wish
from viewer.wording.cleaning import clean

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from viewer.sheet.signage import SignRoom
    from viewer.stage.drawn import Badge
    from viewer.stage.parts import Stage

_BADGE: Final = 13.0
"""Pixels. Radius of a badge in a picture 1000 pixels high."""
_CROWD: Final = 40
"""More badges than this share one an item."""
_MOST_BADGES: Final = 150
"""More badges than this hide the room."""
_LONGEST_THING: Final = 24
"""Letters of what is named in a badge."""


def badges_wished(stage: Stage, setting: SignRoom) -> Iterator[Wish]:
    """Yield a badge for each number; open ones of one item share a badge.

    So do all that one thing is in the way of: it is named beside its numbers. In a
    crowd all of one item do. What is of the room as a whole points at nothing in it;
    nor does what is about a thing outside the picture, which is named.
    What a picture cannot hold is in its list, and in the report.
    """
    scale, frame = setting.scale, setting.frame
    groups: dict[tuple[str, str, str], list[Badge]] = {}
    crowded = len(stage.badges) > _CROWD
    for badge in stage.badges:
        row = stage.judgements[badge.judgement]
        thing = ", ".join(row.in_the_way)
        if badge.item == ROOM and not thing and not row.shapes:
            kin = badge.verdict, "", ROOM
        elif crowded or badge.verdict == "open":
            kin = badge.verdict, badge.item, ""
        elif thing:
            kin = badge.verdict, "", thing
        else:
            kin = badge.verdict, badge.item, str(badge.number)
        groups.setdefault(kin, []).append(badge)
    for (verdict, whose, thing), group in list(groups.items())[:_MOST_BADGES]:
        text = ranges([badge.number for badge in group])
        of_room = thing == ROOM
        anchor = setting.projection.pixel(group[0].anchor)
        outside = not of_room and not frame.holds(anchor)
        if of_room or (len(group) > 1 and not whose) or outside:
            text = f"{text}  {clean(whose or thing, _LONGEST_THING)}"
        items = tuple(dict.fromkeys(badge.item for badge in group))
        height = 2 * _BADGE * scale
        wide = setting.measure(text, LETTERS * scale, bold=True) + 1.1 * _BADGE * scale
        wide = max(height, wide)
        corner = frame.left + wide / 2 + PAD, frame.top + height / 2 + PAD
        sign = Sign(
            corner if of_room else frame.nearest(anchor),
            wide,
            height,
            near=16.0 * scale,
            far=math.inf,
            must=True,
            on=of_room or outside,
        )
        yield Wish(
            "not-met" if verdict == "not-met" else "open",
            (text,),
            sign,
            group[0].anchor,
            items,
            tuple(badge.judgement for badge in group),
            aims=not of_room and not outside,
        )


def ranges(numbers: Sequence[int]) -> str:
    """Write numbers as a short list.

    >>> ranges([4, 5, 6, 9]), ranges([2, 3]), ranges([7])
    ('4-6, 9', '2, 3', '7')
    """
    runs: list[list[int]] = []
    for number in sorted(numbers):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    pair = 2
    return ", ".join(
        f"{run[0]}-{run[-1]}" if len(run) > pair else ", ".join(map(str, run))
        for run in runs
    )
