"""The results of the example rooms, byte for byte.

``pytest --update-golden`` writes them again; the difference is reviewed by people.
"""

from __future__ import annotations

import json

import pytest

from tests.paths import ROOT, SCENES
from tests.rules.cases import case_files
from tests.scenes.examples import NAMES, SCHEMA, report, written

GOLDEN = ROOT / "tests" / "scenes" / "golden"


@pytest.mark.parametrize("name", NAMES)
def test_result_is_the_golden_one(name: str, *, update_golden: bool) -> None:
    found = report(name).json(indent=1) + "\n"
    golden = GOLDEN / f"{name}.json"
    if update_golden:
        golden.write_text(found, encoding="utf-8", newline="\n")
    assert golden.is_file(), f"no golden result of {name}: pytest --update-golden"
    assert golden.read_text(encoding="utf-8") == found
    assert json.loads(found) == report(name).document()


def test_no_golden_result_without_a_scene() -> None:
    assert {path.stem for path in GOLDEN.iterdir()} <= {*NAMES}


@pytest.mark.parametrize("name", NAMES)
def test_scene_is_good_by_the_schema(name: str) -> None:
    SCHEMA.validate(written(SCENES / f"{name}.yaml"))


def test_the_rooms_show_every_rule_at_its_best_and_at_its_worst() -> None:
    shown = {
        (judgement.requirement, judgement.verdict)
        for name in NAMES
        for judgement in report(name).judgements
    }
    for file in case_files():
        verdicts = {
            one["verdict"]
            for case in file.cases
            for expected in case.expect.values()
            for one in expected
        }
        worst = "not-met" if "not-met" in verdicts else "open"
        wanted = {(file.rule, verdict) for verdict in verdicts & {"met", worst}}
        assert wanted <= shown, f"no example room shows {wanted - shown}"
        assert (file.rule, "not-met") not in shown or worst == "not-met"
