"""A program that runs a reader of files, with an end of its own: never imported.

But for ``hold_to``. Readers in it need nothing of the model, so that they start fast
and wherever Python does.
"""

from __future__ import annotations

import math
import runpy
import signal
import sys

_AFTER = 10
"""Seconds after which a process ends itself that nobody has ended in time."""
_TELL_ME_OF_ITS_DEATH = 1
"""PR_SET_PDEATHSIG of Linux: a signal when the thread that started this one ends."""


def hold_to(memory: int, seconds: float) -> None:
    """Give this process an end in memory and time, and with whoever started it.

    Whoever started it may be killed and can end nothing then: on Linux it ends at
    once, on macOS a little after its time. Windows has no such limits.

    Args:
        memory: Bytes that it may have.
        seconds: After which whoever started it ends it.
    """
    try:
        import resource  # noqa: PLC0415 - not on Windows
    except ImportError:
        return
    hard = resource.getrlimit(resource.RLIMIT_AS)[1]
    most = memory if hard == resource.RLIM_INFINITY else min(memory, hard)
    resource.setrlimit(resource.RLIMIT_AS, (most, hard))
    # A library that does not come back to Python is ended by the system alone.
    signal.signal(signal.SIGALRM, signal.SIG_DFL)
    signal.alarm(math.ceil(seconds) + _AFTER)
    if sys.platform == "linux":
        import ctypes  # noqa: PLC0415 - needed here alone

        ctypes.CDLL(None).prctl(_TELL_ME_OF_ITS_DEATH, int(signal.SIGKILL))


if __name__ == "__main__":
    _, limit, end, *sys.argv = sys.argv
    hold_to(int(limit), float(end))
    runpy.run_path(sys.argv[0], run_name="__main__")
