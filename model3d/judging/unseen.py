"""What a scan did not see is not known to be free: the one place that says so."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from model3d.scene.words.nearest import listed
from model3d.wording import sentences
from model3d.wording.said import Named, say

if TYPE_CHECKING:
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
