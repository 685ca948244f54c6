"""Every rule has its cases, and every case comes out as it says."""

from __future__ import annotations

from typing import Any

import pytest

from model3d import Scene, check
from model3d.rules import requirements
from tests.judging.parts_kept import parts_lost
from tests.rules.answers import missing_or_extra
from tests.rules.cases import NEEDED, Case, CaseFile, case_files

FILES = case_files()


def every_case() -> list[Any]:
    return [
        pytest.param(case, id=f"{file.rule}: {case.name}")
        for file in FILES
        for case in file.cases
    ]


@pytest.mark.parametrize("case", every_case())
def test_case(case: Case) -> None:
    checked = check(Scene.model_validate(case.scene))
    assert not [*parts_lost(checked)]
    report = checked.document()
    for subject, expected in case.expect.items():
        found = [
            judged
            for judged in report["judgements"]
            if (judged["subject"], judged["requirement"]) == (subject, case.rule)
        ]
        lines = list(missing_or_extra(expected, found))
        assert not lines, "\n".join([case.name, *lines])


@pytest.mark.parametrize("rule", requirements())
def test_a_rule_has_a_case_file(rule: str) -> None:
    assert rule in {file.rule for file in FILES}


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.rule)
def test_a_case_file_has_a_rule(file: CaseFile) -> None:
    assert file.rule in requirements()


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.rule)
def test_a_case_file_has_every_kind(file: CaseFile) -> None:
    found = {case.kind for case in file.cases}
    assert set(NEEDED) - found == set(file.never)
    assert all(file.never.values())


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.rule)
def test_a_case_is_what_its_kind_says(file: CaseFile) -> None:
    answers = {
        "met": {"met"},
        "at-the-limit": {"met"},
        "past-by-1-mm": {"not-met", "open"},
        "open": {"open"},
        "not-met": {"not-met"},
    }
    for case in file.cases:
        verdicts = {one["verdict"] for all_ in case.expect.values() for one in all_}
        if case.kind == "not-applicable":
            assert [] in case.expect.values(), case.name
        else:
            assert answers[case.kind] & verdicts, case.name


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.rule)
def test_names_of_cases_are_unique(file: CaseFile) -> None:
    names = [case.name for case in file.cases]
    assert len(set(names)) == len(names)
