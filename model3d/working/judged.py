"""The judgement of a working space, and of what stands in it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from model3d.geometry.tolerance import TOUCH
from model3d.judging.limit import at_least
from model3d.judging.measured.fit import fit
from model3d.judging.measured.provided import provided
from model3d.judging.space import ANY
from model3d.judging.verdict import clear_box, judge
from model3d.wording import headed, nothing_else, sentences
from model3d.wording.said import Named, ids, parts_of, say
from model3d.working.footing import ask_pit
from model3d.working.front import faces, front_of, is_limited
from model3d.working.needs import as_printed, states_less
from model3d.working.tested import deepest, floor_beside, tested
from model3d.working.within.inside import Allowance

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from model3d.judging.results import Judgement, Sizes
    from model3d.judging.situation import Situation
    from model3d.judging.space import Along, Limit, Space
    from model3d.standing.placed import Placed
    from model3d.working.tested import Tested

DEPTH: Final = "depth"


def judge_working_space(
    item: Placed, situation: Situation, words: Mapping[Along, str] | None = None
) -> Judgement:
    """Judge the working space of an item, by the condition that lies opposite.

    Args:
        item: The item; its front is where the space is.
        situation: The room.
        words: How ways are said, as a space has them.
    """
    it = tested(item, situation)
    space = _with_depth(it, words or {})
    judged = judge(space, situation, it.found, _sizes(it, space, situation))
    judged = replace(judged, condition=None if _unknown(it) else it.opposite.condition)
    judged = _with_condition(_with_own_size(judged, it), it, situation)
    if judged.verdict == "met":
        judged = _with_doubts(judged, it, situation)
    return judged


def is_clear(item: Placed, situation: Situation) -> bool:
    """Tell whether ``judge_working_space`` says met, where that is quickly told.

    False where something is in the way, not known, or stated otherwise than printed.
    """
    it = tested(item, situation)
    unsure = _unknown(it) or it.space.missing or situation.survey_tolerance
    if unsure or it.found.all or it.edge is not None:
        return False
    wide = it.space.width >= front_of(item).width - TOUCH
    return wide and not states_less(item, it.figures, situation)


def _unknown(it: Tested) -> bool:
    return bool(it.figures.missing)


def _with_depth(it: Tested, words: Mapping[Along, str]) -> Space:
    """Return the space with the depth of its own condition."""
    space, behind = it.space, it.figures.behind
    printed = dict(space.printed)
    if it.figures.printed_depths:
        printed[DEPTH] = it.figures.printed_depths[it.opposite.condition - 1]
    return replace(
        space,
        depth=it.depth,
        required={**space.required, DEPTH: it.depth + behind},
        printed=printed,
        assumed=space.assumed + it.opposite.assumed,
        # With limited access the space begins at the underside, not at the floor.
        words={"up": "its underside", **words} if it.figures.limited else words,
    )


def _sizes(it: Tested, space: Space, situation: Situation) -> Sizes:
    """Return what the room gives; the depth up to what decides the condition."""
    sizes = dict(provided(space, situation, it.found))
    sizes.pop(DEPTH, None)
    depth = it.opposite.distance
    if 0.0 < it.depth - depth <= TOUCH:
        # Contact: a round body is drawn a little around itself.
        depth = it.depth
    if TOUCH < depth < float("inf"):
        sizes[DEPTH] = depth + it.figures.behind
    return {name: sizes[name] for name in space.measures if name in sizes}


def _with_own_size(judged: Judgement, it: Tested) -> Judgement:
    """Say so where the size that is short is the item's own, and no printed one."""
    own, front, name = it.item.id, front_of(it.item), judged.short
    if judged.verdict == "met" or name in judged.printed:
        return judged
    wide = abs(it.space.width - front.width) < TOUCH
    high = abs(it.space.top - front.top) < TOUCH
    match name:
        case "width" if wide:
            said = say("The space is as wide as {}.", Named(own))
        case "height" if high:
            said = say("The space goes up to the top of {}.", Named(own))
        case _:
            return judged
    return replace(judged, reason=sentences(judged.reason, said))


def _with_condition(judged: Judgement, it: Tested, situation: Situation) -> Judgement:
    """Name the condition and what makes it, where that decides the figure."""
    written = it.item.item
    stated = None if written is None else written.condition
    same = len({round(depth, 6) for depth in it.figures.depths}) == 1
    decides = judged.short in {"", DEPTH} and not same and not _unknown(it)
    if not decides and stated is None:
        return judged
    name = f"Condition {_name(it, situation)}"
    if stated is not None and written is not None:
        said = f"{name} was stated: {written.why}"
        said = said if said.endswith(".") else f"{said}."
    else:
        said = say("{}: {}.", name, _made_by(judged, it, situation))
    return replace(judged, reason=sentences(judged.reason, said))


def _name(it: Tested, situation: Situation) -> str:
    """Return a condition as the rule book calls it."""
    condition = it.opposite.condition
    prefix = "high-voltage" if it.figures.high_voltage else "working-space"
    entry = situation.book.entry(f"{prefix}-depth")
    if not entry.has("condition_names"):
        return str(condition)
    return entry.words("condition_names")[condition - 1]


def _made_by(judged: Judgement, it: Tested, situation: Situation) -> str:
    """Say what makes the condition; what the reason names is not measured again."""
    what = it.opposite
    if what.placed is None:
        return "nothing live or grounded is opposite"
    is_named = parts_of(judged.reason)[:2] == (what.placed.id, " is ")
    away = (
        "" if is_named else say(" {} ahead", situation.length(what.distance, it.depth))
    )
    name = "it" if is_named else Named(what.placed.id)
    match what.condition:
        case 1 if what.placed.grounded is None:
            return say("{}{} is not known to be grounded", name, away)
        case 1:
            return say("{}{} is neither live nor grounded", name, away)
        case 2 if faces(what.placed, it.item):
            return (
                say("{} faces it{}", name, away)
                if not is_named
                else "it faces this equipment"
            )
        case 2 if what.placed.grounded is None:
            return say("{}{} is taken as grounded", name, away)
        case 2:
            return say("{}{} is grounded", name, away)
        case _:
            return (
                "it faces this equipment"
                if is_named
                else say("{} faces it{}", name, away)
            )


def _with_doubts(judged: Judgement, it: Tested, situation: Situation) -> Judgement:
    """Leave open what no text of the book settles, though the space is clear."""
    narrow = _narrower_than_the_item(it, situation)
    doubt = narrow or ask_pit(it.item, situation)
    doubt = doubt or _dropping_floor(it, situation) or _stated_less(it, situation)
    if not doubt:
        return judged
    return replace(
        judged,
        verdict="open",
        reason=sentences(doubt, nothing_else(judged.reason)),
        missing=doubt,
        unknown=("width",) if narrow else (),
        exception="",
    )


def _stated_less(it: Tested, situation: Situation) -> str:
    """Say what the printed figures would bar where the scene states lesser ones."""
    if not states_less(it.item, it.figures, situation):
        return ""
    judged = judge_working_space(as_printed(it.item), situation)
    if judged.verdict == "met":
        return ""
    return sentences(
        "The scene states figures of its own for the space: a person must say who "
        "permits less than is printed.",
        headed("By the printed figures", judged.reason),
    )


def _dropping_floor(it: Tested, situation: Situation) -> str:
    judged_apart = situation.book.entry("clear-floor").given and not (
        it.figures.high_voltage or is_limited(situation)
    )
    if it.figures.limited or judged_apart:
        return ""
    if it.edge is None:
        return floor_beside(it, situation)
    verdict, _ = at_least(it.edge.distance, it.depth, situation)
    if verdict == "met":
        return ""
    return sentences(
        it.edge.words(situation, it.depth),
        f"{situation.book.name} says nothing of steps in the floor: the authority "
        "having jurisdiction decides.",
    )


def _narrower_than_the_item(it: Tested, situation: Situation) -> str:
    """Say what stands before the rest of an item that is wider than its space."""
    own = front_of(it.item).width
    if it.space.width >= own - TOUCH:
        return ""
    whole = replace(it.space, width=own, first=0.0, last=0.0, wanted=0.0)
    names = sorted({hit.placed.id for hit in fit(whole, situation).all})
    if not names:
        return ""
    return say(
        "{} stands before the rest of the front, which the printed width does not "
        "cover: a person must say that nothing is worked at there.",
        ids(names),
    )


def judge_held(
    it: Tested,
    situation: Situation,
    chosen: Callable[[Limit, float], Limit],
    *,
    citation: str,
    unread: tuple[str, ...],
    clear: str,
) -> Judgement:
    """Judge some of what a working space may hold, where the space was tested.

    Without a voltage the depth is not known: what stands in the deepest there is, but
    not in the shallowest, leaves it open. Where a smaller space may be permitted, so
    is what stands in this one.

    Args:
        it: The working space.
        situation: The room.
        chosen: Makes of the space's own limit, and its depth, the limit of what is
            judged.
        citation: Of the sentence that bars it.
        unread: The same, where it was not read in any source.
        clear: The reason given where there is nothing of the kind.
    """
    missing = it.figures.missing
    space = replace(
        it.fixed,
        depth=it.space.depth,
        limit=chosen(it.space.limit, it.depth),
        required={},
        printed={},
        measures={"depth": "out", "width": "across"},
        citations={ANY: citation},
        unread={ANY: unread},
        missing="",
        clear=clear,
        reach=None,
        assumed=(),
    )
    # None of its sizes is asked for, so that none is measured.
    judged = replace(judge(space, situation, sizes={}), short="", place=None)
    if judged.verdict == "met":
        # Drawn as the working space is: beyond its depth nothing has to be clear.
        judged = replace(
            judged, shapes=(clear_box(replace(space, depth=it.depth), it.found),)
        )
    if missing and judged.verdict == "met":
        depth = deepest(situation)
        limit = Allowance(it.item, situation, (depth,) * 3, it.figures)
        deeper = replace(space, depth=depth, limit=chosen(limit, depth))
        if fit(deeper, situation).all:
            return replace(judged, verdict="open", reason=missing, missing=missing)
    return judged
