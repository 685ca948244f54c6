"""Questions drawn by lot: right by the check, fair, and the same again.

That the size which decides is near the limit, and how many of eight are not met, is
what a trainer asked for; nothing else is published about it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model3d.lessons import StepResult, run_lesson
from model3d.lessons.drills import DrillError, drilled, new_lesson
from model3d.rules import requirements
from model3d.scene.text.reader import read_text
from viewer.cli.main import main

if TYPE_CHECKING:
    from pathlib import Path

RULES: Final = (
    "battery-top-clearance",
    "dedicated-space",
    "door-swing",
    "working-space",
)
SEEDS: Final = st.integers(0, 10**9)


def asked(rule: str, seed: int) -> StepResult:
    (result,) = run_lesson(read_text(new_lesson(rule, seed), "new.yaml"))
    return result


def test_there_are_questions_for_these_rules() -> None:
    assert drilled() == RULES
    assert {*RULES} <= {*requirements()}


@pytest.mark.long
@settings(max_examples=12, deadline=None)
@given(rule=st.sampled_from(RULES), seed=SEEDS)
def test_answer_is_right_and_nothing_is_open(rule: str, seed: int) -> None:
    result = asked(rule, seed)
    assert result.passed
    assert result.look is not None
    item = result.look.at
    ((named, wanted),) = result.step.expect.items()
    assert named == item
    assert isinstance(wanted, dict)
    ((requirement, verdict),) = wanted.items()
    assert requirement == rule
    assert result.before.counts["not-met"] == result.before.counts["open"] == 0
    assert result.report.counts["open"] == 0
    faults = {
        one.requirement for one in result.report.judgements if one.verdict != "met"
    }
    assert faults == ({rule} if verdict == "not-met" else set())
    (right,) = (one.text for one in result.step.choices if one.right)
    assert right == ("Yes" if verdict == "met" else "No")
    assert result.say.startswith(f"{right}. ")


@pytest.mark.long
@settings(max_examples=8, deadline=None)
@given(rule=st.sampled_from(RULES), seed=SEEDS)
def test_size_that_decides_is_near_the_limit(rule: str, seed: int) -> None:
    result = asked(rule, seed)
    assert result.look is not None
    shares = [
        one.provided[size] / one.required[size]
        for one in result.report.of(result.look.at, rule)
        for size in one.required
        if size in one.provided
    ]
    if rule == "dedicated-space" and not shares:
        # What is met there measures nothing: the duct is where the question says.
        (duct,) = (one for one in result.scene.items if one.kind == "duct")
        assert duct.from_ is not None
        assert duct.section is not None
        low = float(duct.from_[2]) - float(duct.section[1]) / 2
        (judged,) = result.report.of(result.look.at, rule)
        shares = [result.scene.metres(low) / judged.required["height"]]
    assert any(0.85 <= share <= 1.15 for share in shares)


@pytest.mark.long
@pytest.mark.parametrize("rule", RULES)
def test_of_eight_in_a_row_three_to_five_are_not_met(rule: str) -> None:
    verdicts = ["not-met" in new_lesson(rule, seed) for seed in range(100, 116)]
    for start in range(9):
        assert 3 <= sum(verdicts[start : start + 8]) <= 5


@pytest.mark.long
def test_same_seed_same_text_and_another_seed_another() -> None:
    texts = [new_lesson("door-swing", seed) for seed in (1, 1, 2, 3)]
    assert texts[0] == texts[1]
    assert len({*texts}) == 3


@pytest.mark.parametrize(
    ("rule", "seed", "words"),
    [
        ("working-spaces", 1, 'found "working-spaces", right is'),
        ("illumination", 1, 'found "illumination", which has no questions yet'),
        ("working-space", -1, "found seed -1, right is a whole number from 0"),
    ],
)
def test_what_cannot_be_asked_is_one_line(rule: str, seed: int, words: str) -> None:
    with pytest.raises(DrillError, match=words) as error:
        new_lesson(rule, seed)
    assert "\n" not in str(error.value)


@pytest.mark.long
def test_command_writes_a_scene_that_can_be_run(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    target = tmp_path / "question.yaml"
    assert (
        main(["lesson", "--new", "working-space", "--seed", "5", "-o", str(target)])
        == 0
    )
    assert main(["lesson", str(target)]) == 0
    capsys.readouterr()
    assert main(["lesson", "--new", "working-space", "--seed", "5"]) == 0
    assert capsys.readouterr().out == target.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("more", "words"),
    [
        (["--new", "shoes"], 'found "shoes", right is'),
        (["--new", "rear-access"], "which has no questions yet"),
        (["--new", "door-swing", "--seed", "-1"], "found seed -1"),
        (["--new", "door-swing", "room.yaml"], "right is one of them"),
        (["--new", "door-swing", "-o", "q.html"], "ends in .yaml or .yml"),
        (["--seed", "3", "room.yaml"], "right is with --new RULE"),
        ([], "found no SCENE"),
    ],
)
def test_command_refuses_in_one_line(
    more: list[str],
    words: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["lesson", *more]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert words in err
    assert err.count("\n") == 1
    assert not [*tmp_path.iterdir()]
