"""Where a command writes: looked at before the work, so that nothing is in vain."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

from viewer.output.outlet import emit
from viewer.wording.cleaning import clean
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path


def check_target(
    target: Path,
    what: str,
    endings: tuple[str, ...] = (),
    scenes: Iterable[Path] = (),
) -> str:
    """Return the ending of a file that can be written, without its dot.

    Args:
        target: The file.
        what: What it is to be: "a figure".
        endings: Those that are known, without a dot; none where any will do.
        scenes: Files that must not be written over.

    Raises:
        UnusableError: Its ending is not known, it is a folder or in none, or a scene.
    """
    ending = target.suffix.lower().removeprefix(".")
    if endings and ending not in endings:
        *some, last = (f".{one}" for one in endings)
        known = f"{', '.join(some)} or {last}" if some else last
        raise UnusableError(
            [f"standclear: {what} ends in {known}, not {target.name!r}"]
        )
    if target.is_dir():
        raise UnusableError([f"{target}: is a folder, right is a file"])
    if not target.parent.is_dir():
        raise UnusableError([f"{target}: there is no folder {target.parent}"])
    if target.exists():
        for scene in scenes:
            if scene.exists() and target.samefile(scene):
                raise UnusableError([f"{target}: is a scene, right is another file"])
    return ending


def tell_file(target: Path) -> None:
    """Print the name of a file that was made; on a terminal, as it can be shown.

    Raises:
        OSError: It cannot be printed.
    """
    shown = sys.stdout is not None and sys.stdout.isatty()
    emit(f"{clean(str(target)) if shown else target}\n")
