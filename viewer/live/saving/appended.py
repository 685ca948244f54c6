"""Put more items into a scene's text: behind the others, and nothing else changes."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any, Final

import yaml
from yaml.nodes import MappingNode, ScalarNode, SequenceNode

from model3d.scene.manuscript import entry_lines
from model3d.scene.text.composing.loaders import by_either
from model3d.scene.text.reader import SceneError, read_text
from viewer.live.saving.save import SaveError

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from pathlib import Path

    from yaml.nodes import Node

    from model3d import Scene

_BOM: Final = "\ufeff"


def appended(
    text: str,
    entries: Sequence[tuple[Mapping[str, Any], Sequence[str]]],
    wanted: Scene,
    file: Path,
) -> str:
    """Return a scene's text with more items.

    Args:
        text: The scene.
        entries: The items as plain data, each with notes for comments; where the text
            is written in brackets there is no room for those.
        wanted: The scene that comes of it.
        file: The scene's file, beside which others are looked for.

    Raises:
        SaveError: The text cannot be changed without changing something else.
    """
    if not entries:
        return text
    mark = _BOM if text.startswith(_BOM) else ""
    body = text.removeprefix(_BOM)
    root: Node = by_either(body, yaml.compose)  # type: ignore[assignment]
    end = "\r\n" if "\r\n" in body else "\n"
    items = _items(root)
    if isinstance(items, SequenceNode) and items.value and not items.flow_style:
        place = _line_end(body, _end(items))
        margin = " " * items.start_mark.column
        body = _with_lines(body, place, _lines(entries, margin), end)
    elif items is None and isinstance(root, MappingNode) and not root.flow_style:
        margin = " " * root.start_mark.column
        lines = [f"{margin}items:", *_lines(entries, f"{margin}  ")]
        body = _with_lines(body, _line_end(body, _end(root)), lines, end)
    elif isinstance(items, SequenceNode):
        body = _in_brackets(body, items, entries)
    else:
        msg = "the items cannot be written into the file: it has no list of items"
        raise SaveError(msg)
    _prove(mark + body, wanted, file)
    return mark + body


def _items(root: Node) -> Node | None:
    if isinstance(root, MappingNode):
        for name, value in root.value:
            if name.value == "items":
                found: Node = value
                return found
    return None


def _end(node: Node) -> int:
    """Return where a node really ends: a block's own mark is behind what follows it."""
    if isinstance(node, ScalarNode) or getattr(node, "flow_style", False):
        end: int = node.end_mark.index
        return end
    if not node.value:
        empty: int = node.start_mark.index
        return empty
    last = node.value[-1]
    return _end(last[1] if isinstance(last, tuple) else last)


def _line_end(body: str, index: int) -> int:
    """Return where the line ends; what a block of text ends with is a line already."""
    if index and body[index - 1] == "\n":
        return index
    found = body.find("\n", index)
    return len(body) if found < 0 else found + 1


def _with_lines(body: str, place: int, lines: Iterable[str], end: str) -> str:
    before = body[:place]
    if before and not before.endswith("\n"):
        before += end
    return before + "".join(f"{line}{end}" for line in lines) + body[place:]


def _lines(
    entries: Sequence[tuple[Mapping[str, Any], Sequence[str]]], margin: str
) -> list[str]:
    return [
        f"{margin}{line}" for one, notes in entries for line in entry_lines(one, notes)
    ]


def _in_brackets(
    body: str,
    items: SequenceNode,
    entries: Sequence[tuple[Mapping[str, Any], Sequence[str]]],
) -> str:
    # JSON stands in a list of YAML as well as in one of JSON.
    more = ", ".join(json.dumps(one, ensure_ascii=False) for one, _ in entries)
    values: list[Node] = items.value
    if values:
        place = _end(values[-1])
        return f"{body[:place]}, {more}{body[place:]}"
    start, stop = items.start_mark.index, items.end_mark.index
    return f"{body[:start]}[{more}]{body[stop:]}"


def _prove(text: str, wanted: Scene, file: Path) -> None:
    try:
        said = read_text(text, file).written()
    except SceneError as error:
        msg = f"the items cannot be written into the file: {error}"
        raise SaveError(msg) from error
    if said != wanted.written():
        msg = "the items cannot be written without changing something else"
        raise SaveError(msg)
