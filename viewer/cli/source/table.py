"""Tables and lists that are read as a whole: plain files, and never too much."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from viewer.wording.refusal import UnusableError, refused

if TYPE_CHECKING:
    from pathlib import Path

_LARGEST: Final = 4 * 2**20
"""Bytes of a table that says what words mean: one of every word of a trade has a few
thousand."""


def table_data(file: Path, largest: int = _LARGEST, right: str = "a table") -> bytes:
    """Return what is in a table or a list.

    Args:
        file: The file.
        largest: Bytes.
        right: What is right instead of one that is larger.

    Raises:
        UnusableError: It cannot be read, is no plain file, or too large.
    """
    from model3d.disk.files import content

    try:
        data = content(file, largest)
    except OSError as error:
        raise UnusableError([refused(error)]) from error
    if len(data) > largest:
        msg = f"{file}: found more than {largest // 2**20} MiB, right is {right}"
        raise UnusableError([msg])
    return data
