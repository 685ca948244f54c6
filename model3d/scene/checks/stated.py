"""What is said of a place as a whole: said once, and only where it means something."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.scene.mistakes import Key
from model3d.scene.stated import Stated
from model3d.scene.written import LIMITED, OUTDOOR, mapping, said, within

if TYPE_CHECKING:
    from model3d.scene.mistakes import Loc
    from model3d.scene.written import Found, Raw

_PREMISES: Final = ("new", "existing-dwelling")
"""Premises in which no replaced gear may keep a smaller space."""


def stated_mistakes(scene: Raw) -> list[Found]:
    """Return what is said twice, or means nothing, at the scene and in its room."""
    room = mapping(scene.get("room"))
    parts: list[tuple[Loc, Raw]] = [((), scene), (("room",), room)]
    mistakes: list[Found] = [
        (
            ("room", Key(key)),
            f"found {key} at the scene and in the room, right is one of them",
        )
        for key in Stated.model_fields
        if said(scene, key) and said(room, key)
    ]
    for where, part in parts:
        found = [*_lighting(part, scene), *_opening(part, scene)]
        mistakes += within(where, found + _procedures(part, scene))
    return mistakes


def _lighting(part: Raw, scene: Raw) -> list[Found]:
    if scene.get("use") == OUTDOOR and said(part, "lighting"):
        message = 'found lighting with "use: outdoor", right is lighting in a room'
        return [((Key("lighting"),), message)]
    lighting = mapping(part.get("lighting"))
    if lighting.get("present") is False and said(lighting, "control"):
        message = "found control of a light that is not present, right is one of them"
        return [(("lighting", Key("control")), message)]
    return []


def _opening(part: Raw, scene: Raw) -> list[Found]:
    use = scene.get("use", "electrical-room")
    if not said(part, "access_opening") or use in LIMITED or not isinstance(use, str):
        return []
    right = f'right is access_opening with "use: {LIMITED[0]}" or "use: {LIMITED[1]}"'
    message = f'found access_opening with "use: {use}", {right}'
    return [((Key("access_opening"),), message)]


def _procedures(part: Raw, scene: Raw) -> list[Found]:
    premises = scene.get("premises", "new")
    if not said(part, "written_procedures") or premises not in _PREMISES:
        return []
    right = 'right is written_procedures with "premises: existing"'
    message = f'found written_procedures with "premises: {premises}", {right}'
    return [((Key("written_procedures"),), message)]
