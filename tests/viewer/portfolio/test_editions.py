"""What another rule book changes in many rooms, against the reports themselves.

NEC 2023 110.26(A)(6) is new in that edition: what it asks is not asked by NEC 2020.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from model3d import check, read_scene
from tests.viewer.portfolio.rooms import BOX, PANEL, portfolio, room, write
from viewer.cli.main import main
from viewer.portfolio.pool import Lost

pytestmark = pytest.mark.long

BOOKS = ("--rules", "nec-2020", "--rules", "nec-2023")

Printed = pytest.CaptureFixture[str]


@pytest.fixture
def rooms(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of rooms, one of which cannot be read."""
    portfolio(tmp_path / "rooms")
    write(tmp_path / "rooms" / "empty.yaml", room(title="Empty"))
    monkeypatch.chdir(tmp_path)
    return Path("rooms")


def _documents(capsys: Printed, *words: str) -> list[dict[str, Any]]:
    assert main(["compare", "rooms", *BOOKS, "--format", "json", *words]) == 2
    return [json.loads(line) for line in capsys.readouterr().out.splitlines()]


def test_only_what_changes_is_told_and_it_is_in_the_reports(
    rooms: Path, capsys: Printed
) -> None:
    found = {one["path"]: one for one in _documents(capsys)}
    assert len(found) == 6
    assert "mistakes" in found.pop("rooms/broken.yaml")
    for path, told in found.items():
        scene = read_scene(path)
        old, new = (
            {
                (one.subject, one.requirement, one.leaf, one.tier, one.side): one
                for one in check(scene.model_copy(update={"rules": book})).judgements
            }
            for book in BOOKS[1::2]
        )
        expected = {
            key
            for key in old.keys() | new.keys()
            if (old[key].verdict if key in old else None)
            != (new[key].verdict if key in new else None)
        }
        keys = ("subject", "requirement", "leaf", "tier", "side")
        changed = {tuple(one.get(key) for key in keys): one for one in told["changed"]}
        assert changed.keys() == expected
        for key, one in changed.items():
            cited = [book[key].citation if key in book else None for book in (old, new)]
            assert one["citations"] == cited
    assert not found["rooms/empty.yaml"]["changed"]
    assert found["rooms/a/clear.yaml"]["changed"]
    assert rooms.is_dir()


@pytest.mark.usefixtures("rooms")
def test_the_text_has_the_sentence_of_the_code(capsys: Printed) -> None:
    assert main(["compare", "rooms", *BOOKS]) == 2
    told = capsys.readouterr()
    lines = told.out.splitlines()
    assert lines[0] == "nec-2020, then nec-2023"
    assert lines[1].startswith("6 rooms, 1 of them refused: ")
    place = lines.index("rooms/a/clear.yaml")
    assert lines[place + 1] == "  LP1  Clear floor: not asked, then met"
    assert lines[place + 2].startswith("    NEC 2023 110.26(A)(6): ")
    assert "rooms/broken.yaml: refused, 1 mistake" in told.out.replace("\\", "/")
    assert "Nothing changes in rooms/empty.yaml." in told.out
    assert "The authority having jurisdiction decides" in told.out
    assert told.err.count("\n") == 1


@pytest.mark.usefixtures("rooms")
def test_two_jobs_and_parts_give_the_same(capsys: Printed) -> None:
    one = _documents(capsys)
    assert _documents(capsys, "--jobs", "2") == one
    parts = []
    for part in ("1/2", "2/2"):
        main(["compare", "rooms", *BOOKS, "--format", "json", "--shard", part])
        parts.append(capsys.readouterr().out.splitlines())
    rounds = [json.loads(line) for pair in zip(*parts, strict=True) for line in pair]
    assert rounds == one


@pytest.mark.usefixtures("rooms")
def test_the_page_has_a_row_for_each_change(capsys: Printed) -> None:
    assert main(["compare", "rooms", *BOOKS, "-o", "a.html"]) == 2
    page = Path("a.html").read_text("utf-8")
    assert "6 rooms by nec-2020, then by nec-2023" in page
    assert "110.26(A)(6)" in page
    assert "Refused, and not compared" in page
    assert "broken.yaml" in capsys.readouterr().err


def test_items_that_change_alike_are_one_row_and_the_worst_is_first(
    tmp_path: Path, capsys: Printed
) -> None:
    other = PANEL | {"id": "LP2", "place": {"wall": "south", "along": 2000}}
    low = BOX | {"place": {"at": [2250, 3050], "facing": "south"}}
    names = [str(write(tmp_path / f"{n}.yaml", room(PANEL, other, low))) for n in "ab"]
    assert main(["compare", *names, "--rules", "nec-2023", "--rules", "nec-2020"]) == 1
    told = capsys.readouterr().out
    assert "Clear floor  met, then not asked  " in told
    assert "LP1, LP2  Clear floor: " in told or "LP2  Clear floor: " in told
    turns = [line for line in told.splitlines() if ", then " in line]
    assert turns[0] == "nec-2023, then nec-2020"


def test_nothing_changed_is_0(tmp_path: Path, capsys: Printed) -> None:
    names = [str(write(tmp_path / f"{n}.yaml", room(title=n))) for n in "ab"]
    assert main(["compare", *names, *BOOKS]) == 0
    assert "2 rooms: nothing changed" in capsys.readouterr().out


def test_a_room_whose_process_is_gone_is_told(
    rooms: Path, monkeypatch: pytest.MonkeyPatch, capsys: Printed
) -> None:
    def answers(work: Any, tasks: list[Any], *_: object) -> list[Any]:  # noqa: ANN401
        return [Lost("signal 9"), *map(work, tasks[1:])]

    monkeypatch.setattr("viewer.cli.compare.answers", answers)
    assert main(["compare", str(rooms / "a"), *BOOKS]) == 2
    told = capsys.readouterr()
    assert "blocked.yaml: refused" in told.out
    assert "at work on it ended (signal 9)" in told.err


@pytest.mark.parametrize("words", [("--jobs", "2"), ("--shard", "1/2")])
def test_two_scenes_are_not_many(
    rooms: Path, words: tuple[str, str], capsys: Printed
) -> None:
    two = [str(rooms / "a" / name) for name in ("clear.yaml", "blocked.yaml")]
    assert main(["compare", *two, *words]) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert "without --rules" in line
