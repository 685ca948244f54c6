"""YAML text to nodes: plain data, and where in the text each value is written."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any, Final

import yaml
from yaml.events import (
    AliasEvent,
    CollectionStartEvent,
    DocumentStartEvent,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
)
from yaml.reader import ReaderError

from model3d.scene.text.composing.loaders import (
    AS_WRITTEN,
    MOST_VALUES,
    by_either,
    has_too_many,
)
from model3d.scene.text.composing.nodes import (
    NO_KEYS,
    NO_PARTS,
    START,
    Fault,
    Node,
    NotReadError,
    Position,
)
from model3d.scene.text.composing.not_yaml import explanation, unplaced
from model3d.scene.text.composing.scalars import (
    STANDARD_TAGS,
    meaning,
    tagged,
    written_tag,
)
from model3d.scene.words.mistakes import found

DEEPEST: Final = 64
"""Lists and mappings inside each other."""
_TOO_MANY: Final = f"found more than {MOST_VALUES} values, right is a file of one room"
_NO_TAG: Final = "a value without a tag"
_HALF: Final = re.compile(r"[\ud800-\udfff]")
_LONGEST_NAME: Final = 40
"""Characters of an alias that a message shows."""
_BLANK: Final = re.compile(r"(?:[ \t\r\n]|#.*)*")


def compose(text: str) -> tuple[Node | None, list[Fault]]:
    """Read YAML 1.2 text into nodes; None stands for a text without a value.

    Raises:
        NotReadError: It is no YAML, holds several documents, nests too deep, or
            stands for too many values.
    """
    if has_too_many(text):
        raise NotReadError(START, _TOO_MANY)
    try:
        return by_either(text, _read)
    except ReaderError as error:
        before = text[: error.position]
        mark = Position(before.count("\n") + 1, len(before) - before.rfind("\n"))
        code = f"U+{ord(text[error.position]):04X}"
        msg = f"found the character {code}, right is text without control characters"
        raise NotReadError(mark, msg) from None
    except yaml.MarkedYAMLError as error:
        raise NotReadError(*explanation(error, text)) from None
    except (yaml.YAMLError, ValueError, OverflowError, AssertionError):
        # The parser meets some broken escapes and directives with a plain error.
        raise NotReadError(*unplaced(text)) from None


def _read(text: str, loader: Any) -> tuple[Node | None, list[Fault]]:  # noqa: ANN401 - either of the library's two
    reading = _Reading(text)
    take, scalar = reading.take, reading.scalar
    for event in yaml.parse(text, Loader=loader):
        # Seven of ten are words and numbers: with them nothing is asked twice.
        if type(event) is ScalarEvent:
            scalar(event)
        else:
            take(event)
    return reading.root, reading.faults


def as_written(text: str) -> str:
    r"""Return what the parser found as it was written, without what stands in for it.

    Two halves of a character, as JSON writes them, are one.

    >>> as_written("\ud83d\ude00") == "\U0001f600", as_written("\ud83d") == "\ud83d"
    (True, True)
    """
    text = text.translate(AS_WRITTEN)
    if _HALF.search(text) is None:
        return text
    data = text.encode("utf-16-le", "surrogatepass")
    return data.decode("utf-16-le", "surrogatepass")


def _mark(place: Any) -> Position:  # noqa: ANN401 - the parser has no type for it
    # A file may have a million places: made as a plain tuple is, each takes half.
    return tuple.__new__(Position, (place.line + 1, place.column + 1))


@dataclass(slots=True)
class _Open:
    """A list or mapping that is still being read.

    Attributes:
        node: What it becomes.
        mapping: It is a mapping.
        key: The key whose value comes next; None in a list, or before a key.
        dropped: What comes next is the value of a key that cannot be used.
        is_key: The whole stands where a key should.
        again: A second id stands in it: what follows belongs to another item.
    """

    node: Node
    mapping: bool
    key: str | None = None
    dropped: bool = False
    is_key: bool = False
    again: bool = False

    @property
    def wants_key(self) -> bool:
        return self.mapping and self.key is None and not self.dropped


class _Reading:
    """The state of reading one text, event by event."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.root: Node | None = None
        self.faults: list[Fault] = []
        self.documents = 0
        self.count = 0
        self.stack: list[_Open] = []
        self.anchors: dict[str, Node] = {}
        self.last = 0

    def take(self, event: Any) -> None:  # noqa: ANN401 - any of the parser's events
        match event:
            case CollectionStartEvent():
                self.start(event)
            case MappingEndEvent() | SequenceEndEvent():
                self.end()
            case AliasEvent():
                self.alias(event)
            case DocumentStartEvent():
                self.documents += 1
                if self.documents > 1:
                    msg = "found a second document, right is one scene a file"
                    raise NotReadError(_mark(event.start_mark), msg)

    def scalar(self, event: Any) -> None:  # noqa: ANN401
        start, end, tag, text = (
            event.start_mark,
            event.end_mark,
            event.tag,
            event.value,
        )
        # As _mark does, without the call: this is done for each word of a file.
        mark = tuple.__new__(Position, (start.line + 1, start.column + 1))
        if not text and start.index == end.index:
            mark = self.mark_of_nothing(start)
        elif not text.isascii():
            text = as_written(text)
        value: object = text
        if tag is None and event.implicit[0]:
            value = meaning(text)
        elif tag is None or tag == "!":
            pass
        elif tag in STANDARD_TAGS and STANDARD_TAGS[tag] not in (dict, list):
            try:
                value = tagged(text, tag)
            except ValueError as error:
                self.fault(mark, f"found {found(text)}, right is {error}")
        else:
            self.bad_tag(mark, tag)
        self.last = end.index - 1 if end.index else 0
        self.add(mark, value, event.anchor)

    def mark_of_nothing(self, mark: Any) -> Position:  # noqa: ANN401 - as _mark
        """Return where a value is missing: behind its colon.

        The loaders do not agree on that place.
        """
        index, text = mark.index, self.text
        if self.stack and not isinstance(self.stack[-1].node.value, list):
            # The key before it is the last that was read: no colon is further back.
            behind = text.rfind(":", self.last, index) + 1
            blank = _BLANK.match(text, behind) if behind else None
            if blank and behind <= index <= blank.end():
                index = behind
        line = mark.line - text.count("\n", index, mark.index)
        line += text.count("\n", mark.index, index)
        return Position(line + 1, index - text.rfind("\n", 0, index))

    def start(self, event: Any) -> None:  # noqa: ANN401
        mark = _mark(event.start_mark)
        mapping = isinstance(event, MappingStartEvent)
        value: object = {} if mapping else []
        if event.tag not in (None, "!") and (
            STANDARD_TAGS.get(event.tag) is not type(value)
        ):
            self.bad_tag(mark, event.tag)
        if len(self.stack) >= DEEPEST:
            raise _too_deep(mark)
        node = Node(mark, value, {}, {}, height=1, open=True)
        is_key = bool(self.stack) and self.stack[-1].wants_key
        if is_key:
            what = "a mapping" if mapping else "a list"
            self.fault(mark, f"found {what} as a key, right is a word")
        self.counted(mark, 1)
        self.anchored(event.anchor, node)
        self.stack.append(_Open(node, mapping, is_key=is_key))

    def end(self) -> None:
        done = self.stack.pop()
        done.node.open = False
        if not self.stack:
            self.root = done.node
        elif done.is_key:
            self.stack[-1].dropped = True
        else:
            self.attach(done.node)

    def alias(self, event: Any) -> None:  # noqa: ANN401
        mark = _mark(event.start_mark)
        name = f"*{event.anchor[:_LONGEST_NAME]}"
        node = self.anchors.get(event.anchor)
        if node is None:
            msg = f"found the alias {name} of nothing, right is an anchor before"
            raise NotReadError(mark, msg)
        if node.open:
            msg = f"found the alias {name} inside itself, right is an end"
            raise NotReadError(mark, msg)
        if len(self.stack) + node.height > DEEPEST:
            raise _too_deep(mark)
        self.counted(mark, node.count)
        if self.stack and self.stack[-1].wants_key:
            self.fault(mark, "found an alias as a key, right is a word")
            self.stack[-1].dropped = True
            return
        self.attach(
            Node(mark, node.value, node.parts, node.keys, node.count, node.height)
        )

    def add(self, mark: Position, value: object, anchor: str | None) -> None:
        self.count += 1
        if self.count > MOST_VALUES:
            self.counted(mark, 0)
        top = self.stack[-1] if self.stack else None
        if top is not None and top.mapping and top.key is None and not top.dropped:
            if anchor is not None:
                self.anchors[anchor] = Node(mark, value, NO_PARTS, NO_KEYS)
            keys = top.node.keys
            if type(value) is not str or value == "<<" or value in keys:
                self.key(mark, value, top)
            else:
                top.key = value
                keys[value] = mark
            return
        node = Node(mark, value, NO_PARTS, NO_KEYS)
        if anchor is not None:
            self.anchors[anchor] = node
        if top is None:
            self.root = node
        else:
            self.attach(node)

    def key(self, mark: Position, value: object, top: _Open) -> None:
        # An id may be a number, and is named by its text wherever it stands.
        key = found(value) if not isinstance(value, str) else value
        if value is None or value == "<<":
            what = "no key" if value is None else "a merge key (<<)"
            right = "" if value is None else ", or types: for what several items have"
            self.fault(mark, f"found {what}, right is each key written out{right}")
            top.dropped = True
        elif key in top.node.keys:
            self.key_again(mark, key, top)
            top.dropped = True
        else:
            top.key = key
            top.node.keys[key] = mark

    def key_again(self, mark: Position, key: str, top: _Open) -> None:
        if key == "id":
            # The rest of what follows is of the other item: no mistake of its own.
            top.again = True
            right = 'each key once, or "- id" where another item begins'
            self.fault(mark, f"found the key id again, right is {right}", key)
        elif not top.again:
            self.fault(mark, f"found the key {key} again, right is each key once", key)

    def attach(self, node: Node) -> None:
        top = self.stack[-1]
        within, key = top.node, top.key
        within.count += node.count
        if node.height >= within.height:
            within.height = node.height + 1
        if top.dropped:
            top.dropped = False
        elif key is not None:
            within.value[key] = node.value
            within.parts[key] = node
            top.key = None
        else:
            within.parts[len(within.value)] = node
            within.value.append(node.value)

    def anchored(self, anchor: str | None, node: Node) -> None:
        if anchor is not None:
            self.anchors[anchor] = node

    def counted(self, mark: Position, more: int) -> None:
        self.count += more
        if self.count > MOST_VALUES:
            raise NotReadError(mark, _TOO_MANY)

    def bad_tag(self, mark: Position, tag: str) -> None:
        self.fault(mark, f"found the tag {written_tag(tag)}, right is {_NO_TAG}")

    def fault(self, mark: Position, message: str, *key: str) -> None:
        loc: list[str | int] = []
        for level in self.stack:
            if isinstance(level.node.value, list):
                loc.append(len(level.node.value))
            elif level.key is not None:
                loc.append(level.key)
        self.faults.append(Fault(mark, (*loc, *key), message))


def _too_deep(mark: Position) -> NotReadError:
    msg = f"found more than {DEEPEST} levels, right is less nesting"
    return NotReadError(mark, msg)
