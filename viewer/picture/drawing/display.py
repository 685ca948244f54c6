"""Whether a window can be opened here, found out without the risk of being ended."""

from __future__ import annotations

import os
import subprocess
import sys
import threading
from contextlib import contextmanager
from typing import TYPE_CHECKING, Final

from viewer.picture.drawing.graphics import KEY, PATIENCE, TRIAL, DrawingError

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

_OWN_SCREEN: Final = ("win32", "darwin")
"""Systems that have a screen of their own, and need no name of it."""
_ON_SCREEN: Final = "vtkXOpenGLRenderWindow"
_READY: Final = "ready"
_TRIAL: Final = f"""\
{TRIAL.format(prepared="window.SetShowWindow(False)")}
if window.SupportsOpenGL():
    print("{_READY}", flush=True)
    sys.stdin.read()
"""
_NONE: Final = (
    "no window can be opened here: there is no display; `standclear picture` and "
    "`standclear page` need none"
)
_NO_ANSWER: Final = (
    "no window can be opened here: the display does not answer, or has no usable "
    "OpenGL; on Debian or Ubuntu install libgl1 and libgl1-mesa-dri"
)


@contextmanager
def held_display() -> Iterator[Callable[[], None]]:
    """Find out whether a window can be opened, by trying it in another process.

    Without a usable OpenGL the drawing library ends the process at once, so it must
    not be tried in this one. The other process holds the display until the block is
    left: some displays start afresh when nobody is there, and are gone meanwhile.

    Yields:
        What waits for the trial, and raises ``DrawingError`` if nothing can be drawn;
        other work can be done meanwhile.

    Raises:
        DrawingError: There is no display.
    """
    if sys.platform not in _OWN_SCREEN:
        if not os.environ.get("DISPLAY"):
            raise DrawingError(_NONE)
        # Else a display that does not answer would be passed over for none at all.
        os.environ[KEY] = _ON_SCREEN
    with subprocess.Popen(  # noqa: S603 - the interpreter that runs this
        [sys.executable, "-c", _TRIAL],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
    ) as trial:
        late = threading.Timer(PATIENCE, trial.kill)
        late.start()

        def wait() -> None:
            first = trial.stdout.readline() if trial.stdout else ""
            late.cancel()
            if first.strip() != _READY:
                raise DrawingError(_NO_ANSWER)

        try:
            yield wait
        finally:
            late.cancel()
            trial.kill()
