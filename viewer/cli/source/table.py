"""Tables that say what words mean: plain files, read as a whole and never too much."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from viewer.wording.refusal import UnusableError, refused

if TYPE_CHECKING:
    from pathlib import Path

_LARGEST: Final = 4 * 2**20
"""Bytes; a table of every word of a trade has a few thousand."""


def table_data(file: Path) -> bytes:
    """Return what is in a table.

    Raises:
        UnusableError: It cannot be read, is no plain file, or too large.
    """
    from model3d.disk.files import content

    try:
        data = content(file, _LARGEST)
    except OSError as error:
        raise UnusableError([refused(error)]) from error
    if len(data) > _LARGEST:
        msg = f"{file}: found more than {_LARGEST // 2**20} MiB, right is a table"
        raise UnusableError([msg])
    return data
