"""A scene after changes: made whole, or only sketched to ask a rule about it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pydantic import ValidationError

from model3d.scene.parts.item import Item
from model3d.scene.parts.lesson import MoveItem, SetItem, changed_fields
from model3d.standing.changes import ChangeError, apply_change
from model3d.standing.moves import moved

if TYPE_CHECKING:
    from collections.abc import Sequence

    from model3d.scene.parts.lesson import Change
    from model3d.scene.scene import Scene


def changed(scene: Scene, do: Sequence[Change]) -> Scene | None:
    """Return a scene after changes; None where what comes of them is no scene."""
    try:
        for change in do:
            scene = apply_change(scene, change)
    except (ChangeError, ValidationError, ValueError):
        return None
    return scene


def sketched(scene: Scene, do: Sequence[Change]) -> Scene | None:
    """Return a scene with items moved and set, of which the parts are not compared.

    That is quick, and enough to ask a rule; what is offered is made by ``changed``.
    """
    items = {item.id: item for item in scene.items}
    try:
        for change in do:
            match change:
                case MoveItem():
                    items[change.move] = moved(scene, items[change.move], change.by)
                case SetItem():
                    old = items[change.set]
                    fields = changed_fields(old.written(), change.fields)
                    items[change.set] = Item.model_validate(fields)
                case _:
                    return changed(scene, do)
            scene = scene.model_copy(update={"items": tuple(items.values())})
    except (ValidationError, ValueError):
        return None
    return scene
