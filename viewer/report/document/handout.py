"""Lessons on paper: sheets for the class with room for answers, and the trainer's."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from model3d.lessons import expectations
from viewer.report.document.content import (
    SIZES,
    Boxes,
    Contents,
    Document,
    Drawing,
    Heading,
    Paragraph,
    Points,
    Ruled,
    Signature,
    Table,
)
from viewer.report.document.room_part import MARGIN
from viewer.report.document.step_figures import step_figures
from viewer.report.text.lesson_words import deed, lettered, shown, sizes, title, turns
from viewer.report.text.table import repeated
from viewer.wording.words import CAUTION, WORDS

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from model3d.lessons import StepResult
    from viewer.report.document.content import Block, Paper
    from viewer.report.text.lesson import Told

_LINES: Final = 4
"""Ruled lines for an answer in words."""
_FEWER: Final = 2
"""Ruled lines for why, where the answer itself is ticked."""


def handout(lessons: Sequence[Told], *, paper: Paper) -> Document:
    """Return lessons as sheets: all of the class, then all of the trainer.

    The class is shown each room as it is when the question is asked, without a verdict;
    the trainer is shown what decides.

    Args:
        lessons: One or several that were run, in the order they are taught.
        paper: What it is printed on.
    """
    width = SIZES[paper][0] - 2 * MARGIN
    names = [scene.lesson.title if scene.lesson else "" for scene, _ in lessons]
    several = len(lessons) > 1
    blocks: list[Block] = []
    if several:
        blocks += [
            Heading(1, f"{len(lessons)} lessons", "set", listed=False),
            *(Paragraph(line, "caution") for line in CAUTION),
            Contents("Contents"),
        ]
    for number, (name, told) in enumerate(zip(names, lessons, strict=True), start=1):
        blocks += _for_class(name, told, number, width, new=several)
    for number, (name, told) in enumerate(zip(names, lessons, strict=True), start=1):
        blocks += _for_trainer(name, told, number, width)
    whole = f"{len(lessons)} lessons" if several else names[0]
    return Document(f"{whole}: handout", CAUTION[1], paper, tuple(blocks))


def _for_class(
    name: str, told: Told, number: int, width: float, *, new: bool
) -> Iterator[Block]:
    scene, results = told
    yield Heading(1, name, f"class-{number}", new_page=new)
    yield Paragraph("Sheet for the class", "strong")
    yield Paragraph(f"{scene.title}. Rule book: {scene.rules}.")
    for line in CAUTION:
        yield Paragraph(line, "caution")
    yield Signature(("Name", "Date"))
    for result in results:
        at = f"class-{number}-step-{result.number}"
        yield Heading(2, _step_of(result, results), at, listed=False)
        if not result.ask:
            yield Paragraph(result.say)
            continue
        yield Paragraph(result.ask, "question")
        bare = replace(result.report, judgements=())
        for figure in step_figures(bare, result, width):
            yield Drawing(figure, kept=True)
        step = result.step
        if step.choices:
            yield Boxes(tuple(f"{at}) {one.text}" for at, one in lettered(step)))
            yield Ruled("Why", _FEWER)
        elif step.drag:
            yield Ruled(f"Where shall {step.drag} stand, and why", _LINES)
        elif step.find:
            yield Ruled("Found", len(step.find))
        else:
            yield Ruled("Answer, and why", _LINES)


def _for_trainer(name: str, told: Told, number: int, width: float) -> Iterator[Block]:
    scene, results = told
    yield Heading(1, f"{name}: answers", f"trainer-{number}", new_page=True)
    yield Paragraph("Sheet for the trainer: not for the class", "strong")
    yield Paragraph(f"{scene.title}. Rule book: {scene.rules}.")
    for line in CAUTION:
        yield Paragraph(line, "caution")
    yield _plan(results, number)
    for result in results:
        at = f"trainer-{number}-step-{result.number}"
        minutes = result.step.minutes
        more = "" if minutes is None else f", {_counted(minutes)}"
        yield Heading(2, f"{_step_of(result, results)}{more}", at, listed=False)
        yield from _answered(result, scene.units, at, width)


def _step_of(result: StepResult, results: Sequence[StepResult]) -> str:
    return f"Step {result.number} of {len(results)}"


def _counted(minutes: float) -> str:
    return f"{minutes:g} minute{'' if minutes == 1 else 's'}"


def _plan(results: Sequence[StepResult], number: int) -> Table:
    """Return the steps with their minutes, and how long they take together."""
    minutes = [result.step.minutes for result in results]
    stated = [one for one in minutes if one is not None]
    unsaid = len(minutes) - len(stated)
    rows = [
        (
            str(result.number),
            "question" if result.ask else "told",
            ", ".join(
                f"{item}{' ' if name else ''}{name} {WORDS[verdict]}"
                for item, name, verdict in expectations(result.step)
            ),
            "" if one is None else f"{one:g}",
        )
        for result, one in zip(results, minutes, strict=True)
    ]
    more = f", and {unsaid} steps of which nothing is said" if unsaid else ""
    rows.append(
        ("", "together", "", f"{sum(stated):g}{more}" if stated else "not said")
    )
    return Table(
        "The steps",
        ("Step", "What", "Comes out as", "Minutes"),
        tuple(rows),
        (1, 1.6, 6, 2),
        (*(f"trainer-{number}-step-{result.number}" for result in results), ""),
    )


def _answered(result: StepResult, units: str, at: str, width: float) -> Iterator[Block]:
    step = result.step
    if result.ask:
        yield Paragraph(result.ask, "question")
    if result.say:
        yield Paragraph(f"Answer: {result.say}" if result.ask else result.say)
    if step.choices:
        yield Points(
            tuple(
                f"{letter}) {one.text}. {'Right' if one.right else 'Wrong'}: {one.why}"
                for letter, one in lettered(step)
            )
        )
    if step.find:
        yield Paragraph(f"To be found: {', '.join(step.find)}.")
    if step.drag:
        yield Paragraph(f"In the page {step.drag} is dragged until that is met.")
    if step.notes:
        yield Heading(3, "For the trainer", f"{at}-notes", listed=False)
        yield Paragraph(step.notes)
    if step.show:
        told = "; ".join(shown(one, result.scene) for one in step.show)
        yield Paragraph(f"Drawn in the page: {told}.")
    deeds = tuple(deed(change, result.scene) for change in step.do)
    if deeds:
        yield Heading(3, "What is changed", f"{at}-do", listed=False)
        yield Points(deeds)
    lines = tuple(_verdicts(result, units))
    if lines:
        yield Heading(3, "What comes of it", f"{at}-result", listed=False)
        yield Points(lines)
    yield from map(Drawing, step_figures(result.report, result, width))


def _verdicts(result: StepResult, units: str) -> Iterator[str]:
    """Yield what the step brings about, its sizes and its reason."""
    told, _ = turns(result)
    several = repeated(result.report)
    for turn in told:
        now = turn.now
        parts = [f"{title(turn, several)}: {WORDS[now.verdict]}."]
        parts += [
            f"{line[:1].upper()}{line[1:]}."
            for line in sizes(turn, result.report, units)
        ]
        if now.verdict != "met":
            parts.append(f"{now.reason} ({now.citation})")
        yield " ".join(parts)
