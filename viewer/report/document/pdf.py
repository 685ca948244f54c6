"""A report as PDF/UA: real text, vectors, bookmarks, tags and alternative text."""

from __future__ import annotations

import json
import re
from importlib.resources import files
from itertools import count
from typing import TYPE_CHECKING, Any, Final

from model3d.wording.said import lines_of
from viewer.figure.files.svg import svg
from viewer.figure.files.typesetter import is_there, missing, typeset
from viewer.report.document.content import (
    Boxes,
    Contents,
    Counts,
    Drawing,
    Heading,
    Pairs,
    Paragraph,
    Points,
    Ruled,
    Signature,
    Table,
)
from viewer.wording.cleaning import clean

if TYPE_CHECKING:
    from viewer.report.document.content import Block, Document

_SOURCE: Final = files("viewer.report.document") / "report.typ"
_PAPERS: Final = {"a4": "a4", "letter": "us-letter"}
_WHAT: Final = "a report as PDF"
_INSTEAD: Final = (
    "or write HTML, open it in a browser and print it to a PDF: "
    "standclear report SCENE -o report.html"
)
_UNBROKEN: Final = re.compile(r"\S{22}(?=\S)")
"""So many signs without a blank get a place where the line may break."""
BREAK: Final = "\N{ZERO WIDTH SPACE}"


def check_typesetter() -> None:
    """See that a PDF can be made here.

    Raises:
        UnusableError: The extra [pdf] is not installed; with what to do instead.
    """
    if not is_there():
        raise missing(_WHAT, _INSTEAD)


def pdf_report(document: Document) -> bytes:
    """Return a report as PDF/UA-1; the same report gives the same bytes.

    Raises:
        UnusableError: The extra [pdf] is not installed.
    """
    check_typesetter()
    numbers = count(1)
    data = {
        "title": clean(document.title),
        "foot": clean(document.foot),
        "paper": _PAPERS[document.paper],
        "blocks": [_block(block, numbers) for block in document.blocks],
    }
    text = json.dumps(data, ensure_ascii=False)
    source = _SOURCE.read_text(encoding="utf-8")
    return typeset(source, {"data": text}, kind="pdf", standard="ua-1")


def _block(block: Block, numbers: count[int]) -> dict[str, Any]:
    found: dict[str, Any]
    match block:
        case Heading():
            found = {
                "kind": "heading",
                "level": block.level,
                "text": _t(block.text),
                "anchor": block.anchor,
                "new_page": block.new_page,
                "listed": block.listed,
            }
        case Paragraph():
            found = {"kind": "paragraph", "text": _t(block.text), "tone": block.tone}
        case Points():
            found = {"kind": "points", "texts": [_t(text) for text in block.texts]}
        case Pairs():
            rows = [[_t(name), _t(value)] for name, value in block.rows]
            found = {"kind": "pairs", "rows": rows}
        case Table():
            found = _table(block)
        case Counts():
            found = {"kind": "counts", "rows": [list(row) for row in block.rows]}
        case Drawing():
            found = {
                "kind": "drawing",
                "svg": svg(block.figure, name=f"drawing-{next(numbers)}"),
                "about": clean(block.figure.about),
                "width": block.figure.width,
                "kept": block.kept,
            }
        case Signature() | Boxes() | Ruled():
            found = _to_fill(block)
        case Contents():
            found = {"kind": "contents", "title": _t(block.title)}
    return found


def _to_fill(block: Signature | Boxes | Ruled) -> dict[str, Any]:
    """Return what is filled in on paper."""
    match block:
        case Signature():
            return {"kind": "signature", "lines": list(block.lines)}
        case Boxes():
            return {"kind": "boxes", "texts": [_t(text) for text in block.texts]}
        case Ruled():
            return {"kind": "ruled", "title": _t(block.title), "lines": block.lines}


def _table(table: Table) -> dict[str, Any]:
    return {
        "kind": "table",
        "title": _t(table.title),
        "heads": [_t(head) for head in table.heads],
        "rows": [
            ["\n".join(map(_t, lines_of(cell))) for cell in row] for row in table.rows
        ],
        "widths": list(table.widths),
        "links": list(table.links),
        "strong": sorted(table.strong),
        "whole": table.whole,
    }


def _t(text: str) -> str:
    return _UNBROKEN.sub(lambda match: match[0] + BREAK, clean(text))
