"""Files that a command reads, which nothing that it makes may take the place of."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from viewer.cli.given.scene_files import scene_files

if TYPE_CHECKING:
    from argparse import Namespace


def why_kept(arguments: Namespace, target: Path) -> str | None:
    """Return why a file that is there must not be written over, or None.

    The scenes that a command line names must not, nor the meshes, rule books and files
    of gear that these use, by whatever name or link the file is called.
    """
    from model3d.scene.text.used import used_files

    named = getattr(arguments, "scenes", None) or [getattr(arguments, "scene", None)]
    paths = [path for path in named if isinstance(path, Path)]
    scenes, _ = scene_files(paths)
    if any(_is_same(target, scene) for scene in scenes):
        return "is a scene, right is another file"
    asked = getattr(arguments, "rules", None)
    asked = [asked] if isinstance(asked, str) else asked or []
    for scene in scenes:
        files = [*(scene.parent / name for name in asked), *used_files(scene)]
        if any(_is_same(target, file) for file in files):
            return f"is used by {scene.name}, right is another file"
    return None


def _is_same(target: Path, file: Path) -> bool:
    try:
        return target.samefile(file)
    except (OSError, ValueError):
        return False
