"""Write moved items back into a scene's text: only the changed values are touched.

Comments, order, spacing and the way everything else is written stay as they are, byte
for byte.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

import yaml
from yaml.nodes import MappingNode, SequenceNode

from model3d.scene.text.composer import by_either
from model3d.scene.text.reader import SceneError, read_text

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from yaml.nodes import Node

    from model3d import Scene

_BOM: Final = "\ufeff"


class SaveError(ValueError):
    """Changes that cannot be written into the text; the message says why."""


@dataclass(frozen=True, slots=True)
class _Edit:
    """New text in place of what stands from ``start`` to ``end``."""

    start: int
    end: int
    text: str


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
    root: Node = by_either(body, yaml.compose)  # type: ignore[assignment]
    line_end = "\r\n" if "\r\n" in body else "\n"
    edits = [
        edit
        for number, (one, other) in enumerate(zip(old.items, new.items, strict=True))
        for edit in _edits(
            _child(_child(root, "items"), number),
            one.written(),
            other.written(),
            line_end,
        )
    ]
    for edit in sorted(edits, key=lambda edit: edit.start, reverse=True):
        body = body[: edit.start] + edit.text + body[edit.end :]
    changed = mark + body
    _prove(changed, old, new, file)
    return changed


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


def _edits(node: Node, old: Any, new: Any, line_end: str) -> Iterator[_Edit]:  # noqa: ANN401
    if old == new:
        return
    if isinstance(old, dict) and isinstance(new, dict):
        for key, value in new.items():
            if key in old:
                yield from _edits(_child(node, key), old[key], value, line_end)
            else:
                yield _added(node, key, value, line_end)
    elif _is_list(old) and _is_list(new) and len(old) == len(new):
        for number, (one, other) in enumerate(zip(old, new, strict=True)):
            yield from _edits(_child(node, number), one, other, line_end)
    else:
        yield _Edit(node.start_mark.index, node.end_mark.index, _written(new))


def _is_list(value: object) -> bool:
    return isinstance(value, list | tuple)


def _child(node: Node, key: str | int) -> Node:
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


def _added(node: Node, key: str, value: object, line_end: str) -> _Edit:
    """Return what puts a key into a mapping: at the end of its line, or on its own."""
    if not isinstance(node, MappingNode) or not node.value:
        msg = f"{key} cannot be written into the file"
        raise SaveError(msg)
    first, (_, last) = node.value[0][0], node.value[-1]
    name = f'"{key}"' if first.style == '"' else key
    if node.flow_style:
        place = last.end_mark.index
        return _Edit(place, place, f", {name}: {_written(value)}")
    place = first.start_mark.index
    margin = " " * first.start_mark.column
    return _Edit(place, place, f"{name}: {_written(value)}{line_end}{margin}")


def _written(value: object) -> str:
    """Write a length or a list of them, as YAML and as JSON.

    >>> _written((1500.0, 0.25, "6 ft"))
    '[1500, 0.25, "6 ft"]'
    """
    if _is_list(value):
        return f"[{', '.join(_written(one) for one in value)}]"  # type: ignore[attr-defined]
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    if isinstance(value, int | float):
        return format(value, ".12f").rstrip("0")
    if isinstance(value, str):
        quoted = value.replace("\\", "\\\\").replace('"', '\\"')
        return f'"{quoted}"'
    msg = f"{value!r} cannot be written into the file"
    raise SaveError(msg)
