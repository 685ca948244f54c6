"""Write the generated pages: of all rules, and of the scene format with its figures.

``python -m model3d.catalogue`` writes them; with ``--check`` it only says whether one
of them is stale, by exit status 1.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Final

from model3d.catalogue.page import PAGE, write_page
from model3d.scene.handbook.format_page import FIGURE_FOLDER, files

if TYPE_CHECKING:
    from collections.abc import Sequence

ROOT: Final = Path(__file__).parents[2]
"""The tree, where the page of the scene format is written."""


def write_format(*, check: bool = False, root: Path = ROOT) -> list[Path]:
    """Write the page of the scene format and its figures; with ``check`` only look.

    Returns:
        What was not as it should be, by its place in the tree.
    """
    made = files()
    stale = [
        name
        for name, wanted in made.items()
        if not (root / name).is_file()
        or (root / name).read_text(encoding="utf-8") != wanted
    ]
    there = {one.relative_to(root) for one in (root / FIGURE_FOLDER).glob("*.svg")}
    left = sorted(there - made.keys())
    if not check:
        (root / FIGURE_FOLDER).mkdir(parents=True, exist_ok=True)
        for name in stale:
            (root / name).write_text(made[name], encoding="utf-8", newline="\n")
        for name in left:
            (root / name).unlink()
    return [*stale, *left]


def main(arguments: Sequence[str]) -> int:
    """Write or check the generated pages; returns the exit status."""
    check = "--check" in arguments
    if unknown := [word for word in arguments if word != "--check"]:
        sys.stderr.write(f"{unknown[0]} is not known; only --check is\n")
        return 2
    stale = [] if write_page(check=check) else [PAGE.name]
    stale += [name.as_posix() for name in write_format(check=check)]
    for name in stale if check else ():
        sys.stderr.write(f"{name} is stale: run python -m model3d.catalogue\n")
    return int(check and bool(stale))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
