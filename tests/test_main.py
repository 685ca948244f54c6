"""``python -m tests`` runs every step, and fails where one does."""

from __future__ import annotations

import re

import pytest

from tests.__main__ import QUICK, WHOLE, run
from tests.paths import ROOT

Words = tuple[str, ...]
GOOD = ("-c", "print('good')")
BAD = ("-c", "raise SystemExit(3)")


@pytest.mark.long
@pytest.mark.parametrize(
    ("beside", "steps", "status"),
    [
        ((), (GOOD, GOOD), 0),
        ((), (BAD, GOOD), 1),
        ((), (GOOD, BAD), 1),
        ((GOOD, GOOD), (GOOD,), 0),
        ((BAD, GOOD), (GOOD,), 1),
        ((GOOD, BAD), (GOOD, BAD), 1),
    ],
)
def test_all_steps_run_and_one_that_fails_decides(
    beside: tuple[Words, ...],
    steps: tuple[Words, ...],
    status: int,
    capfd: pytest.CaptureFixture[str],
) -> None:
    named = [
        {f"{kind} {n}": step for n, step in enumerate(some)}
        for kind, some in (("beside", beside), ("step", steps))
    ]
    assert run(*named) == status
    printed = capfd.readouterr().out
    wanted = named[0] | named[1]
    assert printed.count("good\n") == [*wanted.values()].count(GOOD)
    verdicts = re.findall(r"^(\w+ \d) +(passed|FAILED)", printed, re.MULTILINE)
    assert dict(verdicts) == {
        name: "passed" if step is GOOD else "FAILED" for name, step in wanted.items()
    }
    assert len(verdicts) == len(wanted)


def test_what_is_left_out_is_marked(pytestconfig: pytest.Config) -> None:
    """A marker that is misspelt would leave nothing out, or everything."""
    known = {line.split(":")[0] for line in pytestconfig.getini("markers")}
    for steps in (QUICK, WHOLE):
        for words in steps.values():
            chosen = words[words.index("pytest") :]
            asked = chosen[chosen.index("-m") + 1]
            assert {*re.findall(r"\w+", asked)} - {"not", "or"} <= known


def test_ci_runs_the_command_of_the_readme() -> None:
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert "<!-- command: test -->" in script
    assert "-m tests" not in script


def test_what_is_compiled_is_kept(
    monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    """Each process would compile all of the code anew, by a third longer."""
    monkeypatch.setenv("PYTHONDONTWRITEBYTECODE", "1")
    asked = ("-c", "import sys; print('kept', not sys.dont_write_bytecode)")
    assert run({"beside": asked}, {"step": asked}) == 0
    assert capfd.readouterr().out.count("kept True\n") == 2
