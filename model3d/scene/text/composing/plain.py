"""YAML text to plain data alone, where nothing in it is out of the ordinary.

Where a value is written is asked only of a text with mistakes, and to remember it takes
longer than all the rest of reading.
"""

from __future__ import annotations

from itertools import islice
from typing import Any, Final

import yaml
from yaml.events import (
    AliasEvent,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
    SequenceStartEvent,
    StreamEndEvent,
)

from model3d.scene.text.composing.composer import DEEPEST, as_written
from model3d.scene.text.composing.loaders import MOST_VALUES, has_breaks, has_too_many
from model3d.scene.text.composing.scalars import Scalar, meaning


def plain_data(text: str) -> dict[str, Any] | None:
    r"""Return the mapping that a YAML text is, as ``compose`` would find it.

    None where that has to look: at what is no YAML or no mapping, at tags, anchors,
    keys that are no words or stand there twice, at very much, and without libyaml.

    >>> plain_data("size: [1, 0x10, 2.5]"), plain_data("a: 1\na: 2")
    ({'size': [1, 16, 2.5]}, None)
    """
    if not yaml.__with_libyaml__ or has_breaks(text) or has_too_many(text):
        return None
    try:
        return _data(text)
    except (yaml.YAMLError, ValueError, OverflowError, AssertionError, _OddError):
        return None


class _OddError(Exception):
    """Something that is to be looked at closely."""


def _data(text: str) -> dict[str, Any]:  # noqa: C901, PLR0912 - a million times round: no calls
    whole: list[Any] = []
    here: Any = whole
    above: list[Any] = []
    key: str | None = None
    meanings = _Meanings()
    event: Any = None
    events = iter(yaml.CBaseLoader(text).get_event, None)
    for event in islice(events, MOST_VALUES):
        kind = type(event)
        if kind is ScalarEvent:
            value = event.value
            if event.implicit[0]:
                value = meanings[value]
            elif not value.isascii():
                value = as_written(value)
        elif kind in _STARTS:
            value = _STARTS[kind]()
        elif kind in _ENDS:
            here = above.pop()
            continue
        elif kind is AliasEvent:
            raise _OddError
        else:
            continue
        if event.tag is not None or event.anchor is not None:
            raise _OddError
        if key is not None:
            here[key] = value
            key = None
        elif type(here) is list:
            here.append(value)
        elif type(value) is str and value != "<<" and value not in here:
            key = value
            continue
        else:
            raise _OddError
        if kind is not ScalarEvent:
            if len(above) >= DEEPEST:
                raise _OddError
            above.append(here)
            here = value
    if type(event) is not StreamEndEvent or len(whole) != 1:
        raise _OddError
    if type(whole[0]) is not dict:
        raise _OddError
    return whole[0]


class _Meanings(dict[str, Scalar]):
    """What the plain words of one text mean; most stand there many times."""

    def __missing__(self, text: str) -> Scalar:
        value = meaning(as_written(text))
        self[text] = value
        return value


_STARTS: Final[dict[type, type]] = {MappingStartEvent: dict, SequenceStartEvent: list}
_ENDS: Final = (MappingEndEvent, SequenceEndEvent)
