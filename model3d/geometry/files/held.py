"""A program that runs a reader of files, which may have so much memory: never imported.

But for ``hold_to``. Readers in it need nothing of the model, so that they start fast
and wherever Python does.
"""

from __future__ import annotations

import runpy
import sys


def hold_to(memory: int) -> None:
    """Let this process have so many bytes at most; Windows has no such limit."""
    try:
        import resource  # noqa: PLC0415 - not on Windows
    except ImportError:
        return
    hard = resource.getrlimit(resource.RLIMIT_AS)[1]
    most = memory if hard == resource.RLIM_INFINITY else min(memory, hard)
    resource.setrlimit(resource.RLIMIT_AS, (most, hard))


if __name__ == "__main__":
    _, limit, *sys.argv = sys.argv
    hold_to(int(limit))
    runpy.run_path(sys.argv[0], run_name="__main__")
