"""Write a file so that there is all of it, or what was there before."""

from __future__ import annotations

import os
from pathlib import Path


def write_whole(file: Path, data: bytes) -> None:
    """Write a file so that there is all of it or the old one, and never a part.

    Raises:
        OSError: It cannot be written; then nothing has changed.
    """
    if file.exists() and not file.is_file() and not file.is_dir():
        file.write_bytes(
            data
        )  # a device or a pipe, which nothing may take the place of
        return
    target = Path(os.path.realpath(file))
    beside = target.with_name(f".{os.urandom(8).hex()}.tmp")
    try:
        with beside.open("xb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        if target.is_file():
            beside.chmod(target.stat().st_mode)
        beside.replace(target)
    except OSError as error:
        # The reader knows the file by its own name, not by that of the one beside it.
        raise OSError(error.errno, error.strerror, str(file)) from error
    finally:
        beside.unlink(missing_ok=True)
