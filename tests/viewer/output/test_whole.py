"""Files that are written whole or not at all, and never over what was read.

The rooms are invented; what a terminal obeys is told by categories of Unicode.
"""

from __future__ import annotations

import errno
import json
import os
import pty
import random
import signal
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest

from model3d.disk import files
from tests.paths import ROOT
from viewer.cli.main import main
from viewer.output.outlet import escaped, write_whole

pytestmark = pytest.mark.skipif(os.name == "nt", reason="of POSIX: signals, pipes")

Printed = pytest.CaptureFixture[str]

TRIANGLE = "v 0 0 0\nv 100 0 0\nv 0 100 0\nf 1 2 3\n"
AMENDMENT = """\
name = "Town ordinance"
amends = "nec-2023"
[working-space-width]
citation = "Sec. 1"
least = "36 in"
"""


def room(folder: Path, name: str = "room.yaml", **more: Any) -> Path:  # noqa: ANN401
    (folder / "part.obj").write_text(TRIANGLE)
    scene = {
        "title": "Annex",
        "units": "mm",
        "rules": "nec-2023",
        "room": {"size": [5000, 4000], "height": 3000},
        "items": [{"id": "SCAN", "kind": "obstacle", "mesh": "part.obj"}],
        **more,
    }
    file = folder / name
    file.write_text(json.dumps(scene), encoding="utf-8")
    return file


def run(
    *arguments: str | Path,
    **more: Any,  # noqa: ANN401
) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(  # noqa: S603 - our own command
        [sys.executable, "-m", "viewer.cli", *map(str, arguments)],
        check=False,
        cwd=ROOT,
        timeout=120,
        **more,
    )


def left(folder: Path) -> list[str]:
    return [one.name for one in folder.iterdir() if one.name.endswith(".tmp")]


@pytest.mark.parametrize("name", ["room.yaml", "part.obj"])
@pytest.mark.parametrize("by", ["itself", "link", "hard link"])
@pytest.mark.parametrize("command", ["check", "schema-like", "page", "figure"])
def test_what_is_read_is_never_written_over(
    tmp_path: Path, name: str, by: str, command: str, capsys: Printed
) -> None:
    file = room(tmp_path)
    kept = (tmp_path / name).read_bytes()
    ending = {"page": ".html", "figure": ".svg"}.get(command, ".out")
    target = tmp_path / f"link{ending}"
    match by:
        case "itself":
            target = tmp_path / name
        case "link":
            target.symlink_to(name)
        case _:
            target.hardlink_to(tmp_path / name)
    words = {
        "check": ["check", str(tmp_path), "--format", "json"],
        "schema-like": ["place", str(file), "SCAN"],
    }.get(command, [command, str(file)])
    assert main([*words, "-o", str(target)]) == 2
    found = capsys.readouterr()
    assert not found.out
    (line,) = found.err.splitlines()
    assert str(tmp_path) in line or "ends in" in line
    assert (tmp_path / name).read_bytes() == kept
    assert not left(tmp_path)


def test_a_rule_book_that_is_used_is_not_written_over(
    tmp_path: Path, capsys: Printed
) -> None:
    book = tmp_path / "town.toml"
    book.write_text(AMENDMENT)
    file = room(tmp_path)
    assert main(["check", str(file), "--rules", "town.toml", "-o", str(book)]) == 2
    assert capsys.readouterr().err
    assert book.read_text() == AMENDMENT


def test_an_older_output_is_replaced(tmp_path: Path) -> None:
    file, target = room(tmp_path), tmp_path / "found.json"
    target.write_text("old")
    link = tmp_path / "link.json"
    link.symlink_to(target)
    assert main(["check", str(file), "--format", "json", "-o", str(link)]) in {0, 1}
    assert link.is_symlink()
    assert json.loads(target.read_text())["judgements"] is not None


def test_what_a_killed_run_left_is_cleared_by_the_next(tmp_path: Path) -> None:
    old = tmp_path / f".standclear-{'0' * 16}.tmp"
    old.write_bytes(b"half")
    other = tmp_path / ".standclear-notes.tmp"
    other.write_bytes(b"mine")
    write_whole(tmp_path / "a.txt", b"all")
    assert not old.exists()
    assert other.exists()


@pytest.mark.long
def test_what_another_run_writes_now_is_not_cleared(tmp_path: Path) -> None:
    writing = tmp_path / f".standclear-{'1' * 16}.tmp"
    code = (
        "import sys, pathlib; from model3d.disk.files import is_locked;"
        "stream = pathlib.Path(sys.argv[1]).open('xb'); is_locked(stream);"
        "print(flush=True); sys.stdin.read()"
    )
    with subprocess.Popen(  # noqa: S603 - our own command
        [sys.executable, "-c", code, writing],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        cwd=ROOT,
    ) as other:
        assert other.stdout
        other.stdout.readline()
        write_whole(tmp_path / "a.txt", b"all")
        assert writing.exists()
        other.kill()
    write_whole(tmp_path / "a.txt", b"all")
    assert not writing.exists()


def test_one_that_was_cleared_too_early_is_written_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen = []

    def cleared(stream: Any) -> bool:  # noqa: ANN401 - a file
        seen.append(stream.name)
        if len(seen) == 1:
            Path(stream.name).unlink()
        return True

    monkeypatch.setattr(files, "is_locked", cleared)
    assert write_whole(tmp_path / "a.txt", b"all")
    assert (tmp_path / "a.txt").read_bytes() == b"all"
    assert len(seen) == 2


def test_a_file_with_something_else_in_it_is_left(tmp_path: Path) -> None:
    target = tmp_path / "room.yaml"
    assert not write_whole(target, b"mine", b"old")
    assert not target.exists()
    target.write_bytes(b"older")
    assert not write_whole(target, b"mine", b"old")
    assert target.read_bytes() == b"older"
    assert write_whole(target, b"mine", b"older")
    assert target.read_bytes() == b"mine"
    assert not left(tmp_path)


@pytest.mark.parametrize("times", [1, 2, 3])
def test_what_was_written_after_the_last_look_is_put_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, times: int
) -> None:
    target = tmp_path / "room.yaml"
    target.write_bytes(b"old")
    exchange, seen = files._exchange, []  # noqa: SLF001 - the moment before it

    def late(one: Path, other: Path) -> None:
        seen.append(other)
        if len(seen) <= times:
            other.write_bytes(b"theirs" * len(seen))
        exchange(one, other)

    monkeypatch.setattr(files, "_exchange", late)
    assert not write_whole(target, b"mine", b"old")
    assert target.read_bytes() == b"theirs" * times
    assert not left(tmp_path)


def test_where_files_cannot_be_exchanged_the_last_look_decides(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object) -> None:
        raise OSError(errno.EINVAL, os.strerror(errno.EINVAL))

    monkeypatch.setattr(files, "_exchange", refuse)
    target = tmp_path / "room.yaml"
    target.write_bytes(b"old")
    assert write_whole(target, b"mine", b"old")
    assert not write_whole(target, b"again", b"old")
    assert target.read_bytes() == b"mine"


@pytest.mark.long
def test_nothing_that_others_write_meanwhile_is_lost(tmp_path: Path) -> None:
    target = tmp_path / "room.yaml"
    target.write_bytes(b"0")
    theirs = [f"{number}".encode() for number in range(1, 200)]
    chance = random.Random(5)  # noqa: S311 - no secret

    def write() -> None:
        for one in theirs:
            new = tmp_path / "theirs"
            new.write_bytes(one)
            new.replace(target)
            time.sleep(chance.uniform(0.0, 0.02))

    taken: list[bytes] = []
    with ThreadPoolExecutor(1) as pool:
        other = pool.submit(write)
        while not other.done():
            now = target.read_bytes()
            if write_whole(target, b"mine", now):
                taken.append(now)
        other.result()
    assert taken
    last = b"mine" if theirs[-1] in taken else theirs[-1]
    assert target.read_bytes() == last


@pytest.mark.long
def test_killed_while_it_writes_a_file_is_the_old_or_the_new(tmp_path: Path) -> None:
    target = tmp_path / "big.bin"
    old, new = b"a" * 2_000_000, b"b" * 2_000_000
    code = (
        "import sys, pathlib; from viewer.output.outlet import write_whole;"
        "print(flush=True)\n"
        "while True:\n"
        "    for sign in (b'a', b'b'):\n"
        "        write_whole(pathlib.Path(sys.argv[1]), sign * 2_000_000)\n"
    )
    chance = random.Random(7)  # noqa: S311 - no secret
    for _ in range(8):
        with subprocess.Popen(  # noqa: S603 - our own command
            [sys.executable, "-c", code, target], stdout=subprocess.PIPE, cwd=ROOT
        ) as other:
            assert other.stdout
            other.stdout.readline()
            time.sleep(chance.uniform(0.0, 0.08))
            other.send_signal(signal.SIGKILL)
        if target.exists():
            assert target.read_bytes() in (old, new)
    write_whole(target, old)
    assert not left(tmp_path)


def test_a_folder_that_cannot_be_written_names_the_target(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise OSError(errno.EROFS, os.strerror(errno.EROFS), ".standclear-0.tmp")

    monkeypatch.setattr(Path, "open", refuse)
    monkeypatch.setattr(Path, "unlink", refuse)
    with pytest.raises(OSError, match="Read-only") as caught:
        write_whole(tmp_path / "a.txt", b"all")
    assert caught.value.filename == str(tmp_path / "a.txt")


@pytest.mark.long
def test_a_closed_standard_output_is_2_with_one_line(tmp_path: Path) -> None:
    file = room(tmp_path)
    for words in (["check", str(file)], ["check", "--help"], ["--version"]):
        command = [sys.executable, "-m", "viewer.cli", *words]
        done = subprocess.run(  # noqa: S603 - our own command
            ["/bin/sh", "-c", 'exec "$@" >&-', "sh", *command],
            check=False,
            cwd=ROOT,
            stderr=subprocess.PIPE,
            timeout=120,
        )
        assert done.returncode == 2, words
        (line,) = done.stderr.decode().splitlines()
        assert "standard output" in line


@pytest.mark.long
def test_a_full_standard_output_is_2_with_one_line(tmp_path: Path) -> None:
    if not Path("/dev/full").exists():
        pytest.skip("Linux has it")
    with Path("/dev/full").open("wb") as full:
        done = run("check", room(tmp_path), stdout=full, stderr=subprocess.PIPE)
    assert done.returncode == 2
    (line,) = done.stderr.decode().splitlines()
    assert "standard output: No space left" in line


def shown(*arguments: str | Path) -> str:
    """Return what a command prints on a terminal."""
    here, there = pty.openpty()
    with subprocess.Popen(  # noqa: S603 - our own command
        [sys.executable, "-m", "viewer.cli", *map(str, arguments)],
        stdout=there,
        stderr=there,
        cwd=ROOT,
        env={**os.environ, "TERM": "dumb", "NO_COLOR": "1"},
    ) as command:
        os.close(there)
        found = b""
        while True:
            try:
                more = os.read(here, 65536)
            except OSError:
                break
            if not more:
                break
            found += more
        command.wait(60)
    os.close(here)
    return found.decode().replace("\r\n", "\n")


BAD = "\x7f\x9b31m\u202e\u2066\u200f\u2028\U000e0041"


@pytest.mark.long
def test_nothing_that_a_terminal_obeys_is_printed(tmp_path: Path) -> None:
    name = f"ro{BAD[:3]}\x1b]0;x\x07\u202eom"
    file = room(tmp_path, f"{name}.yaml", title=f"A{BAD}B", description=f"C{BAD}D")
    commands: tuple[list[str | Path], ...] = (
        ["check", file],
        ["check", file, "--format", "json"],
        ["page", file, "-o", tmp_path / f"{name}.html"],
        ["check", file, f"--{name}"],
        ["check", file, "--rules", f"{name}"],
        ["picture", file, "-o", f"{name}"],
    )
    for words in commands:
        found = shown(*words)
        bad = [char for char in found if escaped(char) != char and char != "\n"]
        assert not bad, (words, bad)


def test_escapes_mean_the_same() -> None:
    text = json.dumps({f"a{BAD}": f"{BAD}é\ud800"}, ensure_ascii=False)
    assert json.loads(escaped(text)) == json.loads(text)
    assert "é" in escaped(text)
