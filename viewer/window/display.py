"""Whether a window can be opened here, found out without the risk of being ended."""

from __future__ import annotations

import os
import subprocess
import sys
from typing import Final

from viewer.graphics import DrawingError

_PATIENCE: Final = 120
"""Seconds a trial of the graphics may take, on a machine that is busy."""
_OWN_SCREEN: Final = ("win32", "darwin")
"""Systems that have a screen of their own, and need no name of it."""
_KEY: Final = "VTK_DEFAULT_OPENGL_WINDOW"
_ON_SCREEN: Final = "vtkXOpenGLRenderWindow"
_TRIAL: Final = """
import vtkmodules.vtkRenderingOpenGL2
from vtkmodules.vtkRenderingCore import vtkRenderer, vtkRenderWindow
window = vtkRenderWindow()
window.SetShowWindow(False)
window.SetSize(8, 8)
window.AddRenderer(vtkRenderer())
window.Render()
raise SystemExit(0 if window.SupportsOpenGL() else 3)
"""
_NONE: Final = (
    "no window can be opened here: there is no display; `standclear picture` and "
    "`standclear page` need none"
)


def require_display() -> None:
    """Make sure that a window can be opened, by trying it in another process.

    Without a usable OpenGL the drawing library ends the process at once, so it must
    not be tried in this one.

    Raises:
        DrawingError: There is no display, or nothing can be drawn on it.
    """
    environment = dict(os.environ)
    if sys.platform not in _OWN_SCREEN:
        if not environment.get("DISPLAY"):
            raise DrawingError(_NONE)
        # Else a display that does not answer would be passed over for none at all.
        environment[_KEY] = os.environ[_KEY] = _ON_SCREEN
    try:
        done = subprocess.run(  # noqa: S603 - the interpreter that runs this
            [sys.executable, "-c", _TRIAL],
            capture_output=True,
            timeout=_PATIENCE,
            check=False,
            env=environment,
        )
    except (OSError, subprocess.TimeoutExpired) as error:
        msg = f"no window can be opened here: the trial did not end ({error})"
        raise DrawingError(msg) from error
    if done.returncode:
        msg = (
            "no window can be opened here: the display does not answer, or has no "
            "usable OpenGL; on Debian or Ubuntu install libgl1 and libgl1-mesa-dri"
        )
        raise DrawingError(msg)
