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
    """Make sure that this machine can draw, by drawing a little in another process.

    Without a usable OpenGL the drawing library ends the process at once, so it must
    not be tried in this one.

    Raises:
        DrawingError: It cannot.
    """
    if sys.platform.startswith("linux"):
        os.environ.setdefault(KEY, _OFFSCREEN)
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
