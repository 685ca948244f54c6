"""Files and rule books that a scene names."""

from __future__ import annotations

from pathlib import Path, PurePosixPath, PureWindowsPath
from typing import TYPE_CHECKING, Final

from model3d.disk.files import is_plain, lost_link
from model3d.scene.checks.setting import word
from model3d.scene.words.mistakes import found
from model3d.scene.words.nearest import hint, listed

if TYPE_CHECKING:
    from model3d.scene.parts.item import Item
    from model3d.scene.parts.site import Site
    from model3d.scene.words.mistakes import Found

STEP_ENDINGS: Final = (".step", ".stp")
MESH_ENDINGS: Final = (".glb", ".stl", ".obj", ".ply", *STEP_ENDINGS)
OWN_UNIT: Final = (".glb", *STEP_ENDINGS)
"""Of files that are in metres, or say in what unit they are."""
_MEBIBYTE: Final = 2**20
LARGEST_MESH: Final = 512 * _MEBIBYTE
"""Bytes; ten million triangles of an STL file, which writes each corner anew."""
LARGEST_AMENDMENT: Final = _MEBIBYTE
_AMENDMENT: Final = ".toml"


def mesh_mistakes(item: Item, folder: Path) -> list[Found]:
    """Return what keeps an item's mesh file from being opened."""
    name = word(item.mesh)
    if not name:
        return []
    fault = file_fault(name, folder, MESH_ENDINGS, LARGEST_MESH)
    return [(("mesh",), f"found {found(name)}, right is {fault}")] if fault else []


def rules_mistakes(site: Site, folder: Path) -> list[Found]:
    """Return what is wrong with the rule book a site names."""
    name = word(site.rules)
    if not name:
        return []
    if name.endswith(_AMENDMENT):
        fault = file_fault(name, folder, (_AMENDMENT,), LARGEST_AMENDMENT)
    else:
        fault = _no_book(name)
    return [(("rules",), f"found {found(name)}, right is {fault}")] if fault else []


def _no_book(name: str) -> str | None:
    # Reading the tables takes longer than a small scene does.
    from model3d.codebook import BOOKS  # noqa: PLC0415

    if name in BOOKS:
        return None
    books = listed([*BOOKS, f"a {_AMENDMENT} file beside the scene"])
    return f"a rule book: {books}{hint(name, BOOKS)}"


def file_fault(
    name: str, folder: Path, endings: tuple[str, ...], largest: int
) -> str | None:
    """Return what would be right in place of a file name, or None if it is."""
    if not name.lower().endswith(endings):
        return f"a file that ends in {listed(endings)}"
    path = folder / name
    if name.isprintable() and (lost := lost_link(path)):
        return f"a file that is there: it is {lost}"
    if not _is_inside(name, folder):
        return "a file in the scene's folder, with a path relative to it"
    try:
        if not path.exists():
            return "a file that is there"
        if not is_plain(path):
            return "a plain file"
        size = path.stat().st_size
    except (OSError, ValueError):
        return "a file that can be read"
    return None if size <= largest else f"a file of at most {largest // _MEBIBYTE} MiB"


def _is_inside(name: str, folder: Path) -> bool:
    # Judged by the rules of every system, so that a scene is good on all or on none.
    windows = PureWindowsPath(name)
    if "\\" in name or windows.drive or windows.root or ".." in windows.parts:
        return False
    if PurePosixPath(name).is_absolute() or not name.isprintable():
        return False
    try:
        return (folder / name).resolve().is_relative_to(folder.resolve())
    except (OSError, RuntimeError, ValueError):
        return False
