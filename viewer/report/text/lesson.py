"""Lessons as text: step by step what is said, asked and done, and what comes of it."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, Final

from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from model3d.lessons import expectations
from viewer.output.terminal import PLAIN_WIDTH, rendered
from viewer.report.text.findings import COLOURS, unread
from viewer.report.text.lesson_words import deed, lettered, shown, sizes, title, turns
from viewer.report.text.table import (
    LONGEST_LINE,
    LONGEST_NAME,
    LONGEST_REASON,
    repeated,
)
from viewer.wording.cleaning import clean
from viewer.wording.words import CAUTION, WORDS

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from rich.console import RenderableType

    from model3d.judging.report import Report
    from model3d.judging.results import Verdict
    from model3d.lessons import StepResult, Unmet
    from model3d.scene.scene import Scene
    from viewer.report.text.lesson_words import StepJudgement
    from viewer.report.text.table import Repeated

Told = tuple["Scene", "Sequence[StepResult]"]
"""A scene with a lesson, and what came of its steps."""

StepRow = tuple[str, "RenderableType"]
"""A word at the left, and what it is about."""

_LONGEST_TITLE: Final = 200
_LONGEST_WORDS: Final = 10_000
_MARGIN: Final = 8
"""Columns of the words at the left: Answer, Failed, and two blanks."""


def lessons_text(
    lessons: Sequence[Told], *, width: int = PLAIN_WIDTH, colour: bool = False
) -> str:
    """Return lessons that were run as text for people.

    Args:
        lessons: One or several.
        width: Columns that no line exceeds.
        colour: Add colours, by escape sequences; they say nothing that words do not.
    """
    width = min(width, LONGEST_LINE)
    parts: list[RenderableType] = []
    for scene, results in lessons:
        parts += _lesson(scene, results)
    if len(lessons) > 1:
        parts += [_total(lessons), ""]
    parts += [Text(line) for line in CAUTION]
    return rendered(parts, width=width, colour=colour)


def _lesson(scene: Scene, results: Sequence[StepResult]) -> Iterator[RenderableType]:
    name = scene.lesson.title if scene.lesson else ""
    yield Text(clean(name, _LONGEST_TITLE), style="bold")
    yield Text(clean(scene.title, _LONGEST_TITLE))
    where = (str(scene.file) if scene.file else "", scene.rules)
    yield Text(", ".join(clean(words) for words in where if words))
    yield Text.assemble("At the start: ", _counts(results[0].before))
    for result in results:
        yield ""
        yield Text(f"STEP {result.number} OF {len(results)}", style="bold")
        yield _table(_step(result, scene.units))
    yield ""
    yield _outcome(results)
    reports = (results[0].before, *(result.report for result in results))
    yield from unread(sorted({cited for one in reports for cited in one.unread}))
    yield ""


def _counts(report: Report) -> Text:
    counts = Counter(report.counts)
    words = [
        Text(f"{counts[verdict]} {word}", style=COLOURS[verdict])
        for verdict, word in WORDS.items()
        if counts[verdict]
    ]
    return Text(", ").join(words) if words else Text("nothing is judged")


def _table(rows: Iterator[StepRow]) -> RenderableType:
    table = Table.grid(padding=(0, 0), pad_edge=False)
    table.add_column(width=_MARGIN, no_wrap=True)
    table.add_column(overflow="fold")
    for label, text in rows:
        table.add_row(Text(label), text)
    return table


def _step(result: StepResult, units: str) -> Iterator[StepRow]:
    if result.ask:
        yield "Ask", Text(clean(result.ask, _LONGEST_WORDS), style="italic")
    for letter, choice in lettered(result.step):
        yield "", Text(f"{letter}) {clean(choice.text, _LONGEST_WORDS)}")
    for number, change in enumerate(result.step.do):
        words = clean(deed(change, result.scene), LONGEST_REASON)
        yield "" if number else "Do", Text(words)
    for number, size in enumerate(result.step.show):
        words = clean(shown(size, result.scene), LONGEST_REASON)
        yield "" if number else "Show", Text(words)
    if result.say:
        said = Text(clean(result.say, _LONGEST_WORDS))
        yield "Answer" if result.ask else "Say", said
    for letter, choice in lettered(result.step):
        word = "right" if choice.right else "wrong"
        yield "", Text(f"{letter}) {word}: {clean(choice.why, _LONGEST_WORDS)}")
    label = "Result"
    for text in _result(result, units):
        yield label, text
        label = ""
    yield from _expected(result)


def _result(result: StepResult, units: str) -> Iterator[RenderableType]:
    told, new = turns(result)
    several = repeated(result.report)
    for turn in told:
        yield _head(turn, several)
        for line in (*sizes(turn, result.report, units), *_reason(turn)):
            yield Padding(Text(clean(line, LONGEST_REASON)), (0, 0, 0, 2))
    for item, requirements in new.items():
        names = ", ".join(requirements)
        yield Text.assemble(f"{_name(item)} {names}: ", _word("met"))
    if result.step.do and not told and not new:
        yield Text("No verdict changes.")


def _head(turn: StepJudgement, several: Repeated) -> Text:
    now, was = turn.now, turn.was
    arrow: list[Text | str] = [_word(now.verdict)]
    if was is not None and turn.turned:
        arrow = [_word(was.verdict), " -> ", _word(now.verdict)]
    return Text.assemble(
        clean(f"{title(turn, several)}: ", LONGEST_REASON), " ", *arrow
    )


def _word(verdict: Verdict) -> Text:
    return Text(WORDS[verdict], style=COLOURS[verdict])


def _reason(turn: StepJudgement) -> Iterator[str]:
    """Say why, with the citation, where that is not plain from the sizes."""
    now, was = turn.now, turn.was
    other = was is not None and now.condition != was.condition
    if now.verdict != "met" or other:
        yield f"{now.citation}: {now.reason}"
    if now.exception:
        yield f"By an exception: {now.exception}"


def _expected(result: StepResult) -> Iterator[StepRow]:
    failed = {(one.item, one.requirement) for one in result.unmet}
    good = [
        f"{_name(item)}{' ' if requirement else ''}{requirement} {WORDS[verdict]}"
        for item, requirement, verdict in expectations(result.step)
        if (item, requirement) not in failed
    ]
    if good:
        yield "Check", Text(f"as expected: {', '.join(good)}")
    for one in result.unmet:
        yield "FAILED", Text(_failed(one, result.report), style=COLOURS["not-met"])


def _failed(one: Unmet, report: Report) -> str:
    what = " ".join(filter(None, (_name(one.item), one.requirement)))
    if one.found is None:
        return f"{what} was expected to be {WORDS[one.wanted]}, but is not judged."
    by = sorted(
        {
            judgement.requirement
            for judgement in report.judgements
            if judgement.subject == one.item and judgement.verdict == one.found
        }
    )
    why = f" ({', '.join(by)})" if not one.requirement and one.found != "met" else ""
    return (
        f"{what} was expected to be {WORDS[one.wanted]}, but is "
        f"{WORDS[one.found]}{why}."
    )


def _outcome(results: Sequence[StepResult]) -> Text:
    failed = [str(one.number) for one in results if not one.passed]
    if not failed:
        return Text(f"{len(results)} steps, all come out as the lesson says.")
    words = f"step {failed[0]} fails" if len(failed) == 1 else None
    words = words or f"steps {', '.join(failed)} fail"
    return Text(f"{len(results)} steps: {words}.", style=COLOURS["not-met"])


def _total(lessons: Sequence[Told]) -> Text:
    bad = [
        clean(scene.lesson.title, _LONGEST_TITLE) if scene.lesson else ""
        for scene, results in lessons
        if not all(one.passed for one in results)
    ]
    if not bad:
        return Text(f"{len(lessons)} lessons, all come out as they say.")
    return Text(f"{len(lessons)} lessons, {len(bad)} fail: {'; '.join(bad)}")


def _name(item: str) -> str:
    return clean(item, LONGEST_NAME)
