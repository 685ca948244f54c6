"""Changes of a scene: each gives a new scene and leaves the old one as it was."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from model3d.scene.item import Item
from model3d.scene.lesson import AddItem, MoveItem, OpenLeaf, RemoveItem, SetItem
from model3d.scene.lessonchecks import changed_fields
from model3d.scene.moving import moved
from model3d.scene.scene import Origin, Scene

if TYPE_CHECKING:
    from model3d.scene.lesson import Change


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
        case SetItem():
            old = _there(change.set, items)
            items[old.id] = _with_fields(old, change.fields)
        case MoveItem():
            old = _there(change.move, items)
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


def _there(name: str, items: dict[str, Item]) -> Item:
    if name not in items:
        msg = f"found {name}, right is the id of an item of the scene"
        raise ChangeError(msg)
    return items[name]


def _with_fields(item: Item, fields: dict[str, Any]) -> Item:
    if "id" in fields:
        msg = f"found a new id for {item.id}, right is the id it was given"
        raise ChangeError(msg)
    written = item.model_dump(by_alias=True, exclude_unset=True)
    # From Python a field may be named as in the model, which has no "from".
    aliased = {"from" if key == "from_" else key: new for key, new in fields.items()}
    return Item.model_validate(changed_fields(written, aliased))


def _with_items(scene: Scene, items: tuple[Item, ...]) -> Scene:
    kept = scene.model_fields_set - {"items", "lesson"}
    fields = {name: getattr(scene, name) for name in kept}
    return Scene.model_validate({**fields, "items": items}, context=Origin(scene.file))
