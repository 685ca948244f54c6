"""The table of a report: a row a judgement, its figures those of the JSON.

The columns and which measure is told are the product's own contract.
"""

from __future__ import annotations

import json

import pytest

from model3d import Judgement, Report, check, read_scene
from model3d.judging.written.rows import COLUMNS, rows
from tests.paths import SCENES
from tests.scenes import examples


@pytest.mark.long
@pytest.mark.parametrize("name", examples.NAMES)
def test_rows_are_the_judgements(name: str) -> None:
    report = examples.report(name)
    document = report.document()
    table = report.table()
    assert len(table) == len(document["judgements"])
    for row, judgement in zip(table, document["judgements"], strict=True):
        assert tuple(row) == COLUMNS
        assert (row["scene"], row["rules"]) == (report.scene, report.rules)
        for key in ("subject", "requirement", "verdict", "citation", "reason"):
            assert row[key] == judgement[key]
        both = judgement.get("required", {}).keys() & judgement.get("provided", {})
        spare = {
            size: (judgement["provided"][size] - judgement["required"][size])
            * (-1 if size in judgement.get("limit", {}) else 1)
            for size in both
        }
        if spare:
            size = str(row["measure"])
            assert spare[size] == min(spare.values())
            assert row["required"] == judgement["required"][size]
            assert row["provided"] == judgement["provided"][size]
            assert row["margin"] == pytest.approx(spare[size], abs=0.02)
        if judgement["verdict"] == "met" and spare and "margin" in judgement:
            assert row["margin"] == judgement["margin"]


def judged(**keys: object) -> dict[str, object]:
    (row,) = rows(
        {
            "scene": "A",
            "file": "a.yaml",
            "rules": "nec-2023",
            "judgements": [
                {"requirement": "x", "subject": "LP1", "verdict": "met"} | keys
            ],
        }
    )
    return {key: value for key, value in row.items() if value is not None}


def test_the_size_that_falls_short_most_is_told() -> None:
    row = judged(
        required={"depth": 900.0, "width": 762.0},
        provided={"depth": 800.0, "width": 700.0},
        printed={"depth": ["900 mm", "3 ft"]},
        margin=-62.0,
        intrusions=[{"item": "B"}, {"item": "A"}, {"item": "B"}],
        leaf=1,
    )
    assert (row["measure"], row["margin"]) == ("depth", -100.0)
    assert (row["printed"], row["part"]) == ("900 mm (3 ft)", "leaf 2")
    assert row["in the way"] == "B; A"


def test_of_a_greatest_figure_too_much_falls_short() -> None:
    row = judged(
        required={"reach": 150.0},
        provided={"reach": 170.0},
        limit={"reach": "at-most"},
        margin=-20.0,
    )
    assert row["margin"] == -20.0


def test_where_nothing_was_measured_the_only_size_is_told() -> None:
    assert judged(required={"gap": 25.0})["required"] == 25.0
    assert "measure" not in judged(required={"gap": 25.0, "depth": 1.0})
    assert judged(provided={"height": 2400.0})["provided"] == 2400.0
    assert "measure" not in judged()


def test_reports_and_judgements_are_short_to_read() -> None:
    judgement = Judgement("door-swing", "LP1", "not-met", "cited", "Because.", leaf=0)
    report = Report("A", "", "nec-2023", (judgement,))
    assert repr(report) == "<Report 'A' (nec-2023): 0 met, 1 not-met, 0 open>"
    assert repr(report.judgements) == "(<LP1 door-swing leaf 1: not-met>,)"
    assert report.of("LP1") == report.of("LP1", "door-swing") == (judgement,)
    assert json.dumps(report.table())


def test_what_is_asked_of_nobody_who_is_there_is_told() -> None:
    report = check(read_scene(SCENES / "pump-station.yaml"))
    assert report.of("LP1", "rear-access") == report.of("CW1") == ()
    assert {one.subject for one in report.of("room")} == {"room"}
    with pytest.raises(LookupError) as caught:
        report.of("lp 1")
    right = "right is the id of an item or a room door, or room (LP1, L1, ...)"
    assert str(caught.value) == f'found "lp 1", {right}'
    with pytest.raises(LookupError, match=r"\(C1, CW1, .*, PAD1, PAD2, PB1, \.\.\.\)$"):
        report.of("Z")
    with pytest.raises(LookupError, match=r'found "reach", right is one of the rules$'):
        report.of("LP1", "reach")
    with pytest.raises(LookupError, match=r"\(nearest: working-space\)$"):
        report.of("LP1", "working_space")


def test_what_is_no_scene_is_told() -> None:
    with pytest.raises(TypeError, match=r'found "room.yaml", right is a scene: read_s'):
        check("room.yaml")  # type: ignore[arg-type]


def test_a_notebook_shows_a_table_with_the_caution() -> None:
    judgement = Judgement("door-swing", "<b>", "not-met", "cited", "Because.")
    table = Report("A", "", "nec-2023", (judgement,))._repr_html_()
    assert "&lt;b&gt;" in table
    assert "Energised equipment can kill" in table
