"""An item in one orientation, to be moved about: it, what it carries, and the rest."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING, Final

from model3d.check import situate
from model3d.geometry.plan import flat
from model3d.geometry.plan.footprint import footprint
from model3d.geometry.tolerance import TOUCH
from model3d.scene.parts.placement import support_of
from model3d.scene.parts.site import LIMITED
from model3d.standing.arrangement import Arrangement, rearrange
from model3d.working.sides import WORKED_AT, reached, side_front

if TYPE_CHECKING:
    from model3d.judging.situation import Situation
    from model3d.scene.kinds import Kind
    from model3d.scene.parts.placement import At, AtWall
    from model3d.scene.scene import Scene
    from model3d.standing.placed import Front, Placed


@dataclass(frozen=True)
class Posed:
    """An item in one orientation at some place, from which it is moved.

    Attributes:
        situation: The scene with the item at that place.
        name: Its id.
    """

    situation: Situation
    name: str

    @cached_property
    def asked(self) -> Situation:
        """The scene asked by the figures that a verdict rests on."""
        return _lenient(self.situation)

    @cached_property
    def item(self) -> Placed:
        """The item itself."""
        return self.situation.arrangement.items[self.name]

    @cached_property
    def front(self) -> Front:
        """Its front."""
        if self.item.front is None:
            msg = f"{self.name} has no front"
            raise ValueError(msg)
        return self.item.front

    @cached_property
    def movers(self) -> tuple[Placed, ...]:
        """The item, and all that stands on, over or under it."""
        return tuple(p for p in self.situation.items if p.id in self.moved)

    @cached_property
    def moved(self) -> frozenset[str]:
        """The ids of what moves."""
        return carried(self.situation.scene, self.name)

    @cached_property
    def others(self) -> tuple[Placed, ...]:
        """All that stays, the room too."""
        return tuple(p for p in self.situation.items if p.id not in self.moved)

    @cached_property
    def base(self) -> Situation:
        """The scene without what moves, asked as verdicts are."""
        return _lenient(self._only(self.others))

    @cached_property
    def bare(self) -> Situation:
        """What moves and nothing else, asked as verdicts are."""
        return _lenient(self._only(self.movers))

    def _only(self, kept: tuple[Placed, ...]) -> Situation:
        old = self.situation.arrangement
        names = {placed.id for placed in kept}
        items = tuple(i for i in old.scene.items if i.id in names)
        scene = old.scene.model_copy(update={"items": items})
        found = Arrangement(scene, old.shell, {p.id: p for p in kept})
        return replace(self.situation, arrangement=found)

    def at(self, place: At | AtWall) -> Situation:
        """Return the scene with the item at another place in the same room."""
        old = self.situation
        items = tuple(
            item.model_copy(update={"place": place}) if item.id == self.name else item
            for item in old.scene.items
        )
        scene = old.scene.model_copy(update={"items": items})
        return replace(old, arrangement=rearrange(old.arrangement, scene))

    @cached_property
    def uncertain(self) -> bool:
        """Whether what is in the way of what depends on more than where it stands.

        Then every bar is only a question, to be asked of the rule.
        """
        return self.uncertain_room or any(_changes_more(p.kind) for p in self.movers)

    @property
    def uncertain_room(self) -> bool:
        """Whether that is so of everything in the room."""
        scene = self.situation.scene
        return scene.premises == "existing-dwelling" or scene.use in LIMITED

    @cached_property
    def may_hide(self) -> bool:
        """Whether structure or gear in the room could close a view across it."""
        # Whatever closes the view closes its upper part too.
        return any(
            not p.of_room
            and (p.kind.structure or p.kind.needs_working_space or p.associated)
            and p.top > _OVERHEAD
            for p in self.situation.items
        )

    @cached_property
    def raised(self) -> dict[float, flat.Geometry]:
        """Platforms and pads on which a person may stand, by their height."""
        found: dict[float, list[flat.Geometry]] = {}
        for p in self.others:
            if (p.kind.platform or p.kind.pad) and p.front is not None:
                top = round(p.front.top, 4)
                plan = footprint(p.front.box(), p.front.bottom, p.front.top)
                found.setdefault(top, []).append(plan)
        return {top: flat.union_all(plans) for top, plans in found.items()}

    @cached_property
    def pits(self) -> tuple[Placed, ...]:
        """The holes in the floor that stay."""
        return tuple(p for p in self.others if p.kind.hole)


_OVERHEAD: Final = 1.2
"""Metres. Every working space is higher, so what closes it is too."""


def _lenient(situation: Situation) -> Situation:
    # What misses the scene's own figures is met by the lesser of either system's.
    either = situation.accepted == "either"
    return situation.by("either") if either else situation


def pose(scene: Scene, name: str) -> Posed:
    """Return an item where a scene has it.

    Raises:
        BookError: The scene's rule book cannot be used.
        MeshError: A mesh file of the scene cannot be used.
    """
    return Posed(situate(scene), name)


def _changes_more(kind: Kind) -> bool:
    """Tell whether a thing changes more for others than that it is in their way."""
    return kind.structure or kind.hole or kind.pad or kind.leak_guard


def carried(scene: Scene, name: str) -> frozenset[str]:
    """Return the ids of an item and of all that stands on, over or under it."""
    leaning: dict[str, list[str]] = {}
    for item in scene.items:
        below = support_of(item.place)
        if below is not None:
            leaning.setdefault(below[1], []).append(item.id)
    found: set[str] = set()
    left = [name]
    while left:
        one = left.pop()
        if one not in found:
            found.add(one)
            left += leaning.get(one, ())
    return frozenset(found)


def looks(placed: Placed) -> list[Front]:
    """Return the fronts of an item that people work at, its sides among them."""
    if not placed.live or placed.front is None:
        return []
    front = placed.front
    sides = [side for side, word in reached(placed) if word == WORKED_AT]
    return [front, *(side_front(front, side) for side in sides)]


def shifted(placed: Placed, by: tuple[float, float]) -> Placed:
    """Return an item whose front is elsewhere in plan: enough to ask who faces it."""
    front = placed.front
    if front is None:
        return placed
    frame = replace(front.frame, x=front.frame.x + by[0], y=front.frame.y + by[1])
    return replace(placed, front=replace(front, frame=frame))


def ahead(
    fronts: list[Front], out: tuple[float, float], ends: list[tuple[float, float]]
) -> list[tuple[tuple[float, float], float]]:
    """Return how far ahead of each front that looks against a way some ends are.

    Returns:
        The way each such front looks, and how far the furthest end is ahead of it.
    """
    found = []
    for front in fronts:
        (x, y) = front.frame.out
        if x * out[0] + y * out[1] <= -_ACROSS:
            far = max(front.frame.to_frame(*end)[1] for end in ends)
            found.append(((x, y), far - TOUCH))
    return found


_ACROSS: Final = 1e-9
"""Cosine below which two fronts count as at right angles: rounding of a turn."""


def ends_of(front: Front) -> list[tuple[float, float]]:
    """Return the two ends of a front in plan."""
    return [front.frame.to_plan(0.0, 0.0), front.frame.to_plan(front.width, 0.0)]
