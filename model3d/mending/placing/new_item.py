"""An item that is not in the scene yet: like another, of a type, or of a kind."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from model3d.mending.map.places import PlaceError
from model3d.scene.kinds import KINDS
from model3d.scene.parts.item import Item
from model3d.scene.text.reader import known_types
from model3d.scene.words.mistakes import SceneError
from model3d.scene.words.nearest import hint

if TYPE_CHECKING:
    from collections.abc import Mapping

    from model3d.scene.scene import Scene


def with_new_item(
    scene: Scene,
    name: str,
    *,
    like: str | None = None,
    kind: str | None = None,
    named: str | None = None,
    size: str | None = None,
) -> Scene:
    """Return a scene with a new item in it, if one is asked for.

    An item that has no place yet is put somewhere as well. Where does not matter: at
    the first wall, or in the middle of everything where it is like something on the
    floor or the place has no walls.

    Args:
        scene: The scene.
        name: Id of the item; a new one's must not be there yet.
        like: Id of the item that it is like.
        kind: Its kind.
        named: The type that it is of.
        size: Width, depth and height, written "500x150x900".

    Raises:
        PlaceError: What is asked for is not there, or does not go together.
    """
    items = {item.id: item for item in scene.items}
    if like is None and kind is None and named is None:
        return _with_old_item(scene, name, size)
    if name in items:
        msg = f"found {name}, which is there already, right is a new id"
        raise PlaceError(msg)
    if like is not None:
        fields = _like(items, like)
    elif named is not None:
        fields = _of_type(scene, named)
    else:
        fields = {"kind": kind}
    if size is not None:
        fields["size"] = _size(size)
    if fields.get("size") is None:
        msg = f"found no size for {name}, right is --size width x depth x height"
        raise PlaceError(msg)
    if fields.get("kind") not in KINDS:
        near = hint(str(kind), KINDS)
        msg = f"found {kind}, right is a kind such as panelboard or pipe{near}"
        raise PlaceError(msg)
    return _added(scene, {"place": _anywhere(scene), **fields, "id": name})


def _with_old_item(scene: Scene, name: str, size: str | None) -> Scene:
    """Return the scene with an item of it somewhere, where it has no place yet."""
    items = {item.id: item for item in scene.items}
    if size is not None:
        msg = f"found a size for {name}, right is one beside a kind"
        raise PlaceError(msg)
    if name not in items:
        near = hint(name, items)
        msg = (
            f"found {name}, right is the id of an item of the scene{near}; for a "
            "new one say --like, --type or --kind and --size"
        )
        raise PlaceError(msg)
    if items[name].stands:
        return scene
    return scene.with_item(name, place=_anywhere(scene))


def _like(items: Mapping[str, Item], like: str) -> dict[str, Any]:
    if like not in items:
        near = hint(like, items)
        msg = f"found {like}, right is the id of an item of the scene{near}"
        raise PlaceError(msg)
    found = items[like].model_dump(by_alias=True, exclude_unset=True)
    for key in ("name", "guid", "tag", "line_up"):
        found.pop(key, None)
    if items[like].place is None:
        msg = f"found {like}, which has no place, right is an item with a place"
        raise PlaceError(msg)
    return found


def _of_type(scene: Scene, named: str) -> dict[str, Any]:
    types = known_types(scene)
    if named not in types:
        near = hint(named, types)
        msg = f"found {named}, right is the name of a type of the scene{near}"
        raise PlaceError(msg)
    return dict(types[named])


def _size(text: str) -> list[float | str]:
    """Read a size; bare numbers are in the scene's units.

    >>> _size("500x150x900")
    [500.0, 150.0, 900.0]
    """
    parts = text.lower().split("x")
    try:
        found = [_length(part.strip()) for part in parts]
        width, depth, height = found
    except ValueError:
        msg = f"found {text}, right is width x depth x height, like 500x150x900"
        raise PlaceError(msg) from None
    return [width, depth, height]


def _length(text: str) -> float | str:
    return float(text) if text.replace(".", "", 1).isdecimal() else text


def _anywhere(scene: Scene) -> dict[str, Any]:
    room = scene.room
    if room is None:
        return {"at": [0.0, 0.0]}
    wall = "north" if room.size is not None else "wall-1"
    return {"wall": wall, "along": 0.0}


def _added(scene: Scene, fields: dict[str, Any]) -> Scene:
    try:
        untold = scene.model_copy(update={"lesson": None})
        return untold.with_item(Item(**fields))
    except SceneError as error:
        raise PlaceError(str(error.mistakes[0])) from error
