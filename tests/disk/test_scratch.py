"""Folders for a moment are cleared, by a later run too, and never one that is used."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import tempfile
from typing import TYPE_CHECKING

import pytest

from model3d.disk import scratch as module
from model3d.disk.scratch import scratch
from tests.paths import ROOT

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

USES = """\
import sys
from model3d.disk.scratch import scratch
with scratch() as folder:
    (folder / "part").write_text("of a run")
    print(folder.parent, flush=True)
    sys.stdin.read()
"""


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    monkeypatch.setenv("TMPDIR", str(tmp_path))
    monkeypatch.setattr(tempfile, "tempdir", None)
    module._clear.cache_clear()  # noqa: SLF001 - a run of its own
    yield tmp_path
    module._clear.cache_clear()  # noqa: SLF001 - of the folder that others have


def run() -> subprocess.Popen[str]:
    """Start a run that uses such a folder until its standard input ends."""
    pipes = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE}
    return subprocess.Popen([sys.executable, "-c", USES], cwd=ROOT, text=True, **pipes)  # type: ignore[call-overload,no-any-return] # noqa: S603


def test_nothing_is_left_whatever_happens_in_it(folder: Path) -> None:
    with scratch() as inner:
        (inner / "deep").mkdir()
        assert [*folder.iterdir()] == [inner.parent]
    with pytest.raises(KeyError), scratch():
        raise KeyError
    assert not [*folder.iterdir()]


@pytest.mark.long
@pytest.mark.skipif(os.name == "nt", reason="a signal of POSIX")
def test_what_a_killed_run_left_is_cleared_by_the_next(folder: Path) -> None:
    strange = folder / "standclear-of_mine"
    strange.mkdir()
    with run() as killed, run() as alive:
        assert killed.stdout is not None
        assert alive.stdout is not None
        left, used = (one.stdout.readline().strip() for one in (killed, alive))  # type: ignore[union-attr]
        killed.send_signal(signal.SIGKILL)
        killed.wait()
        assert os.path.isdir(left)  # noqa: PTH112 - as it was told
        with scratch() as own:
            there = {str(one) for one in folder.iterdir()}
            assert there == {used, str(own.parent), str(strange)}
        alive.communicate("")
    assert [*folder.iterdir()] == [strange]
