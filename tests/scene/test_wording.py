"""Every error the library can raise over a scene has words of its own."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any, get_args

import pytest
from pydantic import ValidationError

from model3d.scene.checks.placement import circles
from model3d.scene.faults import expected
from model3d.scene.faults.explanation import explained
from model3d.scene.parts.item import Item, Leaf
from model3d.scene.parts.lesson import Lesson
from model3d.scene.parts.part import Part
from model3d.scene.parts.supply import Supply
from model3d.scene.scene import Scene
from model3d.scene.words.nearest import listed, nearest

if TYPE_CHECKING:
    from collections.abc import Iterator

ODD: list[object] = [
    *(None, True, 0, -1, 3, 1.5, math.nan, math.inf, 1e300, 10**40, 10**400),
    *("", "x", "x" * 101, "x" * 10_001, "\ud800", b"x", object(), "1/0 in"),
    *([], [1], [1, 2], [1, 2, 3], [1, 2, 3, 4], ["x", None, True], [[]], [{}]),
    *({}, {"a": 1}, {"at": 3}, {"wall": 3}, {"a": {}}, {"set": "x"}, {"add": 3}),
    *([{"set": "x", "move": "y"}], [{"open": "x", "to": 999}], {"depth": 0}),
]


def _parts(part: type[Part], seen: set[type[Part]]) -> set[type[Part]]:
    def inside(annotation: Any) -> Iterator[type[Part]]:  # noqa: ANN401 - any type
        if isinstance(annotation, type) and issubclass(annotation, Part):
            yield annotation
        for inner in get_args(annotation):
            yield from inside(inner)

    if part not in seen:
        seen.add(part)
        for field in part.model_fields.values():
            for inner in inside(field.annotation):
                _parts(inner, seen)
    return seen


PARTS = sorted(_parts(Scene, set()), key=lambda part: part.__name__)


@pytest.mark.parametrize("part", PARTS, ids=lambda part: part.__name__)
def test_every_field_and_every_odd_value(
    part: type[Part], monkeypatch: pytest.MonkeyPatch
) -> None:
    # Words for what is not in the list would be found here as a missing entry.
    monkeypatch.setattr(expected, "OTHER", "{no words}")
    told = 0
    for name, field in part.model_fields.items():
        for odd in ODD:
            data = {field.alias or name: odd}
            try:
                part.model_validate(data, by_name=False)
            except ValidationError as error:
                mistakes = explained(error, part, data)
                assert mistakes
                for _, message in mistakes:
                    told += 1
                    assert message.startswith("found ")
                    assert ", right is " in message
                    assert "no words" not in message
    assert told > len(ODD) / 2


def _lines(part: type[Part], data: dict[str, object]) -> list[tuple[object, str]]:
    with pytest.raises(ValidationError) as caught:
        part.model_validate(data)
    return [*explained(caught.value, part, data)]


def test_a_misspelt_key_is_not_missing_as_well() -> None:
    assert _lines(Leaf, {"hinge": "left", "widht": 3}) == [
        (("widht",), 'found the unknown key "widht", right is width')
    ]


def test_a_key_that_is_there_is_not_meant_again() -> None:
    data: dict[str, object] = {"system": "480Y/277", "sytem": "480Y/277"}
    assert _lines(Supply, data) == [
        (("sytem",), 'found the unknown key "sytem", right is system')
    ]


def test_the_known_keys_are_those_of_the_right_model() -> None:
    places = {
        "wall": "wall, along, bottom, top or gap",
        "at": "at, facing, bottom or top",
        "over": "align, shift, over or gap",
    }
    for key, known in places.items():
        place = {key: "north", "zzz": 1} | ({"along": 1} if key == "wall" else {})
        data: dict[str, object] = {"id": "A", "kind": "pad", "place": place}
        assert (
            ("place", "zzz"),
            f'found the unknown key "zzz", right is one of {known}',
        ) in _lines(Item, data)


def test_the_known_keys_beside_a_change_are_those_of_the_change() -> None:
    item = {"id": "A", "kind": "pad", "zzz": 1}
    steps = [{"say": "s", "do": [{"add": item, "yyy": 1}]}]
    lines = dict(_lines(Lesson, {"title": "T", "steps": steps}))
    where = ("steps", 0, "do", 0)
    assert lines[(*where, "yyy")].endswith("right is one of add")
    assert lines[(*where, "add", "zzz")].endswith("right is a key of the scene format")


@pytest.mark.parametrize(
    ("word", "known", "near"),
    [
        ("siez", ["size", "sides"], "size"),
        ("PanelBoard", ["panelboard", "pad"], "panelboard"),
        ("aks", ["say", "ask"], "ask"),
        ("amp", ["amps", "system"], "amps"),
        ("x" * 61, ["x" * 60], None),
        ("", ["a"], None),
        ("room", ["id", "kind", "place"], None),
    ],
)
def test_the_nearest_word(word: str, known: list[str], near: str | None) -> None:
    assert nearest(word, known) == near


def test_words_in_a_row() -> None:
    assert listed(["a", "b"], "and") == "a and b"


def test_circles_are_told_once_each() -> None:
    below: dict[str, str | None] = {"A": "B", "B": "A", "C": "A", "D": "E", "E": "F"}
    below |= {"F": "E", "G": "G", "H": "nobody", "I": None}
    assert circles(below) == [["A", "B", "A"], ["E", "F", "E"]]


def test_a_long_chain_is_walked_and_not_climbed() -> None:
    length = 20_000
    chain: dict[str, str | None] = {
        str(n): str((n + 1) % length) for n in range(length)
    }
    (circle,) = circles(chain)
    assert len(circle) == length + 1
