"""Pictures as one moving file: GIF, WebP or animated PNG."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Final

from PIL import Image

from viewer.stage import palette

if TYPE_CHECKING:
    from collections.abc import Sequence

FORMATS: Final = {".gif": "GIF", ".webp": "WEBP", ".png": "PNG"}
"""Formats by the ending of the file."""
_COLOURS: Final = 160
"""Of a GIF, which has one palette for all its frames."""
_SAMPLED: Final = 8
"""Frames the palette is made from, spread over the whole film."""


def encoded(images: Sequence[Image.Image], shown: Sequence[int], kind: str) -> bytes:
    """Return a film's bytes; a GIF's frames share one palette, so nothing flickers.

    Args:
        images: At least one.
        shown: Milliseconds each of them is shown.
        kind: Of the formats' names.
    """
    if kind == "GIF":
        shared = _shared_palette(images)
        images = [
            image.quantize(palette=shared, dither=Image.Dither.NONE) for image in images
        ]
    stream = io.BytesIO()
    images[0].save(
        stream,
        kind,
        save_all=True,
        append_images=images[1:],
        duration=list(shown),
        loop=0,
        **({"optimize": True} if kind == "GIF" else {}),
    )
    return stream.getvalue()


def _shared_palette(images: Sequence[Image.Image]) -> Image.Image:
    """Return a palette of the commonest colours, and of those that carry a meaning.

    What is in the way is often small; by its size alone it would lose its colour.
    """
    common = _montage(images).quantize(_COLOURS, dither=Image.Dither.NONE).getpalette()
    strong = [
        channel
        for colour in palette.STRONG
        for ground in (palette.PAPER, palette.EDGE)
        for share in (0.0, 0.2, 0.4)
        for channel in palette.channels(palette.mixed(colour, ground, share))
    ]
    shared = Image.new("P", (1, 1))
    shared.putpalette([*strong, *(common or [])[: 3 * _COLOURS]])
    return shared


def _montage(images: Sequence[Image.Image]) -> Image.Image:
    """Return some frames in one picture, the last among them: new colours count."""
    count = min(_SAMPLED, len(images))
    picks = [
        images[round(n * (len(images) - 1) / max(count - 1, 1))] for n in range(count)
    ]
    width, height = picks[0].size
    whole = Image.new("RGB", (width, height * count))
    for n, image in enumerate(picks):
        whole.paste(image, (0, n * height))
    return whole
