"""``python -m tests`` runs every step, and fails where one does."""

from __future__ import annotations

import importlib
import re

import pytest

from tests.paths import ROOT

RUNNER = importlib.import_module("tests.__main__")
GOOD = ("-c", "print('good')")
BAD = ("-c", "raise SystemExit(3)")


@pytest.mark.parametrize(
    ("steps", "status"), [((GOOD, GOOD), 0), ((BAD, GOOD), 1), ((GOOD, BAD), 1)]
)
def test_all_steps_run_and_one_that_fails_decides(
    steps: tuple[tuple[str, ...], ...],
    status: int,
    monkeypatch: pytest.MonkeyPatch,
    capfd: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.setattr(
        RUNNER, "STEPS", {f"step {n}": step for n, step in enumerate(steps)}
    )
    assert RUNNER.main() == status
    printed = capfd.readouterr().out
    assert printed.count("good\n") == steps.count(GOOD)
    verdicts = re.findall(r"^step \d +(passed|FAILED)", printed, re.MULTILINE)
    assert verdicts == ["passed" if step is GOOD else "FAILED" for step in steps]


def test_ci_runs_the_command_of_the_readme() -> None:
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert "<!-- command: test -->" in script
    assert "-m tests" not in script
