"""Signs in the pictures of every example: none over another, none outside.

Names that cover one another cannot be read; that they must not is the first rule of
lettering on maps (Imhof, "Positioning Names on Maps", The American Cartographer, 1975).
"""

from __future__ import annotations

import itertools
from functools import cache
from typing import TYPE_CHECKING, Any, Final

import pytest
from PIL import Image

from tests.scenes import examples
from viewer.picture.composition import compass_box, projection_of, signs_in
from viewer.picture.lesson_step import step_words, view_of_step
from viewer.sheet.captions import legend, spoken_lines, write_captions
from viewer.sheet.layout import heading, layout
from viewer.sheet.letters import WrittenPicture
from viewer.sheet.meanings import meanings
from viewer.sheet.sign_places import Rectangle
from viewer.sheet.signage import LETTERS
from viewer.sheet.signs import line_sizes
from viewer.stage import build_stage
from viewer.stage.looking.about import about, short_sizes, sizes_about
from viewer.stage.looking.names import in_sight
from viewer.stage.looking.views import view_of_item, view_of_place

if TYPE_CHECKING:
    from viewer.sheet.layout import Layout
    from viewer.sheet.sign_places import Spot
    from viewer.sheet.signage import Signs
    from viewer.stage import Stage

pytestmark = pytest.mark.many

SIZES: Final = ((1600, 1000), (900, 600))
SHEET: Final = WrittenPicture(Image.new("RGB", (8, 8)))


@cache
def stage_of(name: str, of: str) -> Stage:
    """Return an example room as it is shown for one of its items."""
    whole = build_stage(examples.scene(name), examples.report(name), of=of)
    return about(whole, of)


def hold(signs: Signs, plan: Layout) -> None:
    """Make sure that signs keep apart, in the room's part, and hold their texts."""
    boxes = [(mark.lines, mark.box) for mark in signs.marks]
    boxes.append((("the arrow to the north",), compass_box(plan)))
    for (one, a), (other, b) in itertools.combinations(boxes, 2):
        assert not a.overlaps(b), (one, other)
    room = plan.room
    for mark in signs.marks:
        box = mark.box
        assert room.left <= box.left < box.right <= room.right, mark.lines
        assert room.top <= box.top < box.bottom <= room.bottom, mark.lines
        shares = line_sizes(mark.look, len(mark.lines))
        bold = mark.look in {"strong-name", "not-met", "open"}
        for line, share in zip(mark.lines, shares, strict=True):
            size = LETTERS * plan.scale * share
            assert SHEET.wide(line, size, bold=bold) <= box.right - box.left, line


def numbers(signs: Signs) -> int:
    """Return how many judgements the badges of a picture stand for, by what they say.

    What one thing is in the way of shares a badge, which names the thing.
    """
    runs = [
        run
        for mark in signs.marks
        if mark.look in {"not-met", "open"}
        for run in mark.lines[0].split("  ")[0].split(", ")
    ]
    said = sum(int(run.split("-")[-1]) - int(run.split("-")[0]) + 1 for run in runs)
    meant = sum(len(mark.judgements) for mark in signs.marks)
    assert said == meant
    return said


def words_of(signs: Signs) -> set[tuple[str, ...]]:
    return {mark.lines for mark in signs.marks}


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", examples.NAMES)
def test_in_a_picture_of_a_room_no_sign_covers_another(
    name: str, size: tuple[int, int]
) -> None:
    stage = examples.stage(name)
    plan = layout(stage, size)
    signs = signs_in(stage, plan, view_of_place(stage, plan.aspect), SHEET.wide)
    hold(signs, plan)
    assert numbers(signs) == len(stage.badges)
    assert [one[:2] for one in legend(stage, plan, SHEET.wide)] == [*meanings(stage)]
    for one in short_sizes(stage):
        assert tuple(filter(None, (one.brief, one.brief_other))) in words_of(signs)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", examples.NAMES)
def test_in_a_picture_of_one_item_no_sign_covers_another(
    name: str, size: tuple[int, int]
) -> None:
    whole = examples.stage(name)
    items = {shape.item for shape in whole.shapes if shape.role == "solid"}
    of = next(one.subject for one in whole.judgements if one.subject in items)
    stage = stage_of(name, of)
    plan = layout(stage, size, of=of)
    signs = signs_in(stage, plan, view_of_item(stage, of, plan.aspect), SHEET.wide)
    hold(signs, plan)
    assert numbers(signs) == len(stage.badges)


@pytest.mark.parametrize("name", examples.LESSON_NAMES)
def test_in_a_picture_of_a_step_no_sign_covers_another(name: str) -> None:
    lesson = examples.steps_shown(name)
    for size, number in itertools.product(SIZES, range(1, len(lesson.steps) + 1)):
        step = lesson.steps[number - 1]
        words = step_words(lesson, number)
        plan = layout(step.stage, size, words=words, title=lesson.lesson)
        view = view_of_step(lesson, number, plan.aspect)
        sizes = sizes_about(step.stage, step.item)
        signs = signs_in(step.stage, plan, view, SHEET.wide, sizes=sizes)
        hold(signs, plan)
        assert numbers(signs) == len(step.stage.badges)
        kept = legend(step.stage, plan, SHEET.wide)
        assert [one[:2] for one in kept] == [*meanings(step.stage)]
        told = spoken_lines(SHEET, plan)
        assert " ".join(told) == " ".join(words.split())


def test_no_name_stands_on_what_lies_over_its_item() -> None:
    """From above a wireway hides the top of its panelboard: that is named below it."""
    stage = examples.steps_shown("six-inches-above-and-below")
    plan = layout(stage, SIZES[0], words=step_words(stage, 4))
    view = view_of_step(stage, 4, plan.aspect)
    shown = stage.steps[3].stage
    found = {one.item: one.anchor for one in in_sight(shown.labels, shown, view)}
    before = {one.item: one.anchor for one in shown.labels}
    heights = shown.shape("LP1").vertices[:, 2]
    low, high = heights.min(), heights.max()
    assert before["LP1"][2] == pytest.approx(high)
    assert found["LP1"][:2] == before["LP1"][:2]
    assert found["LP1"][2] == pytest.approx((low + high) / 2)
    assert found["WW1"] == before["WW1"]


def test_what_carries_another_thing_is_named_where_it_is_seen() -> None:
    """The pads below the board and the transformer stick out 50 to 100 to each side."""
    stage = examples.stage("pump-station")
    plan = layout(stage, SIZES[0])
    view = view_of_place(stage, plan.aspect)
    signs = signs_in(stage, plan, view, SHEET.wide)
    projection = projection_of(plan, view)
    for pad, carried in (("PAD1", "MSB"), ("PAD2", "T1")):
        (name,) = (one for one in signs.marks if one.lines == (pad,))
        body = projection.pixels(stage.shape(carried).vertices)
        (left, top), (right, bottom) = body.min(axis=0), body.max(axis=0)
        own = projection.pixels(stage.shape(pad).vertices)
        assert name.box.overlaps(Rectangle(*own.min(axis=0), *own.max(axis=0)))
        shared = (min(right, name.box.right) - max(left, name.box.left)) * (
            min(bottom, name.box.bottom) - max(top, name.box.top)
        )
        area = (name.box.right - name.box.left) * (name.box.bottom - name.box.top)
        assert shared < area / 2


class Written(WrittenPicture):
    """A sheet that keeps what is written on it."""

    def __init__(self, picture: Image.Image) -> None:
        super().__init__(picture)
        self.said: list[str] = []

    def text(self, at: Spot, text: str, size: float, **look: Any) -> None:  # noqa: ANN401 - as the sheet takes it
        """Keep what is written, and write it."""
        self.said.append(text)
        super().text(at, text, size, **look)


def test_what_is_met_leaves_a_list_below_to_what_is_not() -> None:
    """It is counted there all the same, and listed beside a wide picture."""
    stage = examples.stage("stored-goods")
    verdicts = [one.verdict for one in stage.judgements if one.subject == "LP1"]
    assert {"met", "not-met", "open"} == {*verdicts}
    for size, listed in (
        ((900, 640), {"not-met", "open"}),
        ((1600, 1000), {*verdicts}),
    ):
        plan = layout(stage, size, of="LP1")
        assert {one.verdict for one in plan.listed} == listed
        sheet = Written(Image.new("RGB", size, "#FFFFFF"))
        write_captions(sheet, stage, plan)
        assert any(f"{verdicts.count('met')} met" in line for line in sheet.said)
    whole = layout(examples.stage("clean-small-room"), (900, 640), of="LP1")
    assert {one.verdict for one in whole.listed} == {"met"}


@pytest.mark.parametrize("size", [(900, 700), (800, 1000), (1600, 1000)])
def test_a_list_below_a_picture_tells_as_much_as_its_width_lets_it(
    size: tuple[int, int],
) -> None:
    """Six numbers of four to five short lines: three columns hold them at 900."""
    stage = examples.stage("pump-station")
    plan = layout(stage, size)
    sheet = Written(Image.new("RGB", size, "#FFFFFF"))
    write_captions(sheet, stage, plan)
    assert not [line for line in sheet.said if "more in the report" in line]
    cited = [one.citation for one in stage.judgements if one.verdict != "met"]
    assert set(cited) <= {*sheet.said}


@pytest.mark.parametrize("size", [(480, 700), (900, 600), (1600, 1000)])
def test_no_title_is_cut_that_a_second_row_or_smaller_letters_hold(
    size: tuple[int, int],
) -> None:
    """Words are never cut where there is another way: the counts have their own row."""
    stage = examples.stage("pump-station")
    for of, title in ((None, stage.title), ("PCP1", "")):
        plan = layout(stage, size, of=of)
        sheet = Written(Image.new("RGB", size, "#FFFFFF"))
        write_captions(sheet, stage, plan)
        counts = next(line for line in sheet.said if "not met" in line)
        assert "met" in counts.split()[-1]
        assert title in sheet.said if title else not sheet.said[1].endswith("\u2026")


def test_what_is_said_below_leaves_the_room_two_fifths_of_a_small_picture() -> None:
    """A long list and many words left it a fifth: nothing was made out any more."""
    stage = examples.stage("pump-station")
    plan = layout(stage, (900, 600), words="A step of a lesson says this. " * 9)
    assert plan.room.bottom - plan.room.top >= 0.4 * 600 - 1
    assert plan.said is not None
    assert plan.panel is not None
    assert plan.panel.bottom <= plan.said.top


@pytest.mark.parametrize("size", [(900, 600), (1600, 1000)])
@pytest.mark.parametrize("name", ["pump-station", "old-switch-room", "as-drawn-room"])
def test_no_word_of_a_heading_is_cut(name: str, size: tuple[int, int]) -> None:
    """A narrow picture has another row for it: the product's own contract."""
    stage = examples.stage(name)
    items = {one.subject for one in stage.judgements if one.number is not None}
    for of in [None, *sorted(items & {shape.item for shape in stage.shapes})]:
        plan = layout(stage if of is None else about(stage, of), size, of=of)
        sheet = Written(Image.new("RGB", size))
        write_captions(sheet, stage, plan)
        assert tuple(sheet.said[1:3]) == heading(stage, of, "")
