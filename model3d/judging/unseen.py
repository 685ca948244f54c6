"""What is not known to be free: the one place that says so.

What a scan did not see is not, nor what a thing may take up of which nobody says how
large it is.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from model3d.scene.words.nearest import listed
from model3d.wording import nothing_else, sentences
from model3d.wording.said import Named, ids, say

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.results import Judgement
    from model3d.scene.scene import Scene

WITHOUT_SPACE: Final = frozenset({"door-hardware", "handle-height", "illumination"})
"""Requirements that nothing in the way can break; all others may not be met beside a
scan. A new rule is taken as one that something in the way can break."""


def clouds_of(scene: Scene) -> tuple[str, ...]:
    """Return the ids of the items that are clouds of points, in their order.

    One beside a size is none: its box is what is judged.
    """
    return tuple(
        item.id for item in scene.items if item.points is not None and item.size is None
    )


def guarded(judged: Judgement, clouds: tuple[str, ...]) -> Judgement:
    """Return a judgement that is not met because of what a scan did not see.

    Every judgement of a scene passes here, whoever asks. What was measured stays.

    Args:
        judged: The judgement.
        clouds: The ids of the clouds of points of its scene.
    """
    if not clouds or judged.verdict != "met" or judged.requirement in WITHOUT_SPACE:
        return judged
    said = _sentence(clouds)
    return replace(
        judged,
        verdict="open",
        reason=sentences(said, judged.reason),
        missing=said,
        exception="",
    )


def _sentence(names: tuple[str, ...]) -> str:
    which = (
        say("scan {}", Named(names[0]))
        if len(names) == 1
        else say("scans {}", listed(map(Named, names), "and"))
    )
    return say("What the {} did not see is not known to be free.", which)


_NAMED: Final = 4
"""Uncertain items of which any may be meant that are told by name; more are counted."""


def either_way(
    there: tuple[Judgement, ...], gone: tuple[Judgement, ...], names: tuple[str, ...]
) -> tuple[Judgement, ...]:
    """Return what is so however much the items take up that are uncertain.

    What differs with them is open. Some could help, such as a wall that would close a
    view, so that what is met must be so both ways.

    Args:
        there: The judgements of a question while they take up the most that they can.
        gone: Those of the same question while they are not there.
        names: Their ids.
    """
    return tuple(_either_way(there, gone, names))


def _either_way(
    there: tuple[Judgement, ...], gone: tuple[Judgement, ...], names: tuple[str, ...]
) -> Iterator[Judgement]:
    without = {one.key: one for one in gone}
    for one in there:
        other = without.pop(one.key, None)
        if other is None:
            yield _unsure(one, one, names)
        elif one.verdict == other.verdict == "not-met":
            yield other  # what is in the way for certain
        elif one.verdict == other.verdict and one.reason == other.reason:
            yield one
        elif one.verdict == "open" and other.verdict != "not-met":
            yield _unsure(one, one, names)  # what is asked besides is asked still
        elif one.verdict == other.verdict:
            yield one
        else:
            yield _unsure(other, one, names)
    for other in without.values():
        yield _unsure(other, other, names)


def _unsure(judged: Judgement, there: Judgement, names: tuple[str, ...]) -> Judgement:
    """Return what is sure of a judgement, open for what may be in the way."""
    hits = (one.item for one in there.intrusions if one.item in names)
    which = [*dict.fromkeys(hits)] or [*names]
    said = _asked(which)
    return replace(
        judged,
        verdict="open",
        reason=sentences(said, nothing_else(judged.reason)),
        missing=sentences(said, judged.missing),
        exception="",
    )


def _asked(names: list[str]) -> str:
    told = listed(map(Named, names[:_NAMED]), "and")
    if more := names[_NAMED:]:
        told = say("{} and {} more", ids(names[:_NAMED]), str(len(more)))
    if len(names) == 1:
        words = "Say how large {} is: it is drawn as the most that it can take up."
    else:
        words = "Say how large {} are: they are drawn as the most they can take up."
    return say(words, told)


def no_judging(scene: Scene) -> str:
    """Return why nothing can be offered as met in a scene; "" where it can."""
    names = clouds_of(scene)
    if not names:
        return ""
    named = [*map(Named, names)]
    which = say("the scan {}", named[0]) if len(named) == 1 else listed(named, "and")
    return say(
        "While {} stands there, no change can be judged: what the scanner did not see "
        "is not known to be free.",
        which,
    )
