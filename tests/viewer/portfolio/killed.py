"""Work for the tests of the pool; processes import it by its name."""

from __future__ import annotations

import os
import time
from pathlib import Path


def squared(number: int) -> int:
    """Return a number times itself; the process that is given 13 is killed."""
    if number == 13:
        os._exit(7)
    return number * number


def marked(file: str) -> str:
    """Say that the work has begun, and never end."""
    Path(file).write_text(str(os.getpid()), encoding="utf-8")
    time.sleep(3_600)
    return file
