"""What must fit together across a scene: every mistake no value shows by itself.

The same checks serve a file, whose reader knows the line of every place they name, and
a scene made in Python.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from model3d.scene.checks.item import item_mistakes
from model3d.scene.checks.lesson import lesson_mistakes
from model3d.scene.checks.placement import circle_message, circles, support_mistakes
from model3d.scene.checks.setting import numbered, setting_of, word
from model3d.scene.checks.whole import whole_mistakes
from model3d.scene.parts.item import Item
from model3d.scene.parts.placement import support_of
from model3d.scene.words.mistakes import within

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from model3d.scene.parts.lesson import Lesson
    from model3d.scene.parts.site import Site
    from model3d.scene.words.mistakes import Found


def cross_mistakes(
    site: Site, written: tuple[Item, ...], lesson: Lesson | None, folder: Path
) -> list[Found]:
    """Return what does not fit together in a scene, each with its place.

    Args:
        site: All of the scene but its items and its lesson. Neither of the three need
            be right: what has a mistake of its own is passed over.
        written: The items.
        lesson: The lesson.
        folder: Where the files are that the scene names.
    """
    setting = setting_of(site, folder)
    items = numbered(Item, written)
    by_id: dict[str, Item] = {}
    for _, item in items:
        if word(item.id):
            by_id.setdefault(item.id, item)
    mistakes = whole_mistakes(site, items, setting)
    for number, item in items:
        own = item_mistakes(item, setting) + support_mistakes(item, by_id)
        mistakes += within(("items", number), own)
    mistakes += _circles(items, by_id)
    mistakes += lesson_mistakes(site, by_id, lesson, setting)
    return [*dict.fromkeys(mistakes)]


def changed_mistakes(
    site: Site, before: tuple[Item, ...], after: tuple[Item, ...], folder: Path
) -> list[Found]:
    """Return what does not fit together in a scene of which items were changed.

    Args:
        site: All of the scene but its items; it has no lesson, and is as it was.
        before: The items, which fitted together.
        after: The items; one that was not changed is the very same.
        folder: Where the files are that the scene names.
    """
    if len(before) == len(after):
        pairs = enumerate(zip(before, after, strict=True))
        changed = [(n, old, new) for n, (old, new) in pairs if old is not new]
        if all(_is_told_alone(old, new) for _, old, new in changed):
            setting = setting_of(site, folder)
            return [
                mistake
                for number, _, new in changed
                for mistake in within(("items", number), item_mistakes(new, setting))
            ]
    return cross_mistakes(site, after, None, folder)


def _is_told_alone(old: Item, new: Item) -> bool:
    """Tell whether what is wrong with a changed item is wrong with it alone.

    To others it is its id, which keys it says, and what it stands on, over or under.
    """
    keys = old.model_fields_set | new.model_fields_set
    return (
        old.id == new.id
        and support_of(old.place) == support_of(new.place)
        and all(old.said(key) == new.said(key) for key in keys)
    )


def _circles(items: list[tuple[int, Item]], by_id: Mapping[str, Item]) -> list[Found]:
    below = {name: support_of(item.place) for name, item in by_id.items()}
    rings = circles({name: on and on[1] for name, on in below.items()})
    number_of = {item.id: n for n, item in reversed(items) if word(item.id)}
    return [
        (
            ("items", number_of[ring[0]], "place", on[0]),
            circle_message(ring),
        )
        for ring in rings
        if (on := below[ring[0]])
    ]
