"""A window that cannot be opened is told of before the graphics are touched."""

from __future__ import annotations

import subprocess
from typing import Any

import pytest

from viewer.picture.drawing import display
from viewer.picture.drawing.display import held_display
from viewer.picture.drawing.graphics import DrawingError


@pytest.fixture(autouse=True)
def x11(monkeypatch: pytest.MonkeyPatch) -> None:
    """On a system whose screen has a name, and none of it is there."""
    monkeypatch.setattr(display, "_OWN_SCREEN", ())
    monkeypatch.setenv("VTK_DEFAULT_OPENGL_WINDOW", "")


def test_no_display_is_told_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("DISPLAY", "")
    with pytest.raises(DrawingError, match="there is no display"), held_display():
        pass


def test_graphics_that_end_the_process_are_told_when_they_are_waited_for(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # The trial is another process, which ends as it does without a usable OpenGL.
    monkeypatch.setenv("DISPLAY", ":4999")
    monkeypatch.setattr(display, "_TRIAL", "import os; os.abort()")
    done = []
    with held_display() as wait:
        done.append("other work")
        with pytest.raises(DrawingError, match="no usable OpenGL"):
            wait()
    assert done


def test_a_display_that_draws_is_held_until_the_block_is_left(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("DISPLAY", ":4999")
    draws = "import sys; print('ready', flush=True); sys.stdin.read()"
    monkeypatch.setattr(display, "_TRIAL", draws)
    started: list[subprocess.Popen[str]] = []
    run = subprocess.Popen

    def noted(*words: Any, **more: Any) -> subprocess.Popen[str]:  # noqa: ANN401 - as they are
        started.append(run(*words, **more))
        return started[-1]

    monkeypatch.setattr("viewer.picture.drawing.display.subprocess.Popen", noted)
    with held_display() as wait:
        wait()
        assert started[0].poll() is None
    assert started[0].poll() is not None
