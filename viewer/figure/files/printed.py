"""A figure as PDF or as PNG: the same vectors, set by the typesetter."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from viewer.figure.files.svg import svg
from viewer.figure.files.typesetter import is_there, missing, typeset
from viewer.wording.cleaning import clean

if TYPE_CHECKING:
    from viewer.figure.drafting.drawing import Figure

_SOURCE: Final = """\
#let width = float(sys.inputs.width) * 1mm
#set document(title: sys.inputs.title, date: none)
#set text(lang: "en", font: "DejaVu Sans")
#set page(width: width, height: float(sys.inputs.height) * 1mm, margin: 0mm)
#image(bytes(sys.inputs.svg), format: "svg", alt: sys.inputs.about, width: width)
"""
_INSTEAD: Final = "an SVG needs nothing, and any browser prints it"


def printed(figure: Figure, kind: str) -> bytes:
    """Return a figure as PDF (with real text and its meaning in words) or PNG.

    Args:
        figure: What is drawn.
        kind: pdf or png.

    Raises:
        UnusableError: The extra [pdf] is not installed.
    """
    check_printer(kind)
    inputs = {
        "svg": svg(figure),
        "width": f"{figure.width}",
        "height": f"{figure.height}",
        "title": clean(figure.title),
        "about": clean(figure.about),
    }
    standard = "ua-1" if kind == "pdf" else None
    return typeset(_SOURCE, inputs, kind=kind, standard=standard)


def check_printer(kind: str) -> None:
    """See that a PDF or a PNG can be made here.

    Raises:
        UnusableError: The extra [pdf] is not installed; with what to do instead.
    """
    if not is_there():
        what = f"a figure as {kind.upper()}"
        raise missing(what, _INSTEAD)
