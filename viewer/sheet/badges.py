"""The sign of a judgement: the same at its place and in the list."""

from __future__ import annotations

from typing import TYPE_CHECKING

from viewer.stage import palette

if TYPE_CHECKING:
    from viewer.sheet.letters import WrittenPicture
    from viewer.sheet.sign_places import Rectangle


def badge(
    sheet: WrittenPicture, kind: str, box: Rectangle, text: str, size: float
) -> None:
    """Draw a badge: filled for what is not met, a ring for what is open.

    What is met has a faint ring.
    """
    bad = kind == "not-met"
    rim = palette.FAINT_INK if kind == "met" else palette.INK
    radius = (box.bottom - box.top) / 2
    sheet.box(box.wider(1.5), palette.PAPER, radius=radius + 1.5)
    sheet.box(
        box,
        palette.INTRUSION if bad else palette.PAPER,
        edge=palette.INTRUSION_EDGE if bad else rim,
        width=2.0 if kind == "open" else 1.2,
        radius=radius,
    )
    colour = palette.PAPER if bad else rim
    x, y = box.middle
    sheet.text((x, y + 0.36 * size), text, size, colour=colour, bold=True, place="ms")
