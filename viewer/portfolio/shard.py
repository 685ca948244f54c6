"""One part of many rooms, for a batch system that takes each part by itself."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path


def shard_of(asked: str, files: Sequence[Path]) -> list[Path]:
    """Return the files of one part, in their order.

    Of the files sorted by name, as they are written with slashes, the first goes to
    the first part, the second to the second and so on round: the same on every system
    and in whatever order they are named. All parts together are all files.

    Args:
        asked: Which of how many: "3/40".
        files: All files.

    Raises:
        UnusableError: It is none, or no file is left for it.

    >>> from pathlib import Path
    >>> [file.name for file in shard_of("2/2", [*map(Path, ("c", "a", "b"))])]
    ['b']
    """
    found = re.fullmatch(r"([0-9]{1,9})/([0-9]{1,9})", asked)
    part, parts = (int(found[1]), int(found[2])) if found else (0, 0)
    if not 1 <= part <= parts:
        msg = f"--shard: found {asked}, right is PART/PARTS, like 3/40, from 1/40 on"
        raise UnusableError([msg])
    if part > len(files):
        many = f"{len(files)} scene{'' if len(files) == 1 else 's'}"
        msg = f"--shard: found {asked} of {many}, right is at most {len(files)} parts"
        raise UnusableError([msg])
    names = sorted(range(len(files)), key=lambda number: files[number].as_posix())
    chosen = sorted(names[part - 1 :: parts])
    return [files[number] for number in chosen]
