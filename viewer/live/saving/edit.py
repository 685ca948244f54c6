"""Changes of a text in YAML: only what is changed is touched.

Comments, order, spacing and the way everything else is written stay as they are, byte
for byte.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from yaml.nodes import MappingNode, ScalarNode, SequenceNode

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator

    from yaml.nodes import Node


class SaveError(ValueError):
    """Changes that cannot be written into the text; the message says why."""


@dataclass(frozen=True, slots=True)
class Edit:
    """New text in place of what stands from ``start`` to ``end``."""

    start: int
    end: int
    text: str


def with_edits(text: str, edits: Iterable[Edit], start: int = 0) -> str:
    """Return a text that starts at ``start`` of a whole one, with edits of that."""
    for edit in sorted(edits, key=lambda edit: edit.start, reverse=True):
        text = text[: edit.start - start] + edit.text + text[edit.end - start :]
    return text


def is_flow(node: Node) -> bool:
    """Tell whether a list or a mapping is written in brackets."""
    return bool(getattr(node, "flow_style", False))


def end_of(node: Node) -> int:
    """Return where the last value of a node ends, before what is left blank."""
    if isinstance(node, ScalarNode) or is_flow(node) or not node.value:
        return int(node.end_mark.index)
    last = node.value[-1]
    return end_of(last[1] if isinstance(node, MappingNode) else last)


def find(node: Node, key: str) -> tuple[Node, Node] | None:
    """Return the key and the value of a mapping at a key, or None."""
    pairs = node.value if isinstance(node, MappingNode) else ()
    return next((pair for pair in pairs if pair[0].value == key), None)


def edits_of(node: Node, old: Any, new: Any, line_end: str) -> Iterator[Edit]:  # noqa: ANN401
    """Yield what changes a value, and nothing that stays as it was."""
    if old == new:
        return
    if isinstance(old, dict) and isinstance(new, dict) and old.keys() & new.keys():
        yield from _removed(node, old.keys() - new.keys())
        for key, value in new.items():
            if key not in old:
                yield added(node, key, value, line_end)
            elif old[key] != value:
                yield from edits_of(child(node, key), old[key], value, line_end)
    elif _is_list(old) and _is_list(new) and len(old) == len(new):
        for number, (one, other) in enumerate(zip(old, new, strict=True)):
            yield from edits_of(child(node, number), one, other, line_end)
    else:
        yield Edit(node.start_mark.index, end_of(node), written(new))


def _removed(node: Node, keys: Collection[str]) -> Iterator[Edit]:
    """Yield what takes keys out of a mapping, each with the lines down to the next."""
    pairs = node.value if isinstance(node, MappingNode) else []
    kept = [pair for pair in pairs if pair[0].value not in keys]
    rest = pairs.index(kept[-1]) + 1 if kept else len(pairs)
    if kept and rest < len(pairs):
        yield Edit(end_of(kept[-1][1]), end_of(pairs[-1][1]), "")
    for pair, (after, _) in pairwise(pairs[:rest]):
        if pair not in kept:
            yield Edit(pair[0].start_mark.index, after.start_mark.index, "")


def _is_list(value: object) -> bool:
    return isinstance(value, list | tuple)


def child(node: Node, key: str | int) -> Node:
    """Return the node of a value in a mapping or a list.

    Raises:
        SaveError: It is not there.
    """
    if isinstance(node, MappingNode):
        pairs: list[tuple[Node, Node]] = node.value
        for name, value in pairs:
            if name.value == key:
                return value
    elif isinstance(node, SequenceNode) and isinstance(key, int):
        values: list[Node] = node.value
        return values[key]
    msg = f"{key} is not written in the file as it was read"
    raise SaveError(msg)


def added(node: Node, key: str, value: object, line_end: str) -> Edit:
    """Return what puts a key into a mapping: at the end of its line, or on its own."""
    if not isinstance(node, MappingNode) or not node.value:
        msg = f"{key} cannot be written into the file"
        raise SaveError(msg)
    first, (_, last) = node.value[0][0], node.value[-1]
    name = f'"{key}"' if first.style == '"' else key
    if node.flow_style:
        place = last.end_mark.index
        return Edit(place, place, f", {name}: {written(value)}")
    place = first.start_mark.index
    margin = " " * first.start_mark.column
    return Edit(place, place, f"{name}: {written(value)}{line_end}{margin}")


def written(value: object) -> str:
    """Write a length, a word, a flag, or lists and mappings of them, as YAML.

    >>> written((1500.0, 0.25, "6 ft"))
    '[1500, 0.25, "6 ft"]'
    >>> written({"hinge": "left", "width": 400.0})
    '{hinge: "left", width: 400}'
    >>> written({"cells": 10, "shelf": 0.5})
    '{cells: 10, shelf: 0.5}'
    """
    if value is None:
        return "null"
    if isinstance(value, dict):
        pairs = (f"{key}: {written(one)}" for key, one in value.items())
        return f"{{{', '.join(pairs)}}}"
    if _is_list(value):
        return f"[{', '.join(written(one) for one in value)}]"  # type: ignore[attr-defined]
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int) or (isinstance(value, float) and value.is_integer()):
        return str(int(value))
    if isinstance(value, float):
        return format(value, ".12f").rstrip("0")
    if isinstance(value, str):
        quoted = value.replace("\\", "\\\\").replace('"', '\\"')
        return f'"{quoted}"'
    msg = f"{value!r} cannot be written into the file"
    raise SaveError(msg)


def added_below(text: str, node: Node, key: str, value: object, line_end: str) -> Edit:
    """Return what puts a key into an item, below the first one that it has."""
    first, beside = node.value[0]
    if is_flow(node) or not isinstance(beside, ScalarNode):
        return added(node, key, value, line_end)
    place = line_end_at(text, beside.end_mark.index)
    margin = " " * first.start_mark.column
    name = f'"{key}"' if first.style == '"' else key
    return Edit(place, place, f"{line_end}{margin}{name}: {written(value)}")


def line_end_at(text: str, place: int) -> int:
    """Return where the line ends that a place is in."""
    found = text.find("\n", place)
    if found < 0:
        return len(text)
    return found - (text[found - 1 : found] == "\r")
