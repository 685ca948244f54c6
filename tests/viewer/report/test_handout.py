"""Lessons on paper: what the class gets, and what only the trainer gets."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import pytest

from tests.scenes.examples import LESSON_NAMES, results, taught
from viewer.cli.main import main
from viewer.figure.drafting import pens
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
        assert f"Step {one.number} of 9, {one.step.minutes:g} minutes" in text
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
