"""A repeat of which some copies have changed: those by themselves, the rest repeats."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING, Any

from viewer.live.saving.edit import (
    Edit,
    SaveError,
    added_below,
    edits_of,
    end_of,
    find,
    is_flow,
    line_end_at,
    with_edits,
    written,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from yaml.nodes import Node

_REPEAT = "repeat"
_OF_A_ROW = "line_up"
"""What a repeat gives its copies that touch, and an item of its own must say."""


@dataclass(frozen=True, slots=True)
class Repeated:
    """An item with a repeat, as it is written.

    Attributes:
        body: The text that it is in.
        items: The list that it is in.
        node: What is written of it.
        line_end: How lines of the text end.
        before: Its copies as they were read.
        after: Its copies as they are to be.
    """

    body: str
    items: Node
    node: Node
    line_end: str
    before: list[dict[str, Any]]
    after: list[dict[str, Any]]

    @property
    def end(self) -> int:
        """Where what is written of it ends."""
        end = end_of(self.node)
        return end if is_flow(self.node) else line_end_at(self.body, end)


def split(repeated: Repeated, *, singly: bool) -> Edit:
    """Return what writes the changed copies out, and the others as repeats around them.

    With ``singly`` each copy is written out.

    Raises:
        SaveError: That cannot be written in this text.
    """
    node = repeated.node
    if find(node, "id") is None or find(node, _REPEAT) is None:
        msg = "the copies are not written in the file as they were read"
        raise SaveError(msg)
    runs = [_run(repeated, first, count) for first, count in _runs(repeated, singly)]
    between = ", "
    if not is_flow(repeated.items):
        margin = repeated.items.start_mark.column
        space = node.start_mark.column - margin - 1
        between = f"{repeated.line_end}{' ' * margin}-{' ' * space}"
    return Edit(node.start_mark.index, repeated.end, between.join(runs))


def _runs(repeated: Repeated, singly: bool) -> Iterator[tuple[int, int]]:  # noqa: FBT001
    """Yield the first copy and the number of each run that is written as one item."""
    rows = [*zip(repeated.before, repeated.after, strict=True)]
    grouped = groupby(enumerate(rows), key=lambda row: row[1][0] == row[1][1])
    for same, group in grouped:
        numbers = [number for number, _ in group]
        if same and not singly:
            yield numbers[0], len(numbers)
        else:
            yield from ((number, 1) for number in numbers)


def _run(repeated: Repeated, first: int, count: int) -> str:
    """Return a run of copies as an item of the text."""
    node, before = repeated.node, repeated.before[0]
    wanted = repeated.after[first]
    keys = {key for key in before if find(node, key) is not None} - {"id"}
    own = [{k: v for k, v in one.items() if k in keys} for one in (before, wanted)]
    added = {k: v for k, v in wanted.items() if k not in before}
    edits = [*edits_of(node, own[0], {**own[1], **added}, repeated.line_end)]
    is_start = first == 0 and count > 1
    for key in before.keys() - keys - {"id"}:
        is_of_the_row = key == _OF_A_ROW and not is_start and _touches(node)
        if before[key] != wanted.get(key) or is_of_the_row:
            value = wanted.get(key)
            edits.append(
                added_below(repeated.body, node, key, value, repeated.line_end)
            )
    if not is_start:
        _, name = find(node, "id")  # type: ignore[misc]
        plain = not getattr(name, "style", None) and str(wanted["id"]).isalnum()
        text = str(wanted["id"]) if plain else written(str(wanted["id"]))
        edits.append(Edit(name.start_mark.index, name.end_mark.index, text))
    edits.append(_recounted(repeated, count))
    start = node.start_mark.index
    return with_edits(repeated.body[start : repeated.end], edits, start)


def _touches(node: Node) -> bool:
    _, repeat = find(node, _REPEAT)  # type: ignore[misc]
    return find(repeat, "touching") is not None


def _recounted(repeated: Repeated, count: int) -> Edit:
    """Return what sets the number of copies; one copy needs no repeat."""
    node = repeated.node
    key, value = find(node, _REPEAT)  # type: ignore[misc]
    if count > 1:
        _, number = find(value, "count")  # type: ignore[misc]
        return Edit(number.start_mark.index, number.end_mark.index, str(count))
    pairs = node.value
    place = next(n for n, pair in enumerate(pairs) if pair[0] is key)
    if place == 0:
        return Edit(key.start_mark.index, pairs[1][0].start_mark.index, "")
    if is_flow(node):
        return Edit(end_of(pairs[place - 1][1]), end_of(value), "")
    before = repeated.body.rfind("\n", 0, key.start_mark.index)
    start = before - (repeated.body[before - 1 : before] == "\r")
    return Edit(start, line_end_at(repeated.body, end_of(value)), "")
