"""YAML text to nodes: plain data, and where in the text each value is written."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from ruamel.yaml import YAML
from ruamel.yaml.error import MarkedYAMLError, YAMLError
from ruamel.yaml.events import (
    AliasEvent,
    CollectionStartEvent,
    DocumentStartEvent,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
)
from ruamel.yaml.reader import ReaderError

from model3d.scene.mistakes import found
from model3d.scene.text.nodes import START, Fault, Node, NotReadError, Position
from model3d.scene.text.scalars import STANDARD_TAGS, meaning, tagged, written_tag

if TYPE_CHECKING:
    from collections.abc import Iterator

DEEPEST: Final = 64
"""Lists and mappings inside each other."""
MOST_VALUES: Final = 2_000_000
"""Values of one file, each alias counted as all that it stands for."""
_NO_TAG: Final = "a value without a tag"


def compose(text: str) -> tuple[Node | None, list[Fault]]:
    """Read YAML 1.2 text into nodes; None stands for a text without a value.

    Raises:
        NotReadError: It is no YAML, holds several documents, nests too deep, or
            stands for too many values.
    """
    reading = _Reading()
    for event in _events(text):
        reading.take(event)
    return reading.root, reading.faults


def _events(text: str) -> Iterator[Any]:
    try:
        yield from YAML(typ="base", pure=True).parse(text)
    except ReaderError as error:
        before = text[: error.position]
        mark = Position(
            before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1
        )
        code = f"U+{error.character:04X}"
        msg = f"found the character {code}, right is text without control characters"
        raise NotReadError(mark, msg) from None
    except MarkedYAMLError as error:
        place = error.problem_mark or error.context_mark
        mark = _mark(place) if place else START
        raise NotReadError(
            mark, f"not YAML: {error.problem or error.context}"
        ) from None
    except (YAMLError, ValueError, OverflowError, AssertionError) as error:
        # The parser meets some broken escapes and directives with a plain error.
        raise NotReadError(START, f"not YAML: {str(error) or 'broken'}") from None


def _mark(place: Any) -> Position:  # noqa: ANN401 - the parser has no type for it
    return Position(place.line + 1, place.column + 1)


@dataclass(slots=True)
class _Open:
    """A list or mapping that is still being read.

    Attributes:
        node: What it becomes.
        key: The key whose value comes next; None in a list, or before a key.
        dropped: What comes next is the value of a key that cannot be used.
        is_key: The whole stands where a key should.
    """

    node: Node
    key: str | None = None
    dropped: bool = False
    is_key: bool = False

    @property
    def wants_key(self) -> bool:
        is_mapping = isinstance(self.node.value, dict)
        return is_mapping and self.key is None and not self.dropped


class _Reading:
    """The state of reading one text, event by event."""

    def __init__(self) -> None:
        self.root: Node | None = None
        self.faults: list[Fault] = []
        self.documents = 0
        self.count = 0
        self.stack: list[_Open] = []
        self.anchors: dict[str, Node] = {}

    def take(self, event: Any) -> None:  # noqa: ANN401 - any of the parser's events
        match event:
            case ScalarEvent():
                self.scalar(event)
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
        mark = _mark(event.start_mark)
        value: object = event.value
        tag = event.tag
        if tag is None and event.implicit[0]:
            value = meaning(event.value)
        elif tag in STANDARD_TAGS and STANDARD_TAGS[tag] not in (dict, list):
            try:
                value = tagged(event.value, tag)
            except ValueError as error:
                self.fault(mark, f"found {found(event.value)}, right is {error}")
        elif tag not in (None, "!"):
            self.bad_tag(mark, tag)
        self.add(mark, value, event.anchor)

    def start(self, event: Any) -> None:  # noqa: ANN401
        mark = _mark(event.start_mark)
        value: object = {} if isinstance(event, MappingStartEvent) else []
        if event.tag not in (None, "!") and (
            STANDARD_TAGS.get(event.tag) is not type(value)
        ):
            self.bad_tag(mark, event.tag)
        if len(self.stack) >= DEEPEST:
            raise _too_deep(mark)
        node = Node(mark, value, height=1, open=True)
        is_key = bool(self.stack) and self.stack[-1].wants_key
        if is_key:
            what = "a mapping" if value == {} else "a list"
            self.fault(mark, f"found {what} as a key, right is a word")
        self.counted(mark, 1)
        self.anchored(event.anchor, node)
        self.stack.append(_Open(node, is_key=is_key))

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
        node = self.anchors.get(event.anchor)
        if node is None:
            msg = (
                f"found the alias *{event.anchor} of nothing, right is an anchor before"
            )
            raise NotReadError(mark, msg)
        if node.open:
            msg = f"found the alias *{event.anchor} inside itself, right is an end"
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
        self.counted(mark, 1)
        node = Node(mark, value)
        self.anchored(anchor, node)
        if self.stack and self.stack[-1].wants_key:
            self.key(mark, value)
        elif self.stack:
            self.attach(node)
        else:
            self.root = node

    def key(self, mark: Position, value: object) -> None:
        top = self.stack[-1]
        # An id may be a number, and is named by its text wherever it stands.
        key = found(value) if not isinstance(value, str) else value
        if value is None or value == "<<":
            what = "no key" if value is None else "a merge key (<<)"
            self.fault(mark, f"found {what}, right is each key written out")
            top.dropped = True
        elif key in top.node.keys:
            self.fault(mark, f"found the key {key} again, right is each key once", key)
            top.dropped = True
        else:
            top.key = key
            top.node.keys[key] = mark

    def attach(self, node: Node) -> None:
        top = self.stack[-1]
        top.node.count += node.count
        top.node.height = max(top.node.height, node.height + 1)
        if top.dropped:
            top.dropped = False
        elif top.key is not None:
            top.node.value[top.key] = node.value
            top.node.parts[top.key] = node
            top.key = None
        else:
            top.node.parts[len(top.node.value)] = node
            top.node.value.append(node.value)

    def anchored(self, anchor: str | None, node: Node) -> None:
        if anchor is not None:
            self.anchors[anchor] = node

    def counted(self, mark: Position, more: int) -> None:
        self.count += more
        if self.count > MOST_VALUES:
            msg = f"found more than {MOST_VALUES} values, right is a file of one room"
            raise NotReadError(mark, msg)

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
