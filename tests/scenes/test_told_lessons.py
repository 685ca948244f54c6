"""The lessons in ``scenes/lessons``: true to their word, and fit to be taught.

What they print is kept in ``tests/scenes/lessons`` and reviewed by people:
``pytest --update-golden`` writes it again.
"""

from __future__ import annotations

import re
from collections import Counter
from itertools import takewhile
from math import hypot
from typing import TYPE_CHECKING, Final

import pytest

from model3d.lessons import verdict_of
from tests.paths import LESSONS, ROOT, SCENES
from tests.scenes.examples import LESSON_NAMES, SCHEMA, results, taught, written
from tests.scenes.lesson_numbers import DOORS, SWING, TOLD, Told
from viewer.cli.main import main

if TYPE_CHECKING:
    from model3d.judging.results import Judgement
    from model3d.lessons import StepResult

GOLDEN: Final = ROOT / "tests" / "scenes" / "lessons"
NEAR = 0.02
"""Millimetres and degrees: round bodies are many-sided, by 0.01 mm."""


@pytest.mark.parametrize("name", LESSON_NAMES)
def test_lesson_comes_out_as_it_says(name: str) -> None:
    assert [(one.number, one.unmet) for one in results(name) if one.unmet] == []


def test_readme_tells_the_lessons_in_the_order_of_a_course() -> None:
    told = re.findall(
        r"`lessons/([a-z0-9-]+)\.yaml`",
        (SCENES / "README.md").read_text(encoding="utf-8"),
    )
    lessons = {name: taught(name).lesson for name in LESSON_NAMES}
    numbers = [lesson.number for name in told if (lesson := lessons[name])]
    assert numbers == [*range(1, len(LESSON_NAMES) + 1)]


@pytest.mark.parametrize(
    "told", TOLD, ids=lambda told: f"{told.lesson}-{told.step}-{told.requirement}"
)
def test_numbers_are_those_worked_out_by_hand(told: Told) -> None:
    report = results(told.lesson)[told.step - 1].report
    (found,) = (
        one
        for one in report.of(told.subject, told.requirement)
        if told.number in {None, one.leaf, one.tier}
    )
    document = next(
        one
        for one, judged in zip(
            report.document()["judgements"], report.judgements, strict=True
        )
        if judged is found
    )
    for sizes, some in (("required", told.required), ("provided", told.provided)):
        given = document.get(sizes, {})
        assert {key: given.get(key) for key in some} == pytest.approx(some, abs=NEAR)
    assert_in_the_way(found, told)
    if told.left is not None:
        assert document["place"] == pytest.approx(-told.left, abs=NEAR)
    if told.condition is not None:
        assert document["condition"] == told.condition


def assert_in_the_way(found: Judgement, told: Told) -> None:
    assert tuple(sorted(hit.item for hit in found.intrusions)) == told.by
    if told.reach is not None:
        (hit,) = found.intrusions
        assert hit.reach is not None
        assert hit.reach * 1000 == pytest.approx(told.reach, abs=NEAR)


def test_every_lesson_has_numbers_worked_out_by_hand() -> None:
    assert {told.lesson for told in TOLD} == {*LESSON_NAMES}


def test_leaves_of_half_the_width_pass_the_post() -> None:
    """The lesson says so: 250 across and 450 out are 515 away, more than 500."""
    assert hypot(250, 450) == pytest.approx(515, abs=0.5)
    assert verdict_of(results(DOORS)[7].report, "CP1", SWING) == "met"


def test_there_are_lessons_in_both_systems() -> None:
    units = [taught(name).units for name in LESSON_NAMES]
    assert len(units) >= 8
    assert sum(unit in {"ft", "in"} for unit in units) >= 2


@pytest.mark.parametrize("name", LESSON_NAMES)
def test_a_trainer_can_plan_every_lesson(name: str) -> None:
    """Common practice: an hour holds two; each step says how long it takes."""
    steps = [one.step for one in results(name)]
    minutes = [one.minutes for one in steps if one.minutes]
    assert len(minutes) == len(steps)
    assert 15 <= sum(minutes) <= 60
    assert any(one.notes for one in steps)


@pytest.mark.parametrize("name", LESSON_NAMES)
def test_lesson_can_be_taught(name: str) -> None:
    """Each step is seen, checked and answered; questions make people think."""
    steps = results(name)
    assert 5 <= len(steps) <= 9
    for one in steps:
        assert one.look is not None
        assert one.step.expect
        assert one.say
    assert sum(bool(one.ask) for one in steps) >= len(steps) / 2
    start = steps[0].before.counts
    assert start["not-met"] == start["open"] == 0
    verdicts = {verdict for one in steps for verdict in verdicts_of(one)}
    assert {"met", "not-met"} <= verdicts


def test_questions_are_answered_no_about_as_often_as_yes() -> None:
    """A class that is always told no stops thinking."""
    words = [
        one.say.split()[0] for name in LESSON_NAMES for one in results(name) if one.ask
    ]
    answers = Counter(word.strip(".,:") for word in words)
    assert 2 / 3 <= answers["No"] / answers["Yes"] <= 3 / 2


def test_no_place_among_choices_is_right_more_often_than_another() -> None:
    """Whoever always takes the first is right as often as by chance: within a tenth."""
    places: dict[int, Counter[int]] = {2: Counter(), 3: Counter()}
    for result in (one for name in LESSON_NAMES for one in results(name)):
        right = [choice.right for choice in result.step.choices]
        if len(right) in places:
            places[len(right)][right.index(True)] += 1
    for count, found in places.items():
        shares = [found[place] / found.total() for place in range(count)]
        assert shares == pytest.approx([1 / count] * count, abs=0.1 / count)


def verdicts_of(result: StepResult) -> set[str]:
    return {one.verdict for one in result.report.judgements}


@pytest.mark.parametrize("name", LESSON_NAMES)
def test_lesson_tells_its_story_first(name: str) -> None:
    lines = (LESSONS / f"{name}.yaml").read_text(encoding="utf-8").splitlines()
    first = "\n".join(takewhile(lambda line: line.startswith("#"), lines))
    assert "What to learn:" in first


@pytest.mark.parametrize("name", LESSON_NAMES)
def test_lesson_is_good_by_the_schema(name: str) -> None:
    SCHEMA.validate(written(LESSONS / f"{name}.yaml"))


def test_list_of_the_lessons_is_right() -> None:
    page = (SCENES / "README.md").read_text(encoding="utf-8")
    for name in LESSON_NAMES:
        assert page.count(f"| `lessons/{name}.yaml` |") == 1


@pytest.mark.parametrize("name", LESSON_NAMES)
def test_lesson_prints_what_was_reviewed(
    name: str,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    *,
    update_golden: bool,
) -> None:
    monkeypatch.chdir(ROOT)
    assert main(["lesson", f"scenes/lessons/{name}.yaml"]) == 0
    found = capsys.readouterr().out.replace("\\", "/")
    golden = GOLDEN / f"{name}.txt"
    if update_golden:
        golden.parent.mkdir(exist_ok=True)
        golden.write_text(found, encoding="utf-8", newline="\n")
    assert golden.is_file(), f"no golden text of {name}: pytest --update-golden"
    assert golden.read_text(encoding="utf-8") == found


def test_no_golden_text_without_a_lesson() -> None:
    assert {path.stem for path in GOLDEN.iterdir()} == {*LESSON_NAMES}
