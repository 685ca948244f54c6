"""From what is written to what stands in the room: every item in its place, in metres.

Placement follows the scene format: against a wall, at a point, on, over or under
another item, in chains of any length. Nothing here is judged.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from model3d.geometry.bodies.shapes import rod, round_section
from model3d.geometry.bodies.solid import Box, Mesh
from model3d.geometry.clouds.body import Cloud
from model3d.geometry.frame import Frame
from model3d.geometry.tolerance import PARALLEL
from model3d.scene.kinds import KINDS
from model3d.scene.parts.item import AskedSpace
from model3d.scene.parts.placement import BEARING, At, AtWall, Over, StandsOn, Under
from model3d.scene.shape_files.clouds import cloud_of
from model3d.scene.shape_files.meshes import mesh_of
from model3d.standing.looks import drawn_of, in_box, surveyed_of
from model3d.standing.placed import Front, Placed
from model3d.standing.shell import Shell, shell
from model3d.standing.unread import unread_in

if TYPE_CHECKING:
    from collections.abc import Collection

    from model3d.geometry.bodies.solid import Solid
    from model3d.scene.kinds import Kind
    from model3d.scene.parts.item import Item
    from model3d.scene.parts.placement import Place
    from model3d.scene.scene import Scene


@dataclass(frozen=True)
class Arrangement:
    """A scene with every item in its place.

    Attributes:
        scene: What was written; of the items those that have a place.
        shell: The room's own surfaces.
        items: Every item by its id, walls, floor and ceiling after the others, and last
            where something may stand that could not be read.
        no_place: The ids of the items that have no place yet.
    """

    scene: Scene
    shell: Shell
    items: dict[str, Placed]
    no_place: tuple[str, ...] = ()

    def without(self, names: Collection[str]) -> Arrangement:
        """Return the arrangement as it is if some items are not there."""
        left = tuple(one for one in self.scene.items if one.id not in names)
        scene = self.scene.model_copy(update={"items": left})
        items = {name: one for name, one in self.items.items() if name not in names}
        return replace(self, scene=scene, items=items)


def arrange(scene: Scene) -> Arrangement:
    """Put every item of a scene in its place.

    Raises:
        MeshError: A mesh file is missing or holds no triangles.
    """
    no_place, scene = scene.no_place, scene.standing()
    room = shell(scene)
    written = {item.id: item for item in scene.items}
    fronts: dict[str, Front] = {}
    placed = {
        item.id: _placed(item, scene, room, written, fronts)
        for item in written.values()
    }
    placed.update((part.id, part) for part in room.placed)
    placed.update((part.id, part) for part in unread_in(scene, room, placed.keys()))
    return Arrangement(scene, room, placed, no_place)


def rearrange(before: Arrangement, scene: Scene) -> Arrangement:
    """Put what was moved in its new place; everything else stays the very same.

    Args:
        before: The scene with the same room and the same items at other places.
        scene: The scene; an item that was not moved is the very same in both.

    Raises:
        ValueError: An item is new, or is gone.
    """
    no_place, scene = scene.no_place, scene.standing()
    written = {item.id: item for item in scene.items}
    if written.keys() != {item.id for item in before.scene.items}:
        msg = "items were added or taken away; arrange the scene as a whole"
        raise ValueError(msg)
    moved = _moved(before, written)
    fronts = {
        name: placed.front
        for name, placed in before.items.items()
        if placed.front is not None and name not in moved
    }
    items = {
        name: _placed(written[name], scene, before.shell, written, fronts)
        if name in moved
        else placed
        for name, placed in before.items.items()
    }
    return Arrangement(scene, before.shell, items, no_place)


def _moved(before: Arrangement, written: dict[str, Item]) -> set[str]:
    """Return what was moved, and all that stands on, over or under that."""
    carried: dict[str, list[str]] = {}
    for name, item in written.items():
        base = _target(item.place)
        if base is not None:
            carried.setdefault(base, []).append(name)
    found: set[str] = set()
    left = [
        name for name, item in written.items() if before.items[name].item is not item
    ]
    while left:
        name = left.pop()
        if name not in found:
            found.add(name)
            left += carried.get(name, ())
    return found


def _placed(
    item: Item,
    scene: Scene,
    room: Shell,
    written: dict[str, Item],
    fronts: dict[str, Front],
) -> Placed:
    kind = KINDS[item.kind]
    solid, front = _body(item, scene, room, written, fronts)
    associated = kind.associated if item.associated is None else item.associated
    return Placed(
        item.id,
        kind,
        item,
        solid,
        front,
        associated=associated,
        foreign=_foreign(item, kind, associated=associated),
        grounded=kind.grounded if item.grounded is None else item.grounded,
        live=front is not None and _live(item, kind),
        looks=drawn_of(item, scene, front),
        surveyed=surveyed_of(item, scene, solid, front),
    )


def _foreign(item: Item, kind: Kind, *, associated: bool) -> bool | None:
    if item.foreign is not None:
        return item.foreign
    if item.associated is not None:
        return not associated
    # An obstacle may be anything: whether it belongs here must be said.
    return kind.foreign


def _live(item: Item, kind: Kind) -> bool:
    if item.working_space == "none":
        return False
    return kind.needs_working_space or isinstance(item.working_space, AskedSpace)


def _body(
    item: Item,
    scene: Scene,
    room: Shell,
    written: dict[str, Item],
    fronts: dict[str, Front],
) -> tuple[Solid, Front | None]:
    if item.from_ is not None and item.to is not None:
        return _run(item, scene), None
    if item.points is not None and item.size is None:
        return Cloud(*cloud_of(item, scene)), None
    if item.mesh is not None and item.place is None and item.size is None:
        points, faces = mesh_of(item, scene)
        if item.shift is not None:
            points = points + [scene.metres(length) for length in item.shift]
        return Mesh(points, faces), None
    front = _front(item.id, scene, room, written, fronts)
    if item.mesh is None or item.size is not None:
        return front.box(), front
    points, faces = mesh_of(item, scene)
    return Mesh(in_box(points - points.min(axis=0), front), faces), front


def _front(
    item_id: str,
    scene: Scene,
    room: Shell,
    written: dict[str, Item],
    fronts: dict[str, Front],
) -> Front:
    # By a loop, not by recursion: a chain may be longer than the stack is deep.
    chain = [item_id]
    while chain[-1] not in fronts:
        target = _target(written[chain[-1]].place)
        if target is None or target in fronts:
            item = written[chain.pop()]
            base = None if target is None else fronts[target]
            fronts[item.id] = _stand(item, scene, room, base)
            if not chain:
                break
        else:
            chain.append(target)
    return fronts[item_id]


def _target(place: Place | None) -> str | None:
    match place:
        case StandsOn():
            return place.stands_on
        case Over():
            return place.over
        case Under():
            return place.under
        case _:
            return None


def _stand(item: Item, scene: Scene, room: Shell, base: Front | None) -> Front:
    width, depth, height = _size(item, scene)
    place = item.place
    match place:
        case AtWall():
            line = room.line(place.wall)
            frame = line.frame.moved(
                scene.metres(place.along), scene.metres(place.gap) + depth
            )
            bottom = _bottom(item, place, scene, height)
        case At():
            facing = "south" if place.facing is None else place.facing
            bearing = BEARING[facing] if isinstance(facing, str) else facing
            x, y = (scene.metres(length) for length in place.at)
            frame = Frame.facing(x, y, bearing).moved(-width / 2, depth / 2)
            bottom = _bottom(item, place, scene, height)
        case StandsOn() | Over() | Under() if base is not None:
            right, out, up = (scene.metres(length) for length in place.shift)
            back = {
                "back": depth - base.depth,
                "front": 0.0,
                "centre": (depth - base.depth) / 2,
            }[place.align]
            frame = base.frame.moved((base.width - width) / 2 + right, back + out)
            bottom = up + _level(place, scene, base, height)
        case _:
            msg = f"{item.id} has no place"
            raise ValueError(msg)
    return Front(frame, width, depth, bottom, bottom + height)


def _level(
    place: StandsOn | Over | Under, scene: Scene, base: Front, height: float
) -> float:
    match place:
        case StandsOn():
            return base.top
        case Over():
            return base.top + scene.metres(place.gap)
        case Under():
            return base.bottom - scene.metres(place.gap) - height


def _bottom(item: Item, place: AtWall | At, scene: Scene, height: float) -> float:
    if place.top is not None:
        return scene.metres(place.top) - height
    if place.bottom is not None:
        return scene.metres(place.bottom)
    return -height if KINDS[item.kind].hole else 0.0


def _size(item: Item, scene: Scene) -> tuple[float, float, float]:
    if item.size is not None:
        width, depth, height = (scene.metres(length) for length in item.size)
        return width, depth, height
    points, _ = mesh_of(item, scene)
    extent = points.max(axis=0) - points.min(axis=0)
    return float(extent[0]), float(extent[1]), float(extent[2])


def _run(item: Item, scene: Scene) -> Solid:
    start, end = (
        (scene.metres(p[0]), scene.metres(p[1]), scene.metres(p[2]))
        for p in (item.from_, item.to)
        if p is not None
    )
    if item.diameter is not None:
        return rod(start, end, round_section(scene.metres(item.diameter)))
    assert item.section is not None  # noqa: S101 - the cross checks see to it
    width, height = (scene.metres(length) for length in item.section)
    level = end[2] == start[2]
    if level:
        # A level run is an upright box, for which everything is exact and fast.
        dx, dy = end[0] - start[0], end[1] - start[1]
        length = float(np.hypot(dx, dy))
        along = (dx / length, dy / length)
        frame = Frame(start[0], start[1], along, (-along[1], along[0]))
        low = start[2] - height / 2
        return Box(frame.moved(0.0, -width / 2), length, width, low, low + height)
    if abs(end[0] - start[0]) <= PARALLEL and abs(end[1] - start[1]) <= PARALLEL:
        frame = Frame(
            start[0] - width / 2, start[1] - height / 2, (1.0, 0.0), (0.0, 1.0)
        )
        return Box(frame, width, height, *sorted((start[2], end[2])))
    half = np.array([width, height]) / 2
    signs = np.array([(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)])
    return rod(start, end, signs * half)
