"""From a required space and how it fits to a judgement: once, for every rule."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from model3d.geometry.tolerance import TOUCH
from model3d.judging.measured.beside import beside
from model3d.judging.measured.fit import fit
from model3d.judging.measured.provided import provided
from model3d.judging.measured.reached import REACH, reach
from model3d.judging.reason import reason_of
from model3d.judging.results import ClearBox, Intrusion, Judgement
from model3d.judging.space import ANY
from model3d.wording import nothing_else, sentences
from model3d.wording.said import ids, say

if TYPE_CHECKING:
    from model3d.judging.measured.fit import Fit, Hit
    from model3d.judging.results import Sizes, Verdict
    from model3d.judging.situation import Situation
    from model3d.judging.space import Along, Excuse, Space


def judge(
    space: Space,
    situation: Situation,
    found: Fit | None = None,
    sizes: Sizes | None = None,
) -> Judgement:
    """Judge whether a space is clear.

    Args:
        space: What must be clear.
        situation: The room.
        found: How it fits, where that is known already.
        sizes: What the room gives, where that is known already, metres.
    """
    found = fit(space, situation) if found is None else found
    sizes = provided(space, situation, found) if sizes is None else sizes
    verdict, why, unknown, near = _verdict(space, situation, found)
    aside = beside(space, situation) if verdict == "met" else None
    if aside is not None:
        verdict, why = "open", sentences(aside.words(situation), situation.survey_doubt)
    # Asked again by the figures of either system, what is not met is not told.
    bodies = verdict != "not-met" or situation.measures != "either"
    short = _short(space, found, sizes)
    told = found
    if near is not None:
        short = REACH if _stand_out(space, near) else _closest(space, sizes)
        told = near if short == REACH else found
    elif aside is not None:
        short = next((n for n, way in space.measures.items() if way == "across"), short)
    said = (reason_of(space, situation, told, short, sizes), why)
    if not told.all:
        # That nothing is in the way decides nothing while something is to be said.
        said = ("", why) if verdict == "open" else said[::-1]
    judged = Judgement(
        requirement=space.requirement,
        subject=space.subject,
        verdict=verdict,
        citation=space.citations.get(short) or space.citations[ANY],
        reason=sentences(*said),
        missing=why if verdict == "open" else "",
        unknown=unknown,
        short=short,
        required=space.required,
        printed=space.printed,
        provided=sizes,
        margin=margin(space.required, sizes, in_the_way=bool(found.all)),
        tier=space.tier,
        place=found.place if space.first != space.last else None,
        intrusions=tuple(
            _intrusion(space, situation, found.place, hit)
            for hit in found.all
            if bodies
        ),
        assumed=space.assumed,
        unread=space.unread.get(short, space.unread.get(ANY, ())),
        shapes=(clear_box(space, found),),
        firm=any(_is_firm(hit, space) for hit in found.hits),
    )
    if short == REACH and space.reach is not None:
        past = max(reach(hit, space) or 0.0 for hit in told.all)
        judged = _told_as_reach(judged, space, past)
    if verdict == "met" and found.excused:
        judged = resting_on(judged, _excuses(found))
    return judged


APART: Final = 0.1
"""Metres. The two figures that are printed of one limit differ by less."""

_ASIDE: Final = 0.01
"""Metres. Two that are printed of one width differ by less."""


def _is_firm(hit: Hit, space: Space) -> bool:
    """Tell whether a hit is in the way wherever a slightly smaller space stands."""
    (left, near, low), (right, far, high) = hit.extents
    ends = sorted((space.last, space.first + space.width))
    across = min(right, ends[1]) - max(left, ends[0])
    aside = _ASIDE if space.as_wide else APART
    return across > aside and min(far - near, high - low) > APART


def resting_on(judged: Judgement, excuses: dict[str, Excuse]) -> Judgement:
    """Return a judgement that is met by exceptions, given by the item they let stand.

    The first of them is cited.
    """
    stand: dict[str, list[str]] = {}
    for name, excuse in excuses.items():
        stand.setdefault(str(excuse), []).append(name)
    said = (say("{} may stand there by {}.", ids(of), by) for by, of in stand.items())
    first = next(iter(excuses.values()))
    return replace(
        judged,
        citation=first.citation,
        reason=sentences(nothing_else(judged.reason), *said),
        exception=str(first),
        unread=(*judged.unread, *first.unread),
    )


def _excuses(found: Fit) -> dict[str, Excuse]:
    return {
        hit.placed.id: hit.stretch.excuse
        for hit in sorted(found.excused, key=lambda hit: hit.placed.id)
        if hit.stretch.excuse is not None
    }


def clear_box(space: Space, found: Fit) -> ClearBox:
    """Return the space where it was tested, to be drawn."""
    return ClearBox(
        space.frame,
        (found.place, 0.0, space.bottom),
        (found.place + space.width, space.depth, space.top),
    )


def margin(required: Sizes, sizes: Sizes, *, in_the_way: bool) -> float | None:
    """Return what is left over, or how much is missing as a negative number.

    Where something is in the way the least amount counts whose gain would put it
    right: of the sizes that fall short by themselves the one that lacks least. None
    where no size compares.
    """
    left = {
        name: sizes[name] - needed for name, needed in required.items() if name in sizes
    }
    short = _shortfalls(required, sizes) if in_the_way else {}
    if short:
        return -min(short.values())
    return min(left.values(), default=None)


def _shortfalls(required: Sizes, sizes: Sizes) -> dict[str, float]:
    """Return by how much each size falls short; one that is left out lacks all."""
    lacks = {name: needed - sizes.get(name, 0.0) for name, needed in required.items()}
    return {name: by for name, by in lacks.items() if by > TOUCH / 2}


def _verdict(
    space: Space, situation: Situation, found: Fit
) -> tuple[Verdict, str, tuple[str, ...], Fit | None]:
    """Return the verdict, why, and which sizes are to be asked for.

    Last, what is in the way of a space that is larger by the survey tolerance, where
    that alone leaves it open.
    """
    tolerance, doubt = situation.survey_tolerance, situation.survey_doubt
    if found.hits:
        # What is missing by as much as the tolerance is no contact.
        smaller = space.resized(2 * TOUCH - tolerance)
        if tolerance and not fit(smaller, situation).hits:
            return "open", doubt, (), None
        if space.permission:
            return "open", space.permission, (), None
        return "not-met", space.missing, (), None
    if space.missing:
        return "open", space.missing, space.unknown, None
    if found.doubts:
        stretches = [hit.stretch for hit in found.doubts]
        questions = sorted({stretch.missing for stretch in stretches})
        unknown = {name for stretch in stretches for name in stretch.unknown}
        return "open", sentences(*questions), tuple(sorted(unknown)), None
    if tolerance:
        near = fit(space.resized(tolerance), situation)
        if near.all:
            return "open", doubt, (), near
    return "met", "", (), None


def _short(space: Space, found: Fit, sizes: Sizes) -> str:
    """Name the size whose sentence is broken; "" where it is none in particular.

    The reach, where all that is in the way stands out from the face itself. Something
    that leaves the item's whole width clear is beside it: the width is short. Else it
    is the height or the depth, whichever lacks less: a duct overhead is too low, gear
    opposite is too near. Before an item that is wider than its space the width may be
    what lacks least.
    """
    if not found.all:
        return ANY
    if _stand_out(space, found):
        return REACH
    short = _shortfalls(space.required, sizes)
    named = {way: name for name, way in space.measures.items()}
    across = named.get("across", ANY)
    lacking = [named[way] for way in _AHEAD if named.get(way) in short]
    if across in short and across in sizes:
        if space.is_narrow:
            lacking.append(across)
        elif sizes[across] >= space.own_width - TOUCH:
            return across
    if sizes.get(named.get("up", ANY), 0.0) > TOUCH and _is_overhead(space, found):
        lacking = [name for name in lacking if name != named.get("out")]
    if lacking:
        return min(lacking, key=lambda name: (round(short[name], 6), name))
    # It may have to be further away than is required for certain.
    return named.get("out", across if across in short else ANY)


def _is_overhead(space: Space, found: Fit) -> bool:
    """Tell whether something lies over the whole depth, as a ceiling does.

    Where there is height below it, that no depth is clear is a mere consequence.
    """
    return any(
        hit.extents[0][1] <= TOUCH and hit.extents[1][1] >= space.depth - TOUCH
        for hit in found.all
    )


_AHEAD: Final[tuple[Along, ...]] = ("out", "up")


def _stand_out(space: Space, found: Fit) -> bool:
    """Tell whether all that is in the way stands out from the face itself."""
    return space.reach is not None and all(hit.stands_out for hit in found.all)


def _closest(space: Space, sizes: Sizes) -> str:
    """Name the size that is closest to what is required of it."""
    left = {
        name: sizes[name] - needed
        for name, needed in space.required.items()
        if name in sizes
    }
    return min(left, key=lambda name: (round(left[name], 6), name), default=ANY)


def _told_as_reach(judged: Judgement, space: Space, past: float) -> Judgement:
    """Tell how far something stands out, where that alone is wrong."""
    allowed = space.reach or 0.0
    return replace(
        judged,
        required={REACH: allowed},
        whole=judged.required,
        printed={REACH: space.reach_printed} if space.reach_printed else {},
        limit={REACH: "at-most"},
        provided={REACH: past},
        margin=allowed - past,
    )


def _intrusion(space: Space, situation: Situation, place: float, hit: Hit) -> Intrusion:
    low = (place, hit.part[0], space.bottom)
    high = (place + space.width, hit.part[1], space.top)
    body = situation.shared(hit.placed, space.frame, low, high)
    past = reach(hit, space)
    return Intrusion(
        hit.placed.id,
        body,
        reach=past,
        allowed=None if past is None else space.reach,
        part=hit.placed.part,
    )
