"""What must hold of a still picture: a ratio within one run, in processor time."""

from __future__ import annotations

import subprocess
import sys
from typing import TYPE_CHECKING, Final

import pytest

from tests.paths import ROOT, SCENES

if TYPE_CHECKING:
    from pathlib import Path

_SPHERE: Final = """
import sys
import pyvista
plotter = pyvista.Plotter(off_screen=True, window_size=(1600, 1000))
plotter.add_mesh(pyvista.Sphere())
plotter.screenshot(sys.argv[1])
"""
"""The least that a picture of that size by the same library can be."""


@pytest.mark.bench
@pytest.mark.render
def test_a_picture_takes_less_than_twice_what_a_sphere_takes(tmp_path: Path) -> None:
    """From the scene to the file, the interpreter's start and all: 1.6 times."""
    scene, file = str(SCENES / "pump-station.yaml"), str(tmp_path / "room.png")
    taken = _taken("-m", "viewer.cli", "picture", scene, "-o", file)
    assert taken / _taken("-c", _SPHERE, str(tmp_path / "sphere.png")) < 2.0


def _taken(*arguments: str) -> float:
    """Return the processor time of an interpreter, seconds; the least of three."""
    return min(_once(arguments) for _ in range(3))


def _once(arguments: tuple[str, ...]) -> float:
    before = _children()
    subprocess.run(  # noqa: S603 - this interpreter
        [sys.executable, *arguments], cwd=ROOT, check=True, stdout=subprocess.DEVNULL
    )
    return _children() - before


def _children() -> float:
    """Return the processor time of all that was started here and has ended."""
    resource = pytest.importorskip("resource")
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return float(used.ru_utime + used.ru_stime)
