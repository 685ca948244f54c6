"""Whether this machine can draw, found out without the risk of being ended."""

from __future__ import annotations

import os
import subprocess
import sys
from functools import cache
from typing import Final

_OFFSCREEN: Final = "vtkEGLRenderWindow"
KEY: Final = "VTK_DEFAULT_OPENGL_WINDOW"
PATIENCE: Final = 120
"""Seconds a trial of the graphics may take, on a machine that is busy."""
TRIAL: Final = """
import sys
import vtkmodules.vtkRenderingOpenGL2
from vtkmodules.vtkRenderingCore import vtkRenderer, vtkRenderWindow
window = vtkRenderWindow()
{prepared}
window.SetSize(8, 8)
window.AddRenderer(vtkRenderer())
window.Render()
"""
"""Draws a little in a window that is prepared for it, and ends where it cannot."""
_OFF_SCREEN: Final = f"""\
{TRIAL.format(prepared="window.SetOffScreenRendering(1)")}
raise SystemExit(0 if window.SupportsOpenGL() else 3)
"""


class DrawingError(Exception):
    """This machine cannot draw; the message says why, in a line."""


@cache
def require_graphics() -> None:
    """Make sure that this machine can draw.

    Without a usable OpenGL the drawing library ends the process at once, so a little
    is drawn in another process; but not where it is certain that this one can.

    Raises:
        DrawingError: It cannot.
    """
    if sys.platform.startswith("linux"):
        os.environ.setdefault(KEY, _OFFSCREEN)
        if os.environ[KEY] == _OFFSCREEN and _is_ready():
            return
    try:
        done = subprocess.run(  # noqa: S603 - the interpreter that runs this
            [sys.executable, "-c", _OFF_SCREEN],
            capture_output=True,
            timeout=PATIENCE,
            check=False,
        )
    except (OSError, subprocess.TimeoutExpired) as error:
        msg = f"pictures cannot be drawn here: the trial did not end ({error})"
        raise DrawingError(msg) from error
    if done.returncode:
        msg = (
            "pictures cannot be drawn here: no usable OpenGL; on Debian or Ubuntu "
            "install libegl1 and libgl1-mesa-dri"
        )
        raise DrawingError(msg)


def _is_ready() -> bool:
    """Tell whether a window off the screen has all that it draws with.

    It asks for that when it is made; where something is missing a window of another
    kind comes in its place, the one that may end the process when it draws.
    """
    import vtkmodules.vtkRenderingOpenGL2  # noqa: F401, PLC0415 - registers the windows
    from vtkmodules.vtkCommonCore import vtkLogger  # noqa: PLC0415 - only to draw
    from vtkmodules.vtkRenderingCore import vtkRenderWindow  # noqa: PLC0415

    told = vtkLogger.GetCurrentVerbosityCutoff()
    vtkLogger.SetStderrVerbosity(vtkLogger.VERBOSITY_OFF)
    window = vtkRenderWindow()
    vtkLogger.SetStderrVerbosity(told)
    return bool(window.IsA(_OFFSCREEN)) and bool(window.SupportsOpenGL())
