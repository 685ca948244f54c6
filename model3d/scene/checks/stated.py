"""What is said of a place as a whole: said once, and only where it means something."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.scene.checks.setting import room_of
from model3d.scene.site import LIMITED, OUTDOOR
from model3d.scene.stated import Lighting, Stated
from model3d.scene.words.mistakes import KeyStep, within

if TYPE_CHECKING:
    from model3d.scene.site import Site
    from model3d.scene.words.mistakes import Found, Loc

_PREMISES: Final = ("new", "existing-dwelling")
"""Premises in which no replaced gear may keep a smaller space."""


def stated_mistakes(site: Site) -> list[Found]:
    """Return what is said twice, or means nothing, at the scene and in its room."""
    room = room_of(site)
    parts: list[tuple[Loc, Stated]] = [((), site)]
    mistakes: list[Found] = []
    if room:
        parts.append((("room",), room))
        mistakes = [
            (
                ("room", KeyStep(key)),
                f"found {key} at the scene and in the room, right is one of them",
            )
            for key in Stated.model_fields
            if site.said(key) and room.said(key)
        ]
    for where, part in parts:
        found = [*_lighting(part, site), *_opening(part, site)]
        mistakes += within(where, found + _procedures(part, site))
    return mistakes


def _lighting(part: Stated, site: Site) -> list[Found]:
    if site.use == OUTDOOR and part.said("lighting"):
        message = 'found lighting with "use: outdoor", right is lighting in a room'
        return [((KeyStep("lighting"),), message)]
    light = part.lighting
    if not isinstance(light, Lighting) or light.present is not False:
        return []
    if not light.said("control"):
        return []
    message = "found control of a light that is not present, right is one of them"
    return [(("lighting", KeyStep("control")), message)]


def _opening(part: Stated, site: Site) -> list[Found]:
    use = site.use
    if not part.said("access_opening") or use in LIMITED or not isinstance(use, str):
        return []
    right = f'right is access_opening with "use: {LIMITED[0]}" or "use: {LIMITED[1]}"'
    message = f'found access_opening with "use: {use}", {right}'
    return [((KeyStep("access_opening"),), message)]


def _procedures(part: Stated, site: Site) -> list[Found]:
    if not part.said("written_procedures") or site.premises not in _PREMISES:
        return []
    right = 'right is written_procedures with "premises: existing"'
    message = f'found written_procedures with "premises: {site.premises}", {right}'
    return [((KeyStep("written_procedures"),), message)]
