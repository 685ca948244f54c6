"""Many rooms at once: the same bytes, whoever works; rows that are kept or not."""

from __future__ import annotations

import csv
import json
import os
import shutil
import signal
import subprocess
import sys
import time
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pyarrow as pa
import pyarrow.parquet as pq
import pytest

from model3d import check, read_scene
from tests.viewer.portfolio.rooms import (
    BOX,
    PANEL,
    PROGRAM,
    portfolio,
    room,
    run,
    write,
)
from viewer.cli.main import main
from viewer.portfolio.pool import Lost
from viewer.report.rows_kept import COLUMNS

if TYPE_CHECKING:
    from collections.abc import Callable

pytestmark = pytest.mark.long

Printed = pytest.CaptureFixture[str]


@pytest.fixture
def rooms(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of rooms, named as one names it from its own folder."""
    portfolio(tmp_path / "rooms")
    monkeypatch.chdir(tmp_path)
    return Path("rooms")


@pytest.fixture
def good(rooms: Path) -> Path:
    """The same without the room that cannot be read."""
    (rooms / "broken.yaml").unlink()
    return rooms


def lines_of(file: Path) -> list[dict[str, Any]]:
    return [json.loads(line) for line in file.read_text("utf-8").splitlines()]


def test_two_jobs_give_the_bytes_of_one(rooms: Path) -> None:
    for word in ("text", "jsonl"):
        words, folder = ("check", "rooms", "--format", word), rooms / ".."
        one = run(*words, "--jobs", "1", folder=folder, status=2)
        two = run(*words, "--jobs", "2", folder=folder, status=2)
        assert (one.stdout, one.stderr) == (two.stdout, two.stderr)
        assert "broken.yaml" in one.stdout
        assert one.stderr.startswith(str(Path("rooms", "broken.yaml")))
        assert one.stderr.count("\n") == 1


def test_a_room_whose_process_is_gone_is_told_in_its_place(
    good: Path, monkeypatch: pytest.MonkeyPatch, capsys: Printed
) -> None:
    def answers(work: Any, tasks: list[Any], *_: object) -> list[Any]:  # noqa: ANN401
        return [Lost("signal 9"), *map(work, tasks[1:])]

    monkeypatch.setattr("viewer.cli.check.answers", answers)
    assert main(["check", str(good), "-o", "x.jsonl"]) == 2
    (line,) = capsys.readouterr().err.splitlines()
    rows = lines_of(Path("x.jsonl"))
    assert rows[0]["path"] == "rooms/a/blocked.yaml"
    assert rows[0]["verdict"] == "refused"
    assert "the process that was at work on it ended (signal 9)" in rows[0]["reason"]
    assert rows[0]["reason"] == line
    assert {row["path"] for row in rows} == ALL


@pytest.mark.skipif(sys.platform != "linux", reason="looks for children in /proc")
def test_a_process_that_is_killed_takes_its_room_and_no_other(good: Path) -> None:
    words = ["check", "rooms", "--jobs", "2", "--format", "csv", "-o", "x.csv"]
    running = subprocess.Popen(  # noqa: S603 - this Python
        [sys.executable, "-c", PROGRAM, *words],
        cwd=good / "..",
        stderr=subprocess.PIPE,
        encoding="utf-8",
    )
    os.kill(_first_worker(running.pid), signal.SIGKILL)
    _, told = running.communicate(timeout=300)
    assert running.returncode == 2
    (line,) = told.splitlines()
    assert "ended (signal 9, SIGKILL)" in line
    with Path("x.csv").open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(stream))
    (gone,) = (row for row in rows if row["verdict"] == "refused")
    names = sorted(Path(one).name for one in ALL)
    assert sorted({row["file"] for row in rows}) == names
    assert gone["file"] in line


def _first_worker(parent: int) -> int:
    """Return the first process that works for another; it has a task from the start."""
    children = Path(f"/proc/{parent}/task/{parent}/children")
    for _ in range(6_000):
        for child in map(int, children.read_text().split()):
            if b"spawn_main" in Path(f"/proc/{child}/cmdline").read_bytes():
                return child
        time.sleep(0.01)
    raise AssertionError


def test_two_jobs_give_the_remedies_of_one(good: Path, capsys: Printed) -> None:
    folder = str(good / "a")
    assert main(["check", folder, "--mend"]) == 1
    one = capsys.readouterr().out
    assert main(["check", folder, "--mend", "--jobs", "2"]) == 1
    assert capsys.readouterr().out == one
    assert "what puts it right" in one


def test_a_scene_from_standard_input_is_judged_beside_others(good: Path) -> None:
    text = (good / "a" / "clear.yaml").read_bytes()
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(sys, "stdin", _Stdin(text))
        arguments = ["check", "-", str(good), "--jobs", "2", "-o", "x.jsonl"]
        assert main(arguments) == 1
    (own,) = {row["hash"] for row in lines_of(Path("x.jsonl")) if row["path"] == "-"}
    assert own == sha256(text).hexdigest()


class _Stdin:
    def __init__(self, data: bytes) -> None:
        self.buffer = self
        self.data = data

    def read(self, most: int) -> bytes:
        return self.data[:most]


def test_the_rows_are_those_of_the_reports(good: Path) -> None:
    assert main(["check", str(good), "-o", "x.jsonl"]) == 1
    assert main(["check", str(good), "-o", "x.parquet", "--jobs", "2"]) == 1

    rows = lines_of(Path("x.jsonl"))
    table = pq.read_table("x.parquet")

    assert table.to_pylist() == rows
    assert tuple(table.column_names) == COLUMNS
    for path in ("rooms/a/blocked.yaml", "rooms/scanned-pump.yaml"):
        found = [row for row in rows if row["path"] == path]
        expected = check(read_scene(path)).table()
        assert [{key: row[key] for key in expected[0]} for row in found] == expected
        assert {row["scene_rows"] for row in found} == {len(expected)}


def test_a_room_that_is_refused_has_one_row(rooms: Path, capsys: Printed) -> None:
    assert main(["check", str(rooms), "-o", "x.parquet"]) == 2
    told = capsys.readouterr().err.splitlines()
    (row,) = (
        row
        for row in pq.read_table("x.parquet").to_pylist()
        if row["verdict"] == "refused"
    )
    assert row["path"] == "rooms/broken.yaml"
    assert row["reason"] == "; ".join(told)
    assert row["subject"] is None


def test_the_hash_is_what_sha256sum_prints(good: Path) -> None:
    main(["check", str(good), "-o", "x.jsonl"])
    hashes = {row["path"]: row["hash"] for row in lines_of(Path("x.jsonl"))}
    plain = "rooms/a/clear.yaml"
    assert hashes[plain] == sha256(Path(plain).read_bytes()).hexdigest()
    scene, book = (
        sha256((good / name).read_bytes()).hexdigest()
        for name in ("local-amendment.yaml", "quillhaven.toml")
    )
    lines = f"{scene}  scene\n{book}  quillhaven.toml\n"
    assert hashes["rooms/local-amendment.yaml"] == sha256(lines.encode()).hexdigest()


@pytest.mark.parametrize("ending", ["jsonl", "parquet"])
def test_what_did_not_change_is_kept_with_the_same_bytes(
    good: Path, ending: str
) -> None:
    before, after = Path(f"before.{ending}"), Path(f"after.{ending}")
    assert main(["check", str(good), "-o", str(before)]) == 1
    for jobs in ("1", "2"):
        words = ["--changed-since", str(before), "-o", str(after), "--jobs", jobs]
        assert main(["check", str(good), *words]) == 1
        assert after.read_bytes() == before.read_bytes()


def _marked(file: Path) -> None:
    """Write into every row what no check says."""
    rows = [row | {"reason": "kept"} for row in lines_of(file)]
    text = "".join(f"{json.dumps(row)}\n" for row in rows)
    file.write_text(text, encoding="utf-8", newline="\n")


def _kept(*words: str) -> set[str]:
    """Check against marked results and return the paths whose rows were kept."""
    assert main(["check", *words, "--changed-since", "x.jsonl", "-o", "y.jsonl"]) < 2
    rows = lines_of(Path("y.jsonl"))
    kept = {row["path"] for row in rows if row["reason"] == "kept"}
    judged = {row["path"] for row in rows if row["reason"] != "kept"}
    assert not kept & judged
    return kept


ALL = {
    "rooms/a/blocked.yaml",
    "rooms/a/clear.yaml",
    "rooms/local-amendment.yaml",
    "rooms/scanned-pump.yaml",
}


def _more_text(rooms: Path) -> None:
    file = rooms / "a" / "clear.yaml"
    file.write_text(f"{file.read_text()}\n# seen\n")


def _other_mesh(rooms: Path) -> None:
    scene = rooms / "scanned-pump.yaml"
    name = next(item.mesh for item in read_scene(scene).items if item.mesh is not None)
    with (rooms / name).open("ab") as mesh:
        mesh.write(b"\n")


def _other_book(rooms: Path) -> None:
    file = rooms / "quillhaven.toml"
    file.write_text(f"{file.read_text('utf-8')}\n# read again\n", encoding="utf-8")


@pytest.mark.parametrize(
    ("change", "again"),
    [
        (_more_text, "rooms/a/clear.yaml"),
        (_other_mesh, "rooms/scanned-pump.yaml"),
        (_other_book, "rooms/local-amendment.yaml"),
    ],
)
def test_a_room_is_judged_again_when_it_or_a_file_of_it_changed(
    good: Path, change: Callable[[Path], None], again: str
) -> None:
    main(["check", str(good), "-o", "x.jsonl"])
    _marked(Path("x.jsonl"))
    assert _kept("rooms") == ALL
    change(good)
    assert _kept("rooms") == ALL - {again}


def test_rooms_are_judged_again_when_something_else_is_asked(
    good: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    main(["check", str(good / "a"), "--rules", "nec-2020", "-o", "x.jsonl"])
    _marked(Path("x.jsonl"))
    folder = "rooms/a"
    assert len(_kept(folder, "--rules", "nec-2020")) == 2
    assert not _kept(folder)
    assert not _kept(folder, "--rules", "nec-2023")
    assert not _kept(folder, "--rules", "nec-2020", "--measures", "inch-pound")
    monkeypatch.setattr("viewer.cli.check.version", lambda: "0.0.0")
    assert not _kept(folder, "--rules", "nec-2020")


def test_a_program_that_does_not_know_its_version_keeps_nothing(
    good: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("viewer.cli.check.version", lambda: "")
    main(["check", str(good / "a"), "-o", "x.jsonl"])
    _marked(Path("x.jsonl"))
    assert not _kept("rooms/a")


def test_rows_that_are_missing_are_not_taken_for_all(good: Path) -> None:
    # Whoever keeps only what is met must not be told that nothing else is there.
    main(["check", str(good), "-o", "x.jsonl"])
    file = Path("x.jsonl")
    lines = file.read_text("utf-8").splitlines(keepends=True)
    met = [line for line in lines if json.loads(line)["verdict"] == "met"]
    file.write_text("".join(met), encoding="utf-8")
    words = ["--changed-since", "x.jsonl", "-o", "y.jsonl"]
    assert main(["check", str(good), *words]) == 1
    assert Path("y.jsonl").read_text("utf-8") == "".join(lines)
    file.write_text("".join(lines + lines), encoding="utf-8")
    assert main(["check", str(good), *words]) == 1
    assert Path("y.jsonl").read_text("utf-8") == "".join(lines)


def _other_columns(file: Path) -> None:
    pq.write_table(pa.table({"path": ["a"]}), file)


def _other_verdict(file: Path) -> None:
    row = dict.fromkeys(COLUMNS, "fine") | {"scene_rows": 1}
    numbers = dict.fromkeys(("required", "provided", "margin"), 1.0)
    pq.write_table(pa.Table.from_pylist([row | numbers]), file)


def _broken_words(file: Path) -> None:
    """Write what is Parquet, with a word that is no UTF-8: a disk forgot a bit."""
    row = dict.fromkeys(COLUMNS, "fine") | {"scene_rows": 1, "verdict": "met"}
    numbers = dict.fromkeys(("required", "provided", "margin"), 1.0)
    table = pa.Table.from_pylist([row | numbers])
    # Without a sum of its pages, as check writes it too.
    pq.write_table(table, file, compression="none", use_dictionary=False)
    data = file.read_bytes()
    assert b"fine" in data
    file.write_bytes(data.replace(b"fine", b"f\xe7ne"))


@pytest.mark.parametrize(
    ("name", "make", "told"),
    [
        ("x.parquet", None, "found no such file"),
        ("x.jsonl", None, "found no such file"),
        ("x.csv", None, "found x.csv"),
        ("x.parquet", lambda file: file.write_text("PAR1"), "found no Parquet"),
        ("x.parquet", _broken_words, "found no Parquet"),
        ("x.parquet", lambda file: file.mkdir(), "found not a plain file"),
        ("x.parquet", _other_columns, "found other columns"),
        ("x.parquet", _other_verdict, "found 'fine' as verdict in row 1"),
        ("x.jsonl", lambda file: file.write_text("[]\n"), "a row 1 with other"),
        ("x.jsonl", lambda file: file.write_text("{\n"), "no JSON in line 1"),
        ("x.jsonl", lambda file: file.write_bytes(b"\xff\n"), "no JSON in line 1"),
        ("x.jsonl", lambda file: file.write_text("[" * 99_999), "no JSON in line 1"),
    ],
)
def test_a_file_that_is_none_of_ours_is_one_line(
    good: Path,
    name: str,
    make: Callable[[Path], object] | None,
    told: str,
    capsys: Printed,
) -> None:
    if make is not None:
        make(Path(name))
    words = ["--changed-since", name, "-o", "y.parquet"]
    assert main(["check", str(good), *words]) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert told in line
    assert "right is a .jsonl or .parquet file" in line
    assert not Path("y.parquet").exists()


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--shard", "0/3"], "found 0/3"),
        (["--shard", "4/3"], "found 4/3"),
        (["--shard", "-1/3"], "found -1/3"),
        (["--shard", "a"], "found a"),
        (["--shard", "1/0"], "found 1/0"),
        (["--shard", "9/9"], "found 9/9 of 4 scenes, right is at most 4 parts"),
        (["--jobs", "0"], "found 0"),
        (["--jobs", "two"], "found two"),
        (["--jobs", "-1"], "found -1"),
        (["--format", "parquet"], "found no -o FILE"),
        (["--changed-since", "x.jsonl"], "which keeps no rows"),
        (["--mend", "-o", "x.jsonl"], "which has no place for remedies"),
    ],
)
def test_what_cannot_be_meant_is_one_line(
    good: Path, words: list[str], told: str, capsys: Printed
) -> None:
    key, *value = words
    asked = [f"{key}={value[0]}"] if value and value[0].startswith("-1") else words
    assert main(["check", str(good), *asked]) == 2
    found = capsys.readouterr()
    (line,) = found.err.splitlines()
    assert told in line
    assert not found.out


def test_the_parts_of_a_folder_are_all_of_it(good: Path) -> None:
    assert main(["check", str(good), "-o", "all.jsonl"]) == 1
    rows = []
    for part in (3, 1, 2):
        words = ["--shard", f"{part}/3", "-o", f"{part}.jsonl"]
        assert main(["check", str(good), *words]) < 2
        rows += Path(f"{part}.jsonl").read_text("utf-8").splitlines()
    assert sorted(rows) == sorted(Path("all.jsonl").read_text("utf-8").splitlines())


def test_without_the_extra_it_is_said_before_the_work(
    good: Path, monkeypatch: pytest.MonkeyPatch, capsys: Printed
) -> None:
    monkeypatch.setitem(sys.modules, "pyarrow", None)
    assert main(["check", str(good), "-o", "x.parquet"]) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert "standclear[parquet]" in line


def test_a_file_that_cannot_be_written_is_left_as_it_was(good: Path) -> None:
    target = good / "a" / "clear.yaml"
    before = target.read_bytes()
    words = ["--format", "parquet", "-o", str(target)]
    assert main(["check", str(good), *words]) == 2
    assert target.read_bytes() == before


def test_a_scene_named_twice_is_told_twice(good: Path) -> None:
    name = str(write(good / "b.yaml", room(PANEL, BOX)))
    assert main(["check", name, name, "-o", "x.jsonl"]) == 1
    rows = lines_of(Path("x.jsonl"))
    assert len(rows) == 2 * rows[0]["scene_rows"]
    shutil.copy("x.jsonl", "y.jsonl")
    words = ["--changed-since", "y.jsonl", "-o", "z.jsonl"]
    assert main(["check", name, name, *words]) == 1
    assert lines_of(Path("z.jsonl")) == rows
