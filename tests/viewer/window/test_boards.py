"""What is written about and over the room: all of it fits, none of it overlaps."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

from tests.viewer.window.window_rooms import bring_shelf, window_state
from viewer.sheet.letters import Sheet
from viewer.window.boards import Boards
from viewer.window.frame import framed
from viewer.window.lessonbar import lesson_bar
from viewer.window.marks import Marks
from viewer.window.poses import Pose
from viewer.window.sidebar import sidebar
from viewer.window.state import Action, WindowState
from viewer.window.tools import head, tools

if TYPE_CHECKING:
    from viewer.sheet.places import Box
    from viewer.window.frame import Frame
    from viewer.window.ink import Board

SIZES = [(900, 600), (1280, 820), (1600, 1000), (3840, 2160), (300, 200)]


@pytest.fixture
def told(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Every text that is written."""
    found: list[str] = []
    write = Sheet.text

    def noted(
        self: Sheet, at: object, text: str, *more: object, **rest: object
    ) -> None:
        found.append(text)
        write(self, at, text, *more, **rest)  # type: ignore[arg-type]

    monkeypatch.setattr(Sheet, "text", noted)
    return found


def _frame(size: tuple[int, int], state: WindowState) -> Frame:
    return framed(*size, lesson=bool(state.start.steps))


def _inside(box: Box, other: Box) -> bool:
    return (
        other.left <= box.left
        and other.top <= box.top
        and box.right <= other.right
        and box.bottom <= other.bottom
    )


def _apart(boards: list[Board]) -> None:
    for n, one in enumerate(boards):
        for other in boards[n + 1 :]:
            assert not one.box.overlaps(other.box), (one.box, other.box)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("lesson", [False, True])
def test_the_parts_of_a_window_fill_it(size: tuple[int, int], *, lesson: bool) -> None:
    frame = framed(*size, lesson=lesson)
    parts = [frame.head, frame.room, frame.side, *([frame.lesson] if lesson else [])]
    area = 0.0
    for n, part in enumerate(parts):
        assert part is not None
        area += (part.right - part.left) * (part.bottom - part.top)
        assert not any(part.overlaps(other) for other in parts[n + 1 :] if other)
    assert area == frame.width * frame.height
    assert frame.room.right - frame.room.left > 0.4 * frame.width


@pytest.mark.parametrize("size", SIZES[:4])
def test_what_lies_over_the_room_does_not_overlap(size: tuple[int, int]) -> None:
    state = window_state()
    state.do(Action("axis", "z"))
    frame = _frame(size, state)
    boards = list(tools(state, frame, "south-east", None))
    assert all(_inside(board.box, frame.room) for board in boards)
    _apart(boards)
    for board in boards:
        pressed = [one.box for one in board.controls if one.action.name != "rest"]
        places = [place.wider(-0.01) for place in pressed]
        for n, place in enumerate(places):
            assert _inside(place, board.box)
            assert not any(place.overlaps(other) for other in places[n + 1 :])


@pytest.mark.parametrize("size", [(900, 600), (1600, 1000)])
@pytest.mark.parametrize("box", ["layers", "keys"])
def test_opened_boxes_fit_over_the_room(size: tuple[int, int], box: str) -> None:
    state = window_state()
    state.do(Action("box", box))
    frame = _frame(size, state)
    boards = list(tools(state, frame, "", None))
    assert all(_inside(board.box, frame.room) for board in boards)
    _apart(boards)


@pytest.mark.parametrize("size", [(900, 600), (1600, 1000)])
def test_buttons_of_the_list_do_not_overlap(size: tuple[int, int]) -> None:
    state = window_state()
    state.do(Action("item", "LP1"))
    state.do(Action("form"))
    frame = _frame(size, state)
    side = sidebar(state, frame.side, frame.scale, 0.0, None)
    places = [one.box for one in side.board.controls if one.action.name != "rest"]
    assert len(places) > 9
    for n, place in enumerate(places):
        assert frame.side.left <= place.left < place.right <= frame.side.right
        assert not any(place.overlaps(other) for other in places[n + 1 :])


def test_a_picked_row_is_told_in_words_in_both_systems(told: list[str]) -> None:
    state = window_state()
    bring_shelf(state)
    number = next(
        n
        for n, one in enumerate(state.stage.findings)
        if one.requirement == "working-space"
    )
    state.do(Action("pick", number=number))
    frame = _frame((1280, 820), state)
    sidebar(state, frame.side, frame.scale, 0.0, None)
    words = " ".join(told)
    # NEC Table 110.26(A)(1): condition 2 at 0 to 150 V to ground is 900 mm (3 ft).
    assert {"required", "900 mm", "3 ft"} <= {*told}
    assert {"there is", "250 mm", "9 13/16 in"} <= {*told}
    assert "NEC 2023 110.26(A)(1)" in words
    assert "S1" in told


def test_an_exception_a_part_and_what_is_from_memory_are_told(
    told: list[str],
) -> None:
    state = window_state()
    bring_shelf(state)
    number = next(
        n
        for n, one in enumerate(state.stage.findings)
        if one.requirement == "working-space"
    )
    row = state.stage.findings[number]
    row = replace(row, named=("its upper shelf",), exception="Exception No. 3: meters")
    findings = list(state.stage.findings)
    findings[number] = row
    unread = "verify against the adopted code: NEC 2023 110.26(B)"
    state.stage = replace(state.stage, findings=tuple(findings), unread=unread)
    state.do(Action("pick", number=number))
    frame = _frame((1280, 820), state)
    sidebar(state, frame.side, frame.scale, 0.0, None)
    words = " ".join(told)
    assert "its upper shelf" in told
    assert "By an exception: Exception No. 3: meters" in words
    assert f"From memory: {unread}" in words


def test_what_is_open_says_what_is_missing_and_what_was_measured(
    told: list[str],
) -> None:
    state = window_state()
    (number, finding), *_ = state.rows("open")
    asked = replace(
        finding, missing="Say it.", measured="depth 2 m (6 ft) of 1 m (3 ft)"
    )
    findings = list(state.stage.findings)
    findings[number] = asked
    state.stage = replace(state.stage, findings=tuple(findings))
    frame = _frame((1280, 820), state)
    sidebar(state, frame.side, frame.scale, 0.0, None)
    assert "Say it. Measured: depth 2 m of 1 m." in told


def test_rows_that_wait_say_so(told: list[str]) -> None:
    state = window_state()
    state.do(Action("fold"))
    state.do(Action("item", "S1"))
    state.do(Action("nudge", "1", -3))
    assert state.waiting
    frame = _frame((1280, 820), state)
    sidebar(state, frame.side, frame.scale, 0.0, None)
    assert told.count("is checked again …") == len(state.waiting)


def test_head_and_list_count_alike(told: list[str]) -> None:
    state = window_state()
    frame = _frame((1280, 820), state)
    head(state, frame, None)
    for verdict, words in (("not-met", "not met"), ("open", "open"), ("met", "met")):
        assert f"{len(state.rows(verdict))} {words}" in told


def test_a_lesson_is_told_whole_where_there_is_little_room(told: list[str]) -> None:
    state = window_state(lesson=True)
    state.do(Action("step", number=1))
    state.do(Action("step", number=1))
    frame = _frame((900, 600), state)
    assert frame.lesson is not None
    lesson_bar(state, frame.lesson, frame.scale, None)
    words = " ".join(told)
    assert "Now it stands 400 mm in front. Is that enough?" in words
    assert "No, a metre is asked for." not in words
    assert "Show the answer" in told
    state.do(Action("step", number=1))
    lesson_bar(state, frame.lesson, frame.scale, None)
    assert "No, a metre is asked for." in " ".join(told)


def test_names_from_a_scene_stay_one_line(told: list[str]) -> None:
    state = window_state()
    state.do(Action("item", "LP1"))
    frame = _frame((900, 600), state)
    sidebar(state, frame.side, frame.scale, 0.0, None)
    head(state, frame, None)
    assert all("\n" not in text for text in told)


def test_signs_carried_by_a_camera_that_rests_stay_where_they_are() -> None:
    state = window_state()
    frame = _frame((1280, 820), state)
    view = Pose((2.0, 1.5, 1.0), 142.0, 32.0, 7.0).view(frame.aspect)
    marks = Marks()
    rested = marks.arranged(state, frame, view, [])
    carried = marks.carried(frame, view)
    asked = {one.action: one.box for one in rested.controls}
    assert len(carried.controls) > 3
    for control in carried.controls:
        one, other = control.box.middle, asked[control.action].middle
        assert np.abs(np.subtract(one, other)).max() < 2.0


def test_a_number_in_the_picture_picks_its_row() -> None:
    state = window_state()
    bring_shelf(state)
    frame = _frame((1280, 820), state)
    view = Pose((2.0, 1.5, 1.0), 142.0, 32.0, 7.0).view(frame.aspect)
    signs = Marks().arranged(state, frame, view, [])
    rows = {
        int(one.action.number) for one in signs.controls if one.action.name == "pick"
    }
    numbered = {n for n, one in enumerate(state.stage.findings) if one.number}
    assert rows == numbered


def test_a_board_in_which_nothing_changed_is_used_again() -> None:
    state = window_state()
    state.do(Action("item", "S1"))
    state.do(Action("form"))
    frame = _frame((1280, 820), state)
    boards = Boards()
    boards.draw(state, frame, "", None)
    before = boards.drawn
    state.do(Action("nudge", "2", 3))
    boards.draw(state, frame, "", None)
    same = {name for name, board in boards.drawn.items() if board is before[name]}
    assert same == before.keys() - {"side"}
    state.do(Action("axis", "x"))
    boards.draw(state, frame, "", None)
    assert boards.drawn["head"] is before["head"]
    assert not same & {n for n, b in boards.drawn.items() if b is before.get(n)} - {
        "head"
    }


def test_the_list_is_scrolled_until_the_picked_row_is_seen() -> None:
    state = window_state()
    frame = _frame((900, 600), state)
    boards = Boards()
    number = state.rows("met")[-1][0]
    state.do(Action("fold"))
    state.do(Action("pick", number=number))
    boards.show_row(state, frame)
    boards.draw(state, frame, "", None)
    (place,) = [
        one.box
        for one in boards.drawn["side"].controls
        if one.action == Action("pick", number=number)
    ]
    assert frame.side.top <= place.top < place.bottom <= frame.side.bottom
    boards.scroll(-9000)
    boards.draw(state, frame, "", None)
    first = min(one.box.top for one in boards.drawn["side"].controls)
    assert frame.side.top <= first  # it ends where it begins


def test_a_reason_is_cut_at_a_sentence_where_it_can_be(told: list[str]) -> None:
    state = window_state()
    state.do(Action("nothing"))
    (number, finding), *_ = state.rows("open")
    state.stage = replace(
        state.stage,
        findings=tuple(
            replace(one, sizes=(), missing=f"One is open. {'Much is said. ' * 40}")
            if n == number
            else one
            for n, one in enumerate(state.stage.findings)
        ),
    )
    frame = _frame((900, 600), state)
    sidebar(state, frame.side, frame.scale, 0.0, None)
    (start,) = [n for n, text in enumerate(told) if text.startswith("One is open.")]
    assert finding.subject in told
    assert told[start + 2].endswith("said.")
    assert not any("Much" in text for text in told[start + 3 :])
