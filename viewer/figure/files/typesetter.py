"""The typesetter that makes PDF and PNG, where it is installed: the extra [pdf]."""

from __future__ import annotations

import importlib.util
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import Any, Final

from viewer.wording.refusal import UnusableError

_NAME: Final = "typst"
_FONT_HOME: Final = "matplotlib"
"""The package that brings the typeface, so that it looks the same everywhere."""


def missing(what: str, instead: str) -> UnusableError:
    """Return what is said where the typesetter is not installed.

    Args:
        what: What was asked for: "a PDF".
        instead: What can be done without it.
    """
    words = (
        f"standclear: {what} needs the extra [pdf]: "
        f'python -m pip install "standclear[pdf]"; {instead}'
    )
    return UnusableError([words])


def is_there() -> bool:
    """Tell whether the typesetter is installed."""
    return importlib.util.find_spec(_NAME) is not None


def typeset(
    source: str, inputs: dict[str, str], *, kind: str, standard: str | None = None
) -> bytes:
    """Return a page or a document, the same bytes for the same input.

    Args:
        source: In the typesetter's language; it reads no file.
        inputs: Texts that the source may use; they are never run.
        kind: pdf or png.
        standard: Of the PDF.
    """
    options: dict[str, Any] = {} if standard is None else {"pdf_standards": standard}
    found: bytes = import_module(_NAME).compile(
        source.encode(),
        format=kind,
        ignore_system_fonts=True,
        font_paths=_fonts(),
        sys_inputs=inputs,
        **options,
    )
    return found


@cache
def _fonts() -> list[str]:
    found = importlib.util.find_spec(_FONT_HOME)
    if found is None or found.origin is None:
        return []
    return [str(Path(found.origin).parent / "mpl-data" / "fonts" / "ttf")]
