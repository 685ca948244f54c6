"""The node that comes with playwright, so that no test has to do without one."""

from __future__ import annotations

import shutil
from pathlib import Path

import playwright


def node() -> str:
    """Return the program that runs a script without a browser."""
    driver = Path(playwright.__file__).parent / "driver"
    found = shutil.which("node", path=str(driver)) or shutil.which("node")
    assert found is not None, f"there is no node in {driver}"
    return found
