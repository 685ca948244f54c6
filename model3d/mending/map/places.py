"""Where an item may stand: along every wall, or on the floor, and the best of it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING, Final

from model3d.check import situate
from model3d.geometry.plan import flat
from model3d.judging.unseen import no_judging
from model3d.mending.map.free import Field, Free
from model3d.mending.map.leaving.told import Purse
from model3d.mending.map.leaving.way_bars import way_bars
from model3d.mending.map.leaving.without import room_without
from model3d.mending.map.posed import Posed
from model3d.mending.map.stance import ItemSize, Stance
from model3d.scene.parts.placement import At, AtWall
from model3d.standing.arrangement import rearrange
from model3d.standing.moves import axes_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from model3d.judging.situation import Situation
    from model3d.mending.effort import Effort
    from model3d.scene.parts.item import Item
    from model3d.scene.parts.placement import Facing, Place
    from model3d.scene.scene import Scene


WAYS: Final = 1200
"""So many questions about ways out are asked for a map that is told, in quick ones: a
map in a room of a dozen things takes some seconds longer. A count, so that the same
scene gives the same map."""


class PlaceError(ValueError):
    """An item whose places cannot be told; the message says why."""


@dataclass(frozen=True)
class Places:
    """Where one item may stand.

    Attributes:
        item: Its id.
        maps: One for every wall, or for every facing on the floor.
    """

    item: str
    maps: tuple[Free, ...]

    @cached_property
    def barred(self) -> tuple[tuple[str, str, str], ...]:
        """What bars the rest: thing in the way, requirement, and of whom it is."""
        found = {
            (by, bar.requirement, bar.of)
            for one in self.maps
            for bar in (*one.of("barred", "asked"), *one.way_bars)
            for by in bar.by
            if bar.sure != "open" and one.is_barring(bar)
        }
        return tuple(sorted(found))


def free_places(
    scene: Scene, name: str, facings: Sequence[Facing] = (), *, ways: int = 0
) -> Places:
    """Map where an item of a scene may stand.

    Its height and its gap behind stay. An item at a wall may go along every wall; one
    on the floor anywhere, in its own facing.

    Args:
        scene: The scene, the item in it.
        name: The item's id.
        facings: On the floor, in these facings, wherever it is now.
        ways: So many questions are asked of ways out at the most, of all walls or
            facings together; with none the map tells nothing of them.

    Raises:
        BookError: The scene's rule book cannot be used.
        MeshError: A mesh file of the scene cannot be used.
        PlaceError: The item is not there, cannot be put elsewhere, or there is a scan.
    """
    item = movable(scene, name)
    if unseen := no_judging(scene):
        raise PlaceError(unseen)
    situation = situate(scene)
    stances = _stances(situation, item, facings)
    maps = [_map(situation, item, one) for one in stances]
    if ways and maps:
        left, without = ways, room_without(maps[0].posed)
        for place, one in enumerate(maps):
            # What one wall does not need is left to the others.
            purse = Purse(left // (len(maps) - place))
            left -= purse.left
            maps[place] = replace(one, way_bars=way_bars(one, without, purse))
            left += max(purse.left, 0)
    return Places(name, tuple(maps))


def movable(scene: Scene, name: str) -> Item:
    """Return an item that can be put elsewhere.

    Raises:
        PlaceError: It is not there, is a run, or a mesh without a size.
    """
    item = next((one for one in scene.items if one.id == name), None)
    if item is None:
        msg = f"found {name}, right is the id of an item of the scene"
        raise PlaceError(msg)
    if item.from_ is not None:
        msg = f"found {name}, which is a run, right is an item with a place"
        raise PlaceError(msg)
    if item.size is None:
        msg = f"found {name}, a mesh without a size, right is an item with a size"
        raise PlaceError(msg)
    if item.place is None:
        msg = f"found {name}, which has no place, right is an item with a place"
        raise PlaceError(msg)
    return item


def _stances(
    situation: Situation, item: Item, facings: Sequence[Facing]
) -> Iterator[Stance]:
    arrangement = situation.arrangement
    front = arrangement.items[item.id].front
    if front is None:
        msg = f"{item.id} has no front"
        raise PlaceError(msg)
    shell, scene = arrangement.shell, situation.scene
    gap = wall_gap(situation, item)
    size = ItemSize(
        front.width,
        front.depth,
        front.top - front.bottom,
        front.bottom,
        0.0 if gap is None else gap,
        scene.units,
    )
    if gap is not None and not facings:
        yield from (
            Stance(size, line)
            for line in shell.lines
            if line.name not in shell.open_sides and line.length >= size.width
        )
        return
    middle = front.frame.to_plan(front.width / 2, -front.depth / 2)
    size = replace(size, gap=0.0)
    for facing in facings or (facing_of(scene, item),):
        yield Stance(size, None, facing, middle)


def wall_gap(situation: Situation, item: Item) -> float | None:
    """Return how far behind an item its wall is, metres; None: it is at no wall.

    What hangs over, under or stands on something at a wall is at that wall.
    """
    items = {one.id: one for one in situation.scene.items}
    place = _ground(items, item.place)
    front = situation.arrangement.items[item.id].front
    if not isinstance(place, AtWall) or front is None:
        return None
    line = situation.arrangement.shell.line(place.wall)
    x, y = front.frame.to_plan(0.0, -front.depth)
    return round(line.frame.to_frame(x, y)[1], 9) + 0.0


def _ground(items: dict[str, Item], place: Place | None) -> At | AtWall | None:
    while place is not None and not isinstance(place, At | AtWall):
        base = next(
            value
            for key in ("stands_on", "over", "under")
            if (value := getattr(place, key, None)) is not None
        )
        place = items[base].place
    return place


def facing_of(scene: Scene, item: Item) -> Facing:
    """Return where an item faces, as it would be written."""
    items = {one.id: one for one in scene.items}
    place = _ground(items, item.place)
    if isinstance(place, At):
        return "south" if place.facing is None else place.facing
    _, (x, y) = axes_of(scene, item)
    words: dict[tuple[float, float], Facing] = {
        (0.0, 1.0): "north",
        (1.0, 0.0): "east",
        (0.0, -1.0): "south",
        (-1.0, 0.0): "west",
    }
    exact = words.get((round(x, 12) + 0.0, round(y, 12) + 0.0))
    return exact if exact is not None else _degrees(x, y)


def _degrees(x: float, y: float) -> float:
    from math import atan2, degrees  # noqa: PLC0415

    return round(degrees(atan2(x, y)) % 360, 6)


def _map(situation: Situation, item: Item, stance: Stance) -> Free:
    posed = _put(situation, item, stance)
    within = stance.within(posed)
    return Free(Field(posed, stance.walls_count, within), stance, within)


def _put(situation: Situation, item: Item, stance: Stance) -> Posed:
    scene = situation.scene
    put = item.model_copy(update={"place": stance.place()})
    items = tuple(put if one.id == item.id else one for one in scene.items)
    there = scene.model_copy(update={"items": items})
    arrangement = rearrange(situation.arrangement, there)
    return Posed(replace(situation, arrangement=arrangement), item.id)


@dataclass(frozen=True)
class Around:
    """Where an item may be moved to from where it is, as it is turned.

    Attributes:
        free: Along its wall, or on the floor; None for a run, or a mesh without a size,
            or where its wall is no side of the room.
        field: What bars it, ahead of the wall and behind it too.
        here: The displacement at which it stands now.
    """

    free: Free | None
    field: Field
    here: tuple[float, float]


def around(
    situation: Situation, name: str, reach: float, effort: Effort | None = None
) -> Around:
    """Return where an item may be moved to from where it is.

    Args:
        situation: The scene.
        name: The item's id.
        reach: How far it is moved at the most, but along its wall, metres.
        effort: How often rules may be asked; None: as often as it takes.

    Raises:
        PlaceError: The item is not there, or cannot be put elsewhere by a map.
    """
    near, now = flat.box(-reach, -reach, reach, reach), situation.arrangement
    item = next(one for one in situation.scene.items if one.id == name)
    front = situation.arrangement.items[name].front
    if front is None or item.size is None or item.place is None:
        alone = Field(Posed(situation, name), None, near, effort, now)
        return Around(None, alone, (0.0, 0.0))
    for stance in _stances(situation, item, ()):
        if stance.wall is None:
            free = _map(situation, item, stance)
            field = replace(free.field, effort=effort, now=now)
            return Around(replace(free, field=field), field, (0.0, 0.0))
        x, y = front.frame.out
        if abs(x - stance.out[0]) + abs(y - stance.out[1]) < _SAME_WAY:
            left = front.frame.to_plan(0.0, -front.depth)
            along, away = stance.wall.frame.to_frame(*left)
            if abs(away - stance.size.gap) < _SAME_WAY:
                (dx, dy) = stance.along
                here = along * dx, along * dy
                posed = _put(situation, item, stance)
                line = stance.within(posed)
                ways = flat.LineString(
                    [(here[0] + x * a, here[1] + y * a) for a in (-reach, reach)]
                )
                both = flat.union_all([line, ways])
                field = Field(posed, stance.walls_count, both, effort, now)
                return Around(Free(field, stance, line), field, here)
    alone = Field(Posed(situation, name), None, near, effort, now)
    return Around(None, alone, (0.0, 0.0))


_SAME_WAY: Final = 1e-6
"""Metres, and sine of a turn: rounding."""
