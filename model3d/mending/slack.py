"""How far near things may come before what is met is met no more."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from model3d.egress.large.line_up import in_one_row
from model3d.geometry.plan import flat
from model3d.judging.unseen import no_judging
from model3d.mending.map.other_spaces import other_bars
from model3d.mending.map.posed import Posed, pose
from model3d.scene.kinds import KINDS

if TYPE_CHECKING:
    from model3d.judging.situation import Situation
    from model3d.scene.scene import Scene

REACH: Final = 1.0
"""Metres. What may come further than that before anything fails is not near."""


@dataclass(frozen=True, slots=True)
class Slack:
    """How far one thing may come before one requirement fails.

    Attributes:
        requirement, subject: What fails then.
        thing: What comes nearer.
        distance: How far it may be moved in plan, whichever way, metres.
    """

    requirement: str
    subject: str
    thing: str
    distance: float


def slacks(scene: Scene) -> tuple[Slack, ...]:
    """Return how far near things may come before a requirement at another item fails.

    The tightest first. Asked of what is met as drawn, of things that can be moved, with
    all that stands on them; structure is asked about too, for it may have been measured
    wrongly.

    Raises:
        BookError: The scene's rule book cannot be used.
        MeshError: A mesh file of the scene cannot be used.
    """
    if no_judging(scene):
        # Nothing that needs room is met.
        return ()
    here, around = flat.Point(0.0, 0.0), flat.box(-REACH, -REACH, REACH, REACH)
    found: dict[tuple[str, str, str], float] = {}
    # How far something is from a limit does not depend on how well it is known.
    scene = scene.standing().model_copy(update={"survey_tolerance": 0.0})
    whole = pose(scene, "").situation
    for item in scene.items:
        if KINDS[item.kind].hole:
            continue
        for bar in other_bars(Posed(whole, item.id), around):
            if bar.sure != "barred" or bar.plan.is_empty:
                continue
            distance = bar.plan.distance(here)
            key = bar.requirement, bar.of, item.id
            if _are_a_row(whole, item.id, bar.of):
                continue
            if distance <= REACH and distance < found.get(key, float("inf")):
                found[key] = float(distance)
    kept = [Slack(*key, distance) for key, distance in found.items() if distance > 0]
    return tuple(sorted(kept, key=lambda s: (round(s.distance, 6), s.subject, s.thing)))


def _are_a_row(whole: Situation, thing: str, subject: str) -> bool:
    """Return whether two things touch side by side: nobody moves one into the other."""
    one, other = (whole.arrangement.items[name].front for name in (thing, subject))
    return one is not None and other is not None and in_one_row(one, other)


def to_measure(scene: Scene, found: tuple[Slack, ...]) -> Slack | None:
    """Return the one distance that is to be measured again; None: none is so tight.

    That is the tightest, where it is less than the dimensions are known by.
    """
    tolerance = scene.metres(scene.survey_tolerance)
    return found[0] if found and found[0].distance < tolerance else None


def document(scene: Scene, found: tuple[Slack, ...]) -> dict[str, Any]:
    """Return slack as plain data, in millimetres."""
    told: dict[str, Any] = {"format": 1, "slack": [_told(one) for one in found]}
    again = to_measure(scene, found)
    if again is not None:
        told["measure"] = _told(again)
    return told


def _told(one: Slack) -> dict[str, Any]:
    return {
        "requirement": one.requirement,
        "subject": one.subject,
        "thing": one.thing,
        "distance": round(one.distance * 1000, 1) + 0.0,
    }
