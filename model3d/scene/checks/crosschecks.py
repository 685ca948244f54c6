"""What must fit together across a scene: every mistake no value shows by itself.

The same checks serve a file, whose reader knows the line of every place they name, and
a scene made in Python.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from model3d.scene.checks.item import item_mistakes
from model3d.scene.checks.lesson import lesson_mistakes
from model3d.scene.checks.placement import circle_message, circles, support_mistakes
from model3d.scene.checks.whole import whole_mistakes
from model3d.scene.written import rows, setting_of, supports, text, within

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from model3d.scene.written import Found, Raw


def cross_mistakes(scene: Raw, folder: Path) -> list[Found]:
    """Return what does not fit together in a scene, each with its place.

    Args:
        scene: The scene as plain data with the keys of the file format. It need not
            be right: what has a mistake of its own is passed over.
        folder: Where the files are that the scene names.
    """
    setting = setting_of(scene, folder)
    numbered = rows(scene.get("items"))
    items = _by_id(numbered)
    mistakes = whole_mistakes(scene, setting)
    for number, item in numbered:
        own = item_mistakes(item, setting)
        own += support_mistakes(text(item.get("id")), item, items)
        mistakes += within(("items", number), own)
    mistakes += _circles(numbered, items)
    mistakes += lesson_mistakes(scene, items, setting)
    return [*dict.fromkeys(mistakes)]


def _by_id(numbered: list[tuple[int, Raw]]) -> dict[str, Raw]:
    by_id: dict[str, Raw] = {}
    for _, item in numbered:
        own_id = text(item.get("id"))
        if own_id is not None:
            by_id.setdefault(own_id, item)
    return by_id


def _circles(numbered: list[tuple[int, Raw]], items: Mapping[str, Raw]) -> list[Found]:
    mistakes: list[Found] = []
    rings = circles(items)
    number_of = {text(item.get("id")): n for n, item in reversed(numbered)}
    for ring in rings:
        first = ring[0]
        key = supports(items[first])[0][0]
        where = ("items", number_of[first], "place", key)
        mistakes.append((where, circle_message(ring)))
    return mistakes
