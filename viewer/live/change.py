"""Changes of a room that is worked on: what may move, and what is wrong with one."""

from __future__ import annotations

from contextlib import contextmanager
from typing import TYPE_CHECKING

from pydantic import ValidationError

from model3d.scene.shape_files.meshes import MeshError
from model3d.units import LengthError

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d import Scene
    from model3d.scene.parts.item import Item


class MoveError(ValueError):
    """A move that leads to no scene; the message is for people."""


class ConflictError(MoveError):
    """A change of what somebody else has changed meanwhile."""


def movable(scene: Scene, item: str) -> Item:
    """Return an item that can be moved.

    Raises:
        MoveError: There is none of that name, or it has no place.
    """
    found = next((one for one in scene.items if one.id == item), None)
    if found is None:
        msg = f"there is no item {item} to be moved"
        raise MoveError(msg)
    if not found.stands:
        msg = f"{item} has no place yet; give it one in the file"
        raise MoveError(msg)
    return found


@contextmanager
def explained() -> Iterator[None]:
    """Tell whatever is wrong with a change as a ``MoveError``."""
    try:
        yield
    except ValidationError as error:
        lines = (
            str(one.get("ctx", {}).get("error", one["msg"])) for one in error.errors()
        )
        raise MoveError("\n".join(lines)) from error
    except LengthError as error:
        msg = f"right is {error}"
        raise MoveError(msg) from error
    except MeshError as error:
        raise MoveError(str(error)) from error


def with_item(scene: Scene, old: Item, new: Item) -> Scene:
    """Return the scene with an item in another place; all others are the very same."""
    items = tuple(new if one is old else one for one in scene.items)
    return scene.model_copy(update={"items": items})
