"""What is written in the window: all of it fits, and none of it overlaps."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from PIL import Image

from tests.viewer.window.window_rooms import blocked, find, stage
from viewer.sheet.letters import WrittenPicture
from viewer.sheet.meanings import meanings
from viewer.window.division import Division, framed
from viewer.window.state import State, begun, cut_open, go_on, pick, pick_item, turn_to
from viewer.window.texts import Words, words

if TYPE_CHECKING:
    from viewer.stage.drawn import Point
    from viewer.stage.looking.cuts import Axis

SIZES = [(900, 600), (1280, 820), (1600, 1000), (3840, 2160), (300, 200)]
EYE = (9.0, -9.0, 6.0)
"""South-east of the room, and above it."""
_WIDE = WrittenPicture(Image.new("RGB", (1, 1)), 1).wide


def _frame(state: State, size: tuple[int, int] = (1280, 820)) -> Division:
    return framed(*size, lesson=bool(state.start.steps))


def _texts(state: State, size: tuple[int, int] = (1280, 820)) -> list[str]:
    return [one.text for one in words(state, _frame(state, size), EYE)]


def _told(state: State, size: tuple[int, int] = (1280, 820)) -> str:
    return " ".join(_texts(state, size))


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("lesson", [False, True])
def test_the_parts_of_a_window_fill_it(size: tuple[int, int], *, lesson: bool) -> None:
    frame = framed(*size, lesson=lesson)
    parts = [frame.head, frame.room, frame.side, frame.foot]
    parts += [frame.lesson] if frame.lesson else []
    assert len(parts) == 4 + lesson
    area = 0.0
    for n, part in enumerate(parts):
        area += (part.right - part.left) * (part.bottom - part.top)
        assert not any(part.overlaps(other) for other in parts[n + 1 :])
    assert area == frame.width * frame.height
    assert frame.room.right - frame.room.left > 0.4 * frame.width


@pytest.mark.long
@pytest.mark.parametrize("size", SIZES[:4])
@pytest.mark.parametrize("what", ["start", "picked", "layers", "keys", "asked", "told"])
def test_words_stay_inside_and_do_not_overlap(size: tuple[int, int], what: str) -> None:
    lesson = begun(stage(lesson=True))
    asked = go_on(go_on(lesson, by=1), by=1)
    state = {
        "start": begun(stage()),
        "picked": cut_open(pick(blocked(), 0), "y"),
        "layers": turn_to(blocked(), "layers"),
        "keys": turn_to(lesson, "keys"),
        "asked": asked,
        "told": go_on(asked, by=1),
    }[what]
    frame = _frame(state, size)
    lines = [*words(state, frame, EYE)]
    assert len(lines) > 10
    boxes = [_box(one) for one in lines if one.text]
    for n, (left, top, right, bottom) in enumerate(boxes):
        assert 0 <= left < right <= frame.width, lines[n]
        assert 0 <= top < bottom <= frame.height, lines[n]
        for a, b, c, d in boxes[n + 1 :]:
            assert right <= a or c <= left or bottom <= b or d <= top, lines[n]


def _box(one: Words) -> tuple[float, float, float, float]:
    x, y = one.at
    wide = _WIDE(one.text, one.size, bold=one.bold)
    return x, y - 0.4 * one.size, x + wide, y + 0.4 * one.size


def test_a_picked_judgement_is_told_in_words_in_both_systems() -> None:
    state = blocked()
    told = _told(pick(state, find(state, "LP1", "working-space")))
    # NEC Table 110.26(A)(1): condition 2 at 0 to 150 V to ground is 900 mm (3 ft).
    assert "required 900 mm (3 ft)" in told
    assert "there is 250 mm (9 13/16 in)" in told
    assert "NEC 2023 110.26(A)(1)" in told
    assert "In the way: S1" in told
    row = state.stage.judgements[find(state, "LP1", "working-space")]
    assert row.reason.split()[-1] in told


def test_an_exception_a_part_and_what_is_from_memory_are_told() -> None:
    state = blocked()
    number = find(state, "LP1", "working-space")
    judgements = list(state.stage.judgements)
    judgements[number] = replace(
        judgements[number],
        named=("its upper shelf",),
        exception="Exception No. 3: meters",
    )
    unread = "verify against the adopted code: NEC 2023 110.26(B)"
    changed = replace(state.stage, judgements=tuple(judgements), unread=unread)
    told = _told(pick(replace(state, stage=changed), number))
    assert "In the way: its upper shelf" in told
    assert "By an exception: Exception No. 3: meters" in told
    assert f"From memory: {unread}" in told


def test_what_is_open_says_what_is_missing_and_what_was_measured() -> None:
    state = begun(stage())
    judgements = list(state.stage.judgements)
    number = next(n for n, one in enumerate(judgements) if one.verdict == "open")
    measured = "depth 2 m (6 ft) of 1 m (3 ft)"
    judgements[number] = replace(
        judgements[number], missing="Say it.", measured=measured
    )
    state = replace(state, stage=replace(state.stage, judgements=tuple(judgements)))
    assert "Say it." in _texts(state)
    assert f"Measured: {measured}." in _texts(pick(state, number))


def test_head_and_list_count_alike() -> None:
    state = blocked()
    texts = _texts(state)
    for verdict, told in (("not-met", "not met"), ("open", "open"), ("met", "met")):
        count = sum(one.verdict == verdict for one in state.stage.judgements)
        assert f"{count} {told}" in texts


def test_what_must_be_known_is_told_whole() -> None:
    state = begun(stage())
    for size in SIZES:
        assert state.stage.caution in _told(state, size)


def test_a_list_that_is_too_long_says_how_much_is_left_out() -> None:
    state = begun(stage())
    judgements = state.stage.judgements * 10
    state = replace(state, stage=replace(state.stage, judgements=judgements))
    texts = _texts(state)
    (more,) = [text for text in texts if text.startswith("and ")]
    rows = texts.count("✓") + sum(text.isdecimal() for text in texts)
    assert more == f"and {len(judgements) - rows} more"


def test_a_lesson_is_told_whole_where_there_is_little_room() -> None:
    asked = go_on(go_on(begun(stage(lesson=True)), by=1), by=1)
    told = _told(asked, (900, 600))
    assert "Now it stands 400 mm in front. Is that enough?" in told
    assert "No, a metre is asked for." not in told
    assert "Right: show the answer" in told
    assert "not met" not in told
    told = _told(go_on(asked, by=1), (900, 600))
    assert "No, a metre is asked for." in told
    assert "LP1 working space: met → not met" in told
    long = replace(asked.start.steps[1], ask="Is that enough? " * 40)
    steps = (asked.start.steps[0], long, *asked.start.steps[2:])
    state = replace(asked, start=replace(asked.start, steps=steps))
    assert _told(state, (900, 600)).count("enough?") == 40


def test_names_from_a_scene_stay_one_line() -> None:
    state = begun(stage())
    title = "A title\nof two lines " * 30
    state = replace(state, stage=replace(state.stage, title=title))
    for one in words(pick_item(state, "P1"), _frame(state, (900, 600)), EYE):
        assert "\n" not in one.text
    assert "No requirement applies to it." in _told(pick_item(state, "P1"))


@pytest.mark.parametrize(("units", "told"), [("mm", "2000 mm (6 ft"), ("in", "6 ft")])
def test_a_section_says_where_it_is(units: str, told: str) -> None:
    state = cut_open(begun(replace(stage(), units=units)), "x")
    assert f"Section, looking west, at {told}" in _told(state)


@pytest.mark.parametrize(
    ("axis", "eye", "told"),
    [
        ("x", (-9.0, 0.0, 2.0), "east"),
        ("y", EYE, "north"),
        ("y", (0.0, 9.0, 2.0), "south"),
        ("z", EYE, "down"),
        ("z", (0.0, 0.0, -9.0), "up"),
    ],
)
def test_a_section_is_called_by_what_one_looks_at(
    axis: Axis, eye: Point, told: str
) -> None:
    state = cut_open(begun(stage()), axis)
    texts = [one.text for one in words(state, _frame(state), eye)]
    assert any(one.startswith(f"Section, looking {told}, at ") for one in texts)


def test_the_legend_is_that_of_stills() -> None:
    state = blocked()
    texts = _texts(state)
    told = [text for _, text in meanings(state.stage)]
    assert told
    assert [one for one in told if one not in texts] == []
    hidden = replace(state, hidden=frozenset(one.id for one in state.stage.layers))
    assert "in the way" in texts
    assert "in the way" not in _texts(hidden)


@pytest.mark.long
def test_keys_are_listed_those_of_a_lesson_where_there_is_one() -> None:
    texts = _texts(turn_to(begun(stage()), "keys"))
    assert "Down, Up" in texts
    assert "Right, Left" not in texts
    assert "Right, Left" in _texts(turn_to(begun(stage(lesson=True)), "keys"))
    assert any("K: keys" in text for text in _texts(begun(stage())))


def test_layers_are_listed_with_those_that_are_hidden() -> None:
    state = turn_to(begun(stage()), "layers")
    texts = _texts(state)
    assert {layer.name for layer in state.stage.layers} <= {*texts}
    assert texts.count("☐") == len(state.hidden) == 1
    assert state.stage.layers[0].about in " ".join(texts)
