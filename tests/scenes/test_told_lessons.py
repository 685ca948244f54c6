"""The lessons in ``scenes/lessons``: true to their word, and fit to be taught.

What they print is kept in ``tests/scenes/lessons`` and reviewed by people:
``pytest --update-golden`` writes it again.
"""

from __future__ import annotations

import json
from collections import Counter
from functools import cache
from itertools import takewhile
from math import hypot
from typing import TYPE_CHECKING, Final

import jsonschema
import pytest
from ruamel.yaml import YAML

from model3d import read_scene
from model3d.lessons import StepResult, run_lesson, verdict_of
from model3d.scene.text.schema import json_schema
from tests.paths import SCENES
from tests.scenes.lesson_numbers import DOORS, SWING, TOLD, Told
from viewer.cli.main import main

if TYPE_CHECKING:
    from model3d.judging.results import Judgement

FOLDER: Final = SCENES / "lessons"
GOLDEN: Final = SCENES.parent / "tests" / "scenes" / "lessons"
NAMES: Final = tuple(sorted(path.stem for path in FOLDER.glob("*.yaml")))
NEAR = 0.02
"""Millimetres and degrees: round bodies are many-sided, by 0.01 mm."""


@cache
def run(name: str) -> tuple[StepResult, ...]:
    """Return what comes of one of the lessons in the folder."""
    return run_lesson(read_scene(FOLDER / f"{name}.yaml"))


@pytest.mark.parametrize("name", NAMES)
def test_lesson_comes_out_as_it_says(name: str) -> None:
    assert [(one.number, one.unmet) for one in run(name) if one.unmet] == []


@pytest.mark.parametrize(
    "told", TOLD, ids=lambda told: f"{told.lesson}-{told.step}-{told.requirement}"
)
def test_numbers_are_those_worked_out_by_hand(told: Told) -> None:
    report = run(told.lesson)[told.step - 1].report
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
    assert {told.lesson for told in TOLD} == {*NAMES}


def test_leaves_of_half_the_width_pass_the_post() -> None:
    """The lesson says so: 250 across and 450 out are 515 away, more than 500."""
    assert hypot(250, 450) == pytest.approx(515, abs=0.5)
    assert verdict_of(run(DOORS)[7].report, "CP1", SWING) == "met"


def test_there_are_lessons_in_both_systems() -> None:
    units = [read_scene(FOLDER / f"{name}.yaml").units for name in NAMES]
    assert len(units) >= 8
    assert sum(unit in {"ft", "in"} for unit in units) >= 2


@pytest.mark.parametrize("name", NAMES)
def test_lesson_can_be_taught(name: str) -> None:
    """Each step is seen, checked and answered; questions make people think."""
    results = run(name)
    assert 5 <= len(results) <= 9
    for one in results:
        assert one.look is not None
        assert one.step.expect
        assert one.say
    assert sum(bool(one.ask) for one in results) >= len(results) / 2
    start = results[0].before.counts
    assert start["not-met"] == start["open"] == 0
    verdicts = {verdict for one in results for verdict in verdicts_of(one)}
    assert {"met", "not-met"} <= verdicts


def test_questions_are_answered_no_about_as_often_as_yes() -> None:
    """A class that is always told no stops thinking."""
    words = [one.say.split()[0] for name in NAMES for one in run(name) if one.ask]
    answers = Counter(word.strip(".,:") for word in words)
    assert 2 / 3 <= answers["No"] / answers["Yes"] <= 3 / 2


def verdicts_of(result: StepResult) -> set[str]:
    return {one.verdict for one in result.report.judgements}


@pytest.mark.parametrize("name", NAMES)
def test_lesson_tells_its_story_first(name: str) -> None:
    lines = (FOLDER / f"{name}.yaml").read_text(encoding="utf-8").splitlines()
    first = "\n".join(takewhile(lambda line: line.startswith("#"), lines))
    assert "What to learn:" in first


@pytest.mark.parametrize("name", NAMES)
def test_lesson_is_good_by_the_schema(name: str) -> None:
    content = YAML(typ="safe", pure=True).load(FOLDER / f"{name}.yaml")
    validator = jsonschema.Draft202012Validator(json_schema())
    validator.validate(json.loads(json.dumps(content, default=str)))


def test_list_of_the_lessons_is_right() -> None:
    page = (FOLDER.parent / "README.md").read_text(encoding="utf-8")
    for name in NAMES:
        assert page.count(f"| `lessons/{name}.yaml` |") == 1


@pytest.mark.parametrize("name", NAMES)
def test_lesson_prints_what_was_reviewed(
    name: str,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    *,
    update_golden: bool,
) -> None:
    monkeypatch.chdir(SCENES.parent)
    assert main(["lesson", f"scenes/lessons/{name}.yaml"]) == 0
    found = capsys.readouterr().out.replace("\\", "/")
    golden = GOLDEN / f"{name}.txt"
    if update_golden:
        golden.parent.mkdir(exist_ok=True)
        golden.write_text(found, encoding="utf-8", newline="\n")
    assert golden.is_file(), f"no golden text of {name}: pytest --update-golden"
    assert golden.read_text(encoding="utf-8") == found


def test_no_golden_text_without_a_lesson() -> None:
    assert {path.stem for path in GOLDEN.iterdir()} == {*NAMES}
