"""The commands figure, report and compare: what they write and what they refuse."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from model3d import read_scene
from tests.paths import SCENES
from viewer.cli.main import NOT_USABLE, main

PUMPS = str(SCENES / "pump-station.yaml")
SCHOOL = str(SCENES / "feet-and-inches.yaml")
TERMINAL = str(SCENES / "high-handles.yaml")
FOUNDRY = str(SCENES / "one-way-out.yaml")


@pytest.fixture(autouse=True)
def _elsewhere(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


def _refusal(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert main([*words]) == NOT_USABLE
    told = capsys.readouterr()
    assert told.out == ""
    (line,) = told.err.splitlines()
    assert list(Path.cwd().iterdir()) == []
    return line


@pytest.mark.long
@pytest.mark.parametrize("ending", ["svg", "pdf", "png", "dxf"])
def test_a_figure_in_every_format(
    ending: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["figure", PUMPS, "LP1", "-o", f"lp1.{ending}"]) == 0
    assert capsys.readouterr().out == f"lp1.{ending}\n"
    assert Path(f"lp1.{ending}").stat().st_size > 2000


@pytest.mark.long
def test_a_figure_is_named_by_its_scene_and_item() -> None:
    assert main(["figure", PUMPS]) == 0
    assert main(["figure", PUMPS, "LP1", "--view", "side"]) == 0
    names = sorted(file.name for file in Path.cwd().iterdir())
    assert names == ["pump-station-LP1.svg", "pump-station.svg"]


@pytest.mark.long
@pytest.mark.parametrize("view", ["plan", "front", "side", "sheet", "reach", "ways"])
def test_every_view_of_an_item(view: str) -> None:
    assert main(["figure", PUMPS, "LP1", "--view", view, "-o", "a.svg"]) == 0
    assert Path("a.svg").read_text(encoding="utf-8").startswith("<svg")


@pytest.mark.long
@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("LP9",), "found LP9"),
        (("--view", "front"), "is of one item"),
        (("--view", "sheet"), "is of one item"),
        (("CW1",), "requires no space"),
        (("L1",), "requires no space"),
        (("PCP1", "--view", "reach"), "reaches too far"),
        (("LP1", "--view", "rack"), "no tiers"),
        (("-o", "a.jpg"), "ends in .svg, .pdf, .png or .dxf"),
        (("-o", "nowhere/a.svg"), "there is no folder nowhere"),
    ],
)
def test_what_cannot_be_drawn_is_one_line(
    words: tuple[str, ...], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert said in _refusal(capsys, "figure", PUMPS, *words)


def test_nothing_is_written_over_a_scene_or_a_folder(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "made.html"
    folder.mkdir()
    assert main(["report", PUMPS, "-o", "made.html"]) == NOT_USABLE
    assert "is a folder" in capsys.readouterr().err


@pytest.mark.long
def test_a_report_of_a_set_is_whole_or_not_at_all(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    broken = tmp_path / "broken.yaml"
    broken.write_text("title: 3\nunits: mm\n", encoding="utf-8")
    assert main(["report", SCHOOL, str(broken), "-o", "set.html"]) == NOT_USABLE
    told = capsys.readouterr()
    assert told.out == ""
    assert "broken.yaml" in told.err
    assert not (tmp_path / "set.html").exists()
    assert main(["report", SCHOOL, TERMINAL, "-o", "set.html"]) == 0
    text = (tmp_path / "set.html").read_text(encoding="utf-8")
    assert "Oxley Hill school" in text
    assert str(read_scene(Path(TERMINAL)).title) in text
    assert "<nav" in text


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("-o", "a.doc"), "ends in .html or .pdf"),
        (("-o", "nowhere/a.pdf"), "there is no folder nowhere"),
        (("--rules", "nec-1066"), "nec-1066"),
    ],
)
def test_a_report_that_cannot_be_written_is_one_line(
    words: tuple[str, ...], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert said in _refusal(capsys, "report", SCHOOL, *words)


@pytest.mark.long
def test_the_same_scene_gives_the_same_bytes() -> None:
    for name in ("one.pdf", "other.pdf"):
        assert main(["report", SCHOOL, "-o", name, "--paper", "letter"]) == 0
    assert Path("one.pdf").read_bytes() == Path("other.pdf").read_bytes()
    assert Path("one.pdf").read_bytes().startswith(b"%PDF-")


@pytest.mark.long
def test_a_report_under_another_rule_book() -> None:
    assert main(["report", SCHOOL, "--rules", "nec-2026", "-o", "a.html"]) == 0
    assert "NEC 2026 (nec-2026)" in Path("a.html").read_text(encoding="utf-8")


@pytest.mark.long
def test_compare_by_two_rule_books(capsys: pytest.CaptureFixture[str]) -> None:
    books = ("--rules", "nec-2014", "--rules", "nec-2023")
    assert main(["compare", FOUNDRY, *books, "--format", "json"]) == 1
    told = json.loads(capsys.readouterr().out)
    assert (told["format"], told["old"], told["new"]) == (1, "nec-2014", "nec-2023")
    assert told["changed"]
    assert main(["compare", FOUNDRY, *books]) == 1
    assert "nec-2014, then nec-2023" in capsys.readouterr().out
    assert main(["compare", FOUNDRY, *books, "-o", "a.html"]) == 1
    assert "What changed" in Path("a.html").read_text(encoding="utf-8")


@pytest.mark.long
def test_compare_a_scene_with_itself(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["compare", PUMPS, PUMPS]) == 0
    assert "nothing changed" in " ".join(capsys.readouterr().out.split())


@pytest.mark.long
@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((PUMPS,), "right are two"),
        ((PUMPS, "--rules", "nec-2023"), "right is twice"),
        ((PUMPS, "none.yaml"), "none.yaml"),
        ((PUMPS, "--rules", "nec-2023", "--rules", "nec-1066"), "nec-1066"),
        ((PUMPS, FOUNDRY, "-o", "a.doc"), "ends in"),
    ],
)
def test_compare_refuses_in_one_line(
    words: tuple[str, ...], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert said in _refusal(capsys, "compare", *words)
