"""Measure whether the words of a figure can be read, by another library's shapes."""

from __future__ import annotations

from itertools import combinations
from typing import TYPE_CHECKING

import shapely

from viewer.figure.drafting.strokes import box_of, strokes, surfaces

if TYPE_CHECKING:
    from collections.abc import Sequence

    from viewer.figure.drafting.drawing import Mark, Text


def touching(texts: Sequence[Text], marks: Sequence[Mark]) -> list[str]:
    """Return a line for each text that touches a line, a surface or another text."""
    lines = shapely.STRtree([shapely.LineString(a) for b in marks for a in strokes(b)])
    filled = shapely.STRtree([shapely.Polygon(a) for b in marks for a in surfaces(b)])
    boxes = [shapely.box(*box_of(text)) for text in texts]
    found = []
    for text, box in zip(texts, boxes, strict=True):
        found += [
            f"{text.text!r} touches {one.geometries[number].wkt}"
            for one in (lines, filled)
            for number in one.query(box, predicate="intersects")
        ]
    return found + [
        f"{one.text!r} touches {other.text!r}"
        for (one, box), (other, beside) in combinations(
            zip(texts, boxes, strict=True), 2
        )
        if box.intersects(beside) and not box.touches(beside)
    ]
