"""Run everything that must pass: ``python -m tests``, with ``--quick`` most of it.

All steps run, also after one has failed, and a summary says which did. The exit
status is 0 only if every step passed. ``--quick`` leaves out coverage, and the tests
that measure, draw, open a window or a browser, run long, or look at very many rooms.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import Final

from tests.paths import ROOT

Steps = dict[str, tuple[str, ...]]

BESIDE: Final[Steps] = {
    "format": ("-m", "ruff", "format", "--check", "."),
    "lint": ("-m", "ruff", "check", "."),
    # This tool has no module to run by name.
    "walls": ("-c", "from importlinter.cli import lint_imports_command as go; go()"),
    "generated pages": ("-m", "model3d.catalogue", "--check"),
    "types": ("-m", "mypy"),
}
"""What is run beside the tests; the arguments of the Python interpreter."""
PYTEST: Final = ("-m", "pytest", "-n", "auto", "--dist", "loadfile", "-m")
QUICK: Final[Steps] = {
    "tests": (*PYTEST, "not (bench or browser or long or many or render or screen)"),
}
WHOLE: Final[Steps] = {
    "tests": (*PYTEST, "not (bench or many)", "--cov"),
    # Tracing doubles what these cost, and the cases of the rules run the same lines.
    "many rooms": ("-m", "pytest", "-n", "auto", "--dist", "worksteal", "-m", "many"),
    # Ratios are right where nothing else runs.
    "measurements": ("-m", "pytest", "-m", "bench"),
}


def main() -> int:
    """Run every step that is asked for, return the exit status."""
    parser = argparse.ArgumentParser(prog="python -m tests", description=__doc__)
    parser.add_argument("--quick", action="store_true", help="leave out slow tests")
    return run(BESIDE, QUICK if parser.parse_args().quick else WHOLE)


def run(beside: Steps, steps: Steps) -> int:
    """Run the first of the steps beside the others, print a summary.

    What runs beside is printed when the first of the steps has ended.
    """
    ended = []
    with ThreadPoolExecutor(1) as pool:
        waiting = [pool.submit(_held, *words) for words in beside.items()]
        for name, arguments in steps.items():
            _print(f"\n== {name}: python {' '.join(arguments)}")
            ended.append(_ended(name, arguments, None))
            for step in waiting:
                ended.append(step.result())
                _print(f"\n== {ended[-1].name}\n{ended[-1].printed}")
            waiting.clear()
    _print("")
    for one in ended:
        verdict = f"FAILED ({one.status})" if one.status else "passed"
        _print(f"{one.name:16} {verdict:12} {one.seconds:6.1f} s")
    return int(any(one.status for one in ended))


@dataclass(frozen=True)
class _Ended:
    name: str
    status: int
    seconds: float
    printed: str


def _held(name: str, arguments: tuple[str, ...]) -> _Ended:
    return _ended(name, arguments, subprocess.PIPE)


def _ended(name: str, arguments: tuple[str, ...], output: int | None) -> _Ended:
    start = time.monotonic()
    done = subprocess.run(  # noqa: S603 - the commands are those above
        [sys.executable, *arguments],
        cwd=ROOT,
        # UTF-8 on every system: the tools print what the files hold. What is compiled
        # is kept: some hundred tests start the command anew.
        env={**os.environ, "PYTHONUTF8": "1", "PYTHONDONTWRITEBYTECODE": ""},
        stdin=subprocess.DEVNULL,
        stdout=output,
        stderr=subprocess.STDOUT,
        encoding="utf-8",
        check=False,
    )
    seconds = time.monotonic() - start
    return _Ended(name, done.returncode, seconds, done.stdout or "")


def _print(text: str) -> None:
    sys.stdout.write(f"{text}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    sys.exit(main())
