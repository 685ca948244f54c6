"""Changes of a scene: each gives a new scene and leaves the old one as it was."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from model3d.scene.parts.item import Item
from model3d.scene.parts.lesson import (
    PLACES,
    SCENE_KEYS,
    AddItem,
    MoveItem,
    OpenLeaf,
    RemoveItem,
    SetItem,
    changed_fields,
    changed_site,
)
from model3d.scene.scene import Origin, Scene
from model3d.scene.words.nearest import listed
from model3d.standing.moves import moved

if TYPE_CHECKING:
    from model3d.scene.parts.lesson import Change


class ChangeError(ValueError):
    """A change of an item that is not there, or that is there already."""


def apply_change(scene: Scene, change: Change) -> Scene:
    """Return the scene as it is after a change.

    Opening a leaf is for show and changes nothing. The changed scene tells no lesson:
    the steps of one start from the scene as it was written.

    Raises:
        ChangeError: The item is not there, or is to be added and is there.
        pydantic.ValidationError: What comes of it is no scene, for example because
            another item stands on the one that is taken away.
    """
    items = {item.id: item for item in scene.items}
    match change:
        case SetItem() if change.set not in items:
            return _with_place(scene, change)
        case SetItem():
            old = _there(change.set, items)
            items[old.id] = _with_fields(old, change.fields)
        case MoveItem():
            old = _there(change.move, items)
            if not old.stands:
                msg = f"found {old.id}, which has no place yet, right is set with one"
                raise ChangeError(msg)
            items[old.id] = moved(scene, old, change.by)
        case RemoveItem():
            del items[_there(change.remove, items).id]
        case AddItem():
            if change.add.id in items:
                msg = (
                    f"found {change.add.id}, which is there, right is an id of its own"
                )
                raise ChangeError(msg)
            items[change.add.id] = change.add
        case OpenLeaf():
            doors = scene.room.doors if scene.room else ()
            if change.open not in {door.id for door in doors}:
                _there(change.open, items)
            return scene
    return _with_items(scene, tuple(items.values()))


def _with_place(scene: Scene, change: SetItem) -> Scene:
    """Return the scene with other keys of its own, of its room or of a room door."""
    name, fields = change.set, change.fields
    doors = {door.id for door in scene.room.doors} if scene.room else set()
    if name not in {*PLACES, *doors}:
        msg = f"found {name}, right is the id of an item or a room door of the scene"
        raise ChangeError(msg)
    if name in doors and "id" in fields:
        raise ChangeError(_NEW_ID.format(name))
    unknown = [key for key in fields if name == "scene" and key not in SCENE_KEYS]
    if unknown:
        msg = f"found {unknown[0]} of the scene, right is {listed(SCENE_KEYS)}"
        raise ChangeError(msg)
    room = scene.room.written() if scene.room else None
    changed = changed_site({**_kept(scene), "room": room}, name, fields)
    return Scene.model_validate(changed, context=Origin(scene.file))


_NEW_ID: Final = "found a new id for {}, right is the id it was given"


def _there(name: str, items: dict[str, Item]) -> Item:
    if name not in items:
        msg = f"found {name}, right is the id of an item of the scene"
        raise ChangeError(msg)
    return items[name]


def _with_fields(item: Item, fields: dict[str, Any]) -> Item:
    if "id" in fields:
        raise ChangeError(_NEW_ID.format(item.id))
    # From Python a field may be named as in the model, which has no "from".
    aliased = {"from" if key == "from_" else key: new for key, new in fields.items()}
    return Item.model_validate(changed_fields(item.written(), aliased))


def _with_items(scene: Scene, items: tuple[Item, ...]) -> Scene:
    changed = {**_kept(scene), "items": items}
    return Scene.model_validate(changed, context=Origin(scene.file, before=scene.items))


def _kept(scene: Scene) -> dict[str, Any]:
    """Return what a change leaves as it is: all that was said, but the lesson."""
    return {name: getattr(scene, name) for name in scene.model_fields_set - {"lesson"}}
