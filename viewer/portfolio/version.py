"""Which version of the program this is."""

from __future__ import annotations


def version() -> str:
    """Return the version; nothing where the program was not installed."""
    from importlib import metadata  # noqa: PLC0415 - the help needs none

    try:
        return metadata.version("standclear")
    except metadata.PackageNotFoundError:
        return ""
