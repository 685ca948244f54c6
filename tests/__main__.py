"""Run everything that must pass: ``python -m tests``.

All steps run, also after one has failed, and a summary says which did. The exit
status is 0 only if every step passed.
"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).parents[1]
STEPS: Final = {
    "format": ("-m", "ruff", "format", "--check", "."),
    "lint": ("-m", "ruff", "check", "."),
    "types": ("-m", "mypy"),
    # This tool has no module to run by name.
    "walls": ("-c", "from importlinter.cli import lint_imports_command as go; go()"),
    "generated pages": ("-m", "model3d.catalogue", "--check"),
    "tests": ("-m", "pytest", "--cov"),
}
"""What is run, by what it looks after; the arguments of the Python interpreter."""


def main() -> int:
    """Run every step, print the summary, return the exit status."""
    lines = []
    failed = False
    for name, arguments in STEPS.items():
        _print(f"\n== {name}: python {' '.join(arguments)}")
        start = time.monotonic()
        status = _run(arguments)
        failed = failed or status != 0
        verdict = "passed" if status == 0 else f"FAILED ({status})"
        lines.append(f"{name:16} {verdict:12} {time.monotonic() - start:6.1f} s")
    _print("\n" + "\n".join(lines))
    return int(failed)


def _run(arguments: tuple[str, ...]) -> int:
    # UTF-8 on every system: the tools print what the files hold.
    environment = {**os.environ, "PYTHONUTF8": "1"}
    command = [sys.executable, *arguments]
    return subprocess.run(  # noqa: S603 - the commands are those above
        command, cwd=ROOT, env=environment, stdin=subprocess.DEVNULL, check=False
    ).returncode


def _print(text: str) -> None:
    sys.stdout.write(f"{text}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    sys.exit(main())
