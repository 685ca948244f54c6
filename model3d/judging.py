"""From a required space and how it fits to a judgement: once, for every rule."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model3d.fitting import fit, provided
from model3d.results import ClearBox, Intrusion, Judgement
from model3d.spaces import ANY

if TYPE_CHECKING:
    from model3d.fitting import Fit, Hit
    from model3d.results import Sizes, Verdict
    from model3d.situation import Situation
    from model3d.spaces import Space


def judge(space: Space, situation: Situation, found: Fit | None = None) -> Judgement:
    """Judge whether a space is clear.

    Args:
        space: What must be clear.
        situation: The room.
        found: How it fits, where that is known already.
    """
    found = fit(space, situation) if found is None else found
    sizes = provided(space, situation, found)
    verdict, why = _verdict(space, situation, found)
    short = _short(space, found, sizes)
    citation = space.citations.get(short) or space.citations[ANY]
    said = (_reason(space, situation, found, short), why)
    if not found.all:
        # That nothing is in the way decides nothing while something is to be said.
        said = said[::-1]
    note = space.notes.get(short, space.notes.get(ANY, ""))
    return Judgement(
        requirement=space.requirement,
        subject=space.subject,
        verdict=verdict,
        citation=citation,
        reason=" ".join(part for part in (*said, note) if part),
        missing=why if verdict == "open" else "",
        short=short,
        required=space.required,
        printed=space.printed,
        provided=sizes,
        margin=margin(space.required, sizes),
        tier=space.tier,
        place=found.place if space.first != space.last else None,
        intrusions=tuple(
            _intrusion(space, situation, found.place, hit) for hit in found.all
        ),
        assumed=space.assumed,
        unread=space.unread.get(short, space.unread.get(ANY, ())),
        shapes=(clear_box(space, found),),
    )


def clear_box(space: Space, found: Fit) -> ClearBox:
    """Return the space where it was tested, to be drawn."""
    return ClearBox(
        space.frame,
        (found.place, 0.0, space.bottom),
        (found.place + space.width, space.depth, space.top),
    )


def margin(required: Sizes, sizes: Sizes) -> float | None:
    """Return the smallest of provided less required, or None where none compares."""
    return min(
        (sizes[name] - required[name] for name in required if name in sizes),
        default=None,
    )


def _verdict(space: Space, situation: Situation, found: Fit) -> tuple[Verdict, str]:
    if found.hits:
        tolerance = situation.survey_tolerance
        if tolerance and not fit(space.resized(-tolerance), situation).hits:
            return "open", _survey(situation)
        if space.permission:
            return "open", space.permission
        return "not-met", space.question
    if space.question:
        return "open", space.question
    if found.doubts:
        questions = sorted({hit.stretch.question for hit in found.doubts})
        return "open", " ".join(questions)
    tolerance = situation.survey_tolerance
    if tolerance and fit(space.resized(tolerance), situation).all:
        return "open", _survey(situation)
    return "met", ""


def _survey(situation: Situation) -> str:
    length = situation.length(situation.survey_tolerance)
    return f"The difference is within the survey tolerance of {length}: measure again."


def _short(space: Space, found: Fit, sizes: Sizes) -> str:
    """Name the size whose sentence is broken; "" where it is none in particular.

    Something that leaves the item's whole width clear is beside it: the width is
    short. Else it is the height or the depth, whichever lacks the smaller share of
    what is required: a duct overhead is too low, gear opposite is too near.
    """
    if not found.all:
        return ANY
    if space.reach is not None and any(reach(hit, space) for hit in found.all):
        return "reach"
    named: dict[str, str] = {way: name for name, way in space.measures.items()}
    deep = space.required.get("depth", 0.0) - space.behind
    if all(hit.extents[0][1] >= deep for hit in found.all) and "out" in named:
        # It may have to be further away than is required for certain.
        return named["out"]
    across = named.get("across", ANY)
    if sizes.get(across, 0.0) > 0:
        return across
    shares = [
        (sizes.get(name, 0.0) / space.required[name], -rank, name)
        for rank, way in enumerate(("out", "up"))
        if (name := named.get(way, ANY)) in space.required
        and (way == "out" or sizes.get(name, 0.0) > 0)
    ]
    return max(shares)[2] if shares else named.get("out", ANY)


def reach(hit: Hit, space: Space) -> float | None:
    """Return how far an associated item above or below comes past the face."""
    if hit.stretch.start <= 0 or space.reach is None:
        return None
    endless = float("inf")
    whole = hit.view.extents((-endless,) * 3, (endless,) * 3)
    return None if whole is None else whole[1][1]


def _reason(space: Space, situation: Situation, found: Fit, short: str) -> str:
    if not found.all:
        return space.clear
    length = situation.length
    if short == "reach" and space.reach is not None:
        past, name = max((reach(hit, space) or 0.0, hit.placed.id) for hit in found.all)
        return (
            f"{name} reaches {length(past)} past the front, "
            f"{length(past - space.reach)} more than the {length(space.reach)} that "
            f"is allowed{_others(found)}."
        )
    axis = {"out": 1, "up": 2}.get(space.measures.get(short, ""), 0)
    first = min(found.all, key=lambda hit: (hit.extents[0][axis], hit.placed.id))
    name, (low, high) = first.placed.id, first.extents
    if name == space.subject:
        name = f"{name} itself"
    match space.measures.get(short):
        case "out":
            away = space.words.get("out", "ahead of the front")
            return f"{name} is {length(low[1])} {away}{_others(found)}."
        case "up":
            up = length(low[2] - space.bottom)
            away = space.words.get("up", "above the floor")
            return f"{name} is {up} {away}{_others(found)}."
        case "across":
            inside = length(high[0] - low[0])
            return f"{name} takes {inside} of the width{_others(found)}."
    size = " x ".join(length(b - a) for a, b in zip(low, high, strict=True))
    return f"{name} is in the space with {size}{_others(found)}."


def _others(found: Fit) -> str:
    """Name what else is in the way."""
    names = sorted({hit.placed.id for hit in found.all})
    return f" (in the way: {', '.join(names)})" if len(names) > 1 else ""


def _intrusion(space: Space, situation: Situation, place: float, hit: Hit) -> Intrusion:
    low = (place, hit.stretch.start, space.bottom)
    high = (place + space.width, hit.end, space.top)
    body = situation.shared(hit.placed, space.frame, low, high)
    past = reach(hit, space)
    return Intrusion(
        hit.placed.id,
        body.volume,
        body.low,
        body.high,
        reach=past,
        allowed=None if past is None else space.reach,
        body=body,
    )
