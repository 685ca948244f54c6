"""Write changed items back into a scene's text: only the changed values are touched.

Types and repeats stay as they are: what changes of an item with a type is written at
the item, and a changed copy is written out, with the repeat split around it.
"""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING, Any, Final

import yaml

from model3d.scene.text.composing.loaders import by_either
from model3d.scene.text.reader import SceneError, entries_of, read_text
from viewer.live.saving.edit import (
    Edit,
    SaveError,
    added_below,
    child,
    edits_of,
    find,
    with_edits,
)
from viewer.live.saving.split import Repeated, split

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from yaml.nodes import Node

    from model3d import Scene

__all__ = ["SaveError", "edited"]

_BOM: Final = "\ufeff"


def edited(text: str, old: Scene, new: Scene, file: Path) -> str:
    """Return a scene's text with the items of ``new`` in place of those of ``old``.

    Args:
        text: What ``old`` was read from.
        old: The scene before its items were moved.
        new: The scene after.
        file: The scene's file, beside which others are looked for.

    Raises:
        SaveError: The text cannot be changed without changing something else.
    """
    mark = _BOM if text.startswith(_BOM) else ""
    body = text.removeprefix(_BOM)
    for singly in (False, True):
        edits = [*_edits(body, old, new, file, singly=singly)]
        changed = mark + with_edits(body, edits)
        try:
            _prove(changed, old, new, file)
        except SaveError:
            # Numbers may not come out to the last digit when a repeat starts anew.
            if singly:
                raise
        else:
            break
    return changed


def _edits(
    body: str, old: Scene, new: Scene, file: Path, *, singly: bool
) -> Iterator[Edit]:
    root: Node = by_either(body, yaml.compose)  # type: ignore[assignment]
    line_end = "\r\n" if "\r\n" in body else "\n"
    items = child(root, "items") if old.items else root
    entries = entries_of(body, file)
    if not len(entries) == len(old.items) == len(new.items):
        msg = "the items are not those that are written in the file"
        raise SaveError(msg)
    rows = zip(
        entries,
        (one.written() for one in old.items),
        (one.written() for one in new.items),
        strict=True,
    )
    for number, group in groupby(rows, key=lambda row: int(row[0].loc[1])):
        some = [*group]
        entry, one, other = some[0]
        node = child(items, number)
        if entry.count == 1:
            yield from _item_edits(body, node, one, other, line_end)
        elif any(before != after for _, before, after in some):
            before, after = [row[1] for row in some], [row[2] for row in some]
            repeated = Repeated(body, items, node, line_end, before, after)
            yield split(repeated, singly=singly)


def _item_edits(
    body: str, node: Node, old: dict[str, Any], new: dict[str, Any], line_end: str
) -> Iterator[Edit]:
    """Yield what changes an item, and its type never."""
    inherited = [key for key in old if find(node, key) is None]
    here = {key: value for key, value in old.items() if key not in inherited}
    then = {key: value for key, value in new.items() if key not in inherited}
    yield from edits_of(node, here, then, line_end)
    for key in inherited:
        if old[key] != new.get(key):
            yield added_below(body, node, key, new.get(key), line_end)


def _prove(text: str, old: Scene, new: Scene, file: Path) -> None:
    """Make sure that the text says the new scene and nothing else."""
    try:
        said = read_text(text, file).written()
    except SceneError as error:
        msg = f"the moved items cannot be written into the file: {error}"
        raise SaveError(msg) from error
    wanted = {**old.written(), "items": new.written().get("items", ())}
    if said != wanted:
        msg = (
            "the moved items cannot be written into the file without changing "
            "something else; are their places written once and used by several items?"
        )
        raise SaveError(msg)
