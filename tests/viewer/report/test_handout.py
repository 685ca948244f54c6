"""Lessons on paper: what the class gets, and what only the trainer gets."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

import pytest

from model3d.lessons import run_lesson
from model3d.scene.parts.lesson import AddItem, MoveItem
from tests.scenes.examples import LESSON_NAMES, results, taught
from tests.viewer.written_rooms import room_scene
from viewer.cli.main import main
from viewer.figure.drafting import pens
from viewer.figure.drafting.drawing import DimensionLine, Text
from viewer.report.document.content import (
    Boxes,
    Drawing,
    Heading,
    Paragraph,
    Points,
    Ruled,
)
from viewer.report.document.handout import handout
from viewer.report.document.html import html_report
from viewer.report.document.pdf import pdf_report
from viewer.wording.words import CAUTION

if TYPE_CHECKING:
    from pathlib import Path

    from viewer.figure.drafting.drawing import Figure
    from viewer.report.document.content import Block

NAMES: Final = ("door-hardware", "find-the-seven-faults")
LESSON: Final = "scenes/lessons/door-hardware.yaml"


def told(names: tuple[str, ...] = NAMES) -> tuple[Block, ...]:
    lessons = [(taught(name), results(name)) for name in names]
    return handout(lessons, paper="a4").blocks


def part(blocks: tuple[Block, ...], start: str, end: str | None) -> list[Block]:
    """Return the blocks from one heading of a lesson up to another."""
    names = [one.anchor if isinstance(one, Heading) else "" for one in blocks]
    return [*blocks[names.index(start) : names.index(end) if end else None]]


def words(blocks: list[Block]) -> str:
    parts = []
    for one in blocks:
        match one:
            case Heading() | Paragraph():
                parts.append(one.text)
            case Points() | Boxes():
                parts += one.texts
    return "\n".join(parts)


@pytest.mark.long
@pytest.mark.parametrize(("number", "name"), [*enumerate(NAMES, start=1)])
def test_class_gets_questions_and_room_and_no_answer(number: int, name: str) -> None:
    after = "class-2" if number == 1 else "trainer-1"
    blocks = part(told(), f"class-{number}", after)
    text = words(blocks)
    questions = [one for one in results(name) if one.ask]
    assert questions
    for one in questions:
        assert one.ask in text
        assert one.say not in text
        assert all(choice.text in text for choice in one.step.choices)
        assert not any(choice.why in text for choice in one.step.choices)
        assert not one.step.notes or one.step.notes not in text
    assert sum(isinstance(one, Ruled) for one in blocks) == len(questions)
    assert sum(isinstance(one, Drawing) for one in blocks) == len(questions)
    assert all(line in text for line in CAUTION)


@pytest.mark.long
def test_class_writes_down_as_many_as_are_to_be_found() -> None:
    (lines,) = (
        one.lines
        for one in part(told(), "class-2", "trainer-1")
        if isinstance(one, Ruled) and one.title == "Found"
    )
    assert lines == len(results(NAMES[1])[1].step.find) == 7


@pytest.mark.long
def test_class_is_shown_no_verdict() -> None:
    shown = part(told(), "class-1", "trainer-1")
    layers = {
        mark.layer
        for one in shown
        if isinstance(one, Drawing)
        for mark in one.figure.marks
    }
    assert layers
    assert not layers & {pens.SPACE, pens.IN_THE_WAY, pens.MISSING, pens.NARROWEST}


@pytest.mark.long
def test_trainer_gets_answers_notes_and_minutes() -> None:
    text = words(part(told(), "trainer-1", "trainer-2"))
    for one in results(NAMES[0]):
        assert one.say in text
        assert (one.step.notes or "") in text
        step = f"Step {one.number} of 9, {one.step.minutes:g} minute"
        assert (f"{step}s" in text) == (one.step.minutes != 1)
        assert step in text
        assert all(choice.why in text for choice in one.step.choices)
    assert all(line in text for line in CAUTION)


@pytest.mark.long
def test_lessons_go_on_paper_together() -> None:
    names = LESSON_NAMES[::4]
    lessons = [(taught(name), results(name)) for name in names]
    text = html_report(handout(lessons, paper="letter"))
    assert text.count("Sheet for the class") == len(names)
    assert text.count("Sheet for the trainer") == len(names)
    assert "size: letter" in text
    assert "<script" not in text


@pytest.mark.long
def test_same_lesson_same_paper() -> None:
    document = handout([(taught(NAMES[0]), results(NAMES[0]))], paper="a4")
    pages = pdf_report(document)
    assert pages.startswith(b"%PDF")
    assert pages == pdf_report(document)


@pytest.mark.long
def test_command_writes_either(tmp_path: Path) -> None:
    for ending in ("html", "pdf"):
        target = tmp_path / f"handout.{ending}"
        assert main(["lesson", LESSON, "-o", str(target)]) == 0
        assert target.stat().st_size > 10_000


def drawn(item: str = "LP1", /, **look: object) -> Figure:
    """Return the trainer's drawing of a step that looks at a panel so."""
    step = {"say": "Told.", "look": {"at": item, **look}}
    scene = room_scene(lesson={"title": "Looked at", "steps": [step]})
    blocks = handout([(scene, run_lesson(scene))], paper="a4").blocks
    (found,) = (one.figure for one in blocks if isinstance(one, Drawing))
    return found


def words_in(figure: Figure) -> str:
    texts = [one.text for one in figure.marks if isinstance(one, Text)]
    texts += [
        text.text
        for one in figure.marks
        if isinstance(one, DimensionLine)
        for text in one.texts
    ]
    return " ".join(texts)


@pytest.mark.long
@pytest.mark.parametrize("stand", ["above", "west", "south"])
def test_a_drawing_goes_as_near_as_its_step(stand: str) -> None:
    look: dict[str, Any] = {"from": stand}
    far, near = drawn("CP1", **look), drawn("CP1", near=200, **look)
    assert near.scale < far.scale
    assert "CP1" in words_in(near)
    # 700 of the 1000 before the panel are missing: that lies not within 200 about it.
    assert "700 mm short" in words_in(far)
    assert "short" not in words_in(near)


@pytest.mark.long
@pytest.mark.parametrize("stand", ["above", "west", "south"])
def test_a_drawing_shows_the_layers_of_its_step(stand: str) -> None:
    def used(**look: object) -> set[str]:
        marks = drawn(**{"from": stand}, **look).marks
        return {one.layer for one in marks} - {pens.SHEET, pens.LEADER}

    layers = ["gear", "spaces", "intrusions", "room", "dimensions", "labels"]
    everything = used()
    assert used(layers=["gear"]) <= {pens.SUBJECT, pens.LIVE}
    kept = used(layers=["gear", "spaces"])
    assert kept <= {pens.SUBJECT, pens.LIVE, pens.SPACE}
    assert pens.SPACE in kept
    assert pens.IN_THE_WAY in everything
    assert pens.IN_THE_WAY in used(layers=layers)
    assert pens.IN_THE_WAY not in used(
        layers=[one for one in layers if one != "intrusions"]
    )
    assert pens.WALL in everything
    assert used(layers=layers) < everything | {pens.NAME}


@pytest.mark.parametrize("look", [{}, {"near": 500}, {"layers": ["gear"]}])
def test_a_plan_about_a_door_goes_near_and_shows_layers_too(
    look: dict[str, object],
) -> None:
    step = {"say": "The door.", "look": {"at": "D1", **look}}
    scene = room_scene(lesson={"title": "Door", "steps": [step]})
    (found,) = (
        one.figure
        for one in handout([(scene, run_lesson(scene))], paper="a4").blocks
        if isinstance(one, Drawing)
    )
    told = words_in(found)
    assert ("D1" in told) == ("layers" not in look)
    assert ("CP1" in told) == (look == {})
    assert ("what is about D1" in told) == ("near" in look)
    layers = {one.layer for one in found.marks}
    assert (pens.WALL in layers) == ("layers" not in look)


def test_a_near_drawing_holds_what_its_step_puts_in() -> None:
    """A bench is set 400 before a panel that is looked at from 250: it is the question.

    Common practice: what is asked about is in the picture.
    """
    lesson = taught("hit-at-a-height"), results("hit-at-a-height")
    figures = [
        one.figure
        for one in handout([lesson], paper="a4").blocks
        if isinstance(one, Drawing)
    ]
    told = [words_in(one) for one in figures]
    assert sum("BN1" in one for one in told) == 4  # two steps, on both sheets
    assert sum("UH1" in one for one in told) == 4


@pytest.mark.long
@pytest.mark.parametrize("name", LESSON_NAMES)
def test_what_a_question_is_about_is_in_its_drawing(name: str) -> None:
    """Common practice of teaching: a class sees what it is asked after."""
    blocks = told((name,))
    for one in results(name):
        if not one.ask:
            continue
        found = part(blocks, f"class-1-step-{one.number}", None)
        drawing = next(block for block in found if isinstance(block, Drawing))
        written = " ".join(
            mark.text for mark in drawing.figure.marks if isinstance(mark, Text)
        ).split()
        assert one.report.arrangement is not None
        items = one.report.arrangement.items.values()
        there = {item.id for item in items if not item.of_room}
        asked = {word.strip(".,;:?") for word in one.ask.split()}
        added = {do.add.id for do in one.step.do if isinstance(do, AddItem)}
        moved = {do.move for do in one.step.do if isinstance(do, MoveItem)}
        wanted = {*one.step.find, *((asked | added | moved) & there)}
        assert wanted <= {*written}, one.ask


@pytest.mark.long
def test_a_step_about_ways_out_shows_the_doors_and_what_is_too_narrow() -> None:
    """The board alone was drawn, and the question was about doors. Common practice."""
    name = "one-entrance-or-two"
    blocks = handout([(taught(name), results(name))], paper="a4").blocks
    start = next(
        place
        for place, one in enumerate(blocks)
        if isinstance(one, Heading) and one.anchor == "trainer-1"
    )
    for_class = [one.figure for one in blocks[:start] if isinstance(one, Drawing)]
    for_trainer = [one.figure for one in blocks[start:] if isinstance(one, Drawing)]
    asked = [one for one in results(name) if one.ask]
    assert sum("D1" in words_in(one) for one in for_class) == len(asked)
    # Whoever is asked about open leaves is shown them too.
    assert any("90\u00b0" in words_in(one) for one in for_class)
    layers = {mark.layer for one in for_class for mark in one.marks}
    assert not layers & {pens.WAY, pens.NARROWEST}
    titles = [one.title for one in for_trainer]
    # Step 3 leaves a dead end, in step 8 both boards have too narrow a way.
    assert "Second entrance: way out of SB1 to D1" in titles
    assert {"Way out of SB1 to D1", "Way out of SB2 to D2"} & {*titles}
    assert any("narrowest 609 mm" in words_in(one) for one in for_trainer)
