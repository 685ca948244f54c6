"""Processes side by side: all results, whoever dies; and nobody is left behind."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from multiprocessing import active_children
from pickle import PicklingError
from typing import TYPE_CHECKING, Any

import pytest

from tests.paths import ROOT
from tests.viewer.portfolio.killed import squared
from viewer.portfolio.pool import Lost, results

if TYPE_CHECKING:
    from pathlib import Path

pytestmark = pytest.mark.long

PROGRAM = f"""
import signal
import sys
sys.path.insert(0, {str(ROOT)!r})
# What runs in the background of a shell is deaf to Ctrl-C, and so are its children.
signal.signal(signal.SIGINT, signal.default_int_handler)
from tests.viewer.portfolio.killed import marked
from viewer.portfolio.pool import results
if __name__ == "__main__":
    for number, result in results(marked, sys.argv[1:], 2):
        print(number, result)
"""


def test_every_task_has_its_result() -> None:
    expected = {number: number * number for number in range(12)}
    assert dict(results(squared, range(12), 1)) == expected
    assert dict(results(squared, range(12), 3)) == expected
    assert dict(results(squared, [], 3)) == {}


def test_a_process_that_dies_loses_its_own_task_and_no_other() -> None:
    found = dict(results(squared, [1, 13, 2, 13, 3, 4, 13], 2))
    gone = Lost("exit status 7")
    assert found == {0: 1, 1: gone, 2: 4, 3: gone, 4: 9, 5: 16, 6: gone}


def test_what_cannot_be_pickled_is_raised_and_no_process_is_left() -> None:
    tasks: list[Any] = [1, lambda: None, 2]
    with pytest.raises((AttributeError, TypeError, PicklingError)):
        dict(results(squared, tasks, 2))
    assert not active_children()


@pytest.mark.skipif(os.name == "nt", reason="a process there is told to end otherwise")
@pytest.mark.parametrize("how", ["SIGINT", "SIGTERM", "SIGKILL"])
def test_nobody_is_left_when_the_run_is_ended(how: str, tmp_path: Path) -> None:
    program = tmp_path / "program.py"
    program.write_text(PROGRAM, encoding="utf-8")
    marks = [tmp_path / "one", tmp_path / "two"]
    running = subprocess.Popen(  # noqa: S603 - this Python
        [sys.executable, str(program), *map(str, marks)],
        start_new_session=True,
        stderr=subprocess.PIPE,
    )
    _wait(lambda: all(mark.exists() and mark.read_text() for mark in marks))
    processes = [int(mark.read_text()) for mark in marks]

    if how == "SIGINT":  # a terminal tells all of them
        os.killpg(running.pid, signal.SIGINT)
    else:
        running.send_signal(signal.Signals[how])

    _, told = running.communicate(timeout=60)
    assert running.returncode != 0
    assert told.count(b"Traceback") == (how == "SIGINT")
    _wait(lambda: not any(map(_is_there, processes)))


def _is_there(process: int) -> bool:
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    return True


def _wait(is_so: object) -> None:
    assert callable(is_so)
    end = time.monotonic() + 60
    while not is_so():
        assert time.monotonic() < end
        time.sleep(0.05)
