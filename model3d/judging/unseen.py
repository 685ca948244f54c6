"""What is not known to be free: the one place that says so.

What a scan did not see is not, nor what a thing may take up of which nobody says how
large it is, or which could not be read.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final, NamedTuple

from model3d.scene.words.nearest import listed
from model3d.wording import nothing_else, sentences
from model3d.wording.said import Named, ids, say

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

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
    there: tuple[Judgement, ...],
    gone: tuple[Judgement, ...],
    names: tuple[str, ...],
    unread: Collection[str] = (),
) -> tuple[Judgement, ...]:
    """Return what is so however much the items take up that are uncertain.

    What differs with them is open. Some could help, such as a wall that would close a
    view, so that what is met must be so both ways.

    Args:
        there: The judgements of a question while they take up the most that they can.
        gone: Those of the same question while they are not there.
        names: Their ids.
        unread: Of these the ids of what could not be read: no size is asked of it.
    """
    doubt = _Doubt(names, unread)
    return tuple(_either_way(there, gone, doubt))


def _either_way(
    there: tuple[Judgement, ...], gone: tuple[Judgement, ...], doubt: _Doubt
) -> Iterator[Judgement]:
    without = {one.key: one for one in gone}
    for one in there:
        other = without.pop(one.key, None)
        if other is None:
            yield _unsure(one, one, doubt)
        elif one.verdict == other.verdict == "not-met":
            yield other  # what is in the way for certain
        elif one.verdict == other.verdict and one.reason == other.reason:
            yield one
        elif one.verdict == "open" and other.verdict != "not-met":
            # What is asked besides is asked still, but not of what nobody has read.
            yield _unsure(other if doubt.only_unread(one) else one, one, doubt)
        elif one.verdict == other.verdict:
            yield one
        else:
            yield _unsure(other, one, doubt)
    for other in without.values():
        yield _unsure(other, other, doubt)


class _Doubt(NamedTuple):
    """What may be in the way: all by their ids, and of these what was not read."""

    names: tuple[str, ...]
    unread: Collection[str]

    def hits(self, there: Judgement) -> list[str]:
        """Return the ids of those that are in the way; all, where none is named."""
        hits = (one.item for one in there.intrusions if one.item in self.names)
        return [*dict.fromkeys(hits)] or [*self.names]

    def only_unread(self, there: Judgement) -> bool:
        """Tell whether nothing is in the way but what could not be read."""
        return all(name in self.unread for name in self.hits(there))


def _unsure(judged: Judgement, there: Judgement, doubt: _Doubt) -> Judgement:
    """Return what is sure of a judgement, open for what may be in the way."""
    which = doubt.hits(there)
    sized = [name for name in which if name not in doubt.unread]
    lost = [name for name in which if name in doubt.unread]
    said = sentences(_asked(sized, *_SIZE), _asked(lost, *_READ))
    return replace(
        judged,
        verdict="open",
        reason=sentences(said, nothing_else(judged.reason)),
        missing=sentences(said, judged.missing),
        exception="",
    )


_SIZE: Final = (
    "Say how large {} is: it is drawn as the most that it can take up.",
    "Say how large {} are: they are drawn as the most they can take up.",
)
_LOST: Final = (
    "{} could not be read and may reach in here: look, draw here what is in the way,"
    " and strike"
)
_READ: Final = (
    f"{_LOST} it from not_read.",
    f"{_LOST} them from not_read.",
)


def _asked(names: list[str], one: str, several: str) -> str:
    if not names:
        return ""
    told = listed(map(Named, names[:_NAMED]), "and")
    if more := names[_NAMED:]:
        told = say("{} and {} more", ids(names[:_NAMED]), str(len(more)))
    return say(one if len(names) == 1 else several, told)


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


def not_looked_at(scene: Scene) -> str:
    """Return what places and changes do not say of what was not read; "" if all was."""
    count = sum(one.count for one in scene.not_read)
    if not count:
        return ""
    things = "1 thing" if count == 1 else f"{count} things"
    return (
        f"{things} of what the room was made from could not be read: what is offered "
        "keeps away from where they are placed, as far as that is known, and they may "
        "still be in the way."
    )
