"""Folders of invented rooms, some of which use files or cannot be read."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from typing import TYPE_CHECKING, Any

from tests.paths import ROOT, SCENES

if TYPE_CHECKING:
    from pathlib import Path

PANEL = {
    "id": "LP1",
    "kind": "panelboard",
    "size": [500, 150, 900],
    "place": {"wall": "north", "along": 2000, "bottom": 900},
    "supply": {"system": "208Y/120"},
    "door": "left",
}
BOX = {
    "id": "BOX",
    "kind": "machine",
    "size": [600, 600, 600],
    "place": {"at": [2250, 3150], "facing": "south"},
    "grounded": False,
}
DOOR = {"id": "D1", "wall": "west", "along": 500, "width": 1000, "height": 2100}


def room(*items: dict[str, Any], title: str = "Annex", **more: Any) -> dict[str, Any]:  # noqa: ANN401 - what a scene may say
    return {
        "title": title,
        "units": "mm",
        "rules": "nec-2023",
        "room": {
            "size": [5000, 4000],
            "height": 3000,
            "walls": "gypsum",
            "doors": [DOOR],
        },
        "items": list(items),
        **more,
    }


def write(file: Path, content: dict[str, Any]) -> Path:
    """Write a scene; JSON is YAML."""
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(json.dumps(content), encoding="utf-8")
    return file


def portfolio(folder: Path) -> Path:
    """Write a clear room, a blocked one, one that is no scene, and one with a mesh."""
    write(folder / "a" / "clear.yaml", room(PANEL, title="Clear"))
    write(folder / "a" / "blocked.yaml", room(PANEL, BOX, title="Blocked"))
    write(folder / "broken.yaml", room(PANEL | {"kind": "panelbored"}))
    for name in ("scanned-pump.yaml", "local-amendment.yaml", "quillhaven.toml"):
        shutil.copy(SCENES / name, folder)
    shutil.copytree(SCENES / "meshes", folder / "meshes")
    return folder


def run(*words: str, folder: Path, status: int) -> subprocess.CompletedProcess[str]:
    """Run the command in a process of its own, as a person does."""
    done = subprocess.run(  # noqa: S603 - this Python
        [sys.executable, "-c", PROGRAM, *words],
        cwd=folder,
        capture_output=True,
        encoding="utf-8",
        check=False,
        timeout=300,
    )
    assert done.returncode == status, f"{done.stdout}\n{done.stderr}"
    return done


PROGRAM = (
    f"import sys; sys.path.insert(0, {str(ROOT)!r}); "
    "from viewer.cli.main import main; sys.exit(main())"
)
