"""A report as HTML: one file, no script, no network; it prints as well as it reads."""

from __future__ import annotations

from html import escape
from importlib.resources import files
from itertools import count
from typing import TYPE_CHECKING, Final

from model3d.wording.said import Other, lines_of, parts_of
from viewer.figure.files.svg import svg
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
    from collections.abc import Iterator

    from viewer.report.document.content import Block, Document

STYLE: Final = files("viewer.report.document") / "report.css"
_PAPERS: Final = {"a4": "A4", "letter": "letter"}


def html_report(document: Document) -> str:
    """Return a report as one HTML file; the same report gives the same text."""
    style = STYLE.read_text(encoding="utf-8").replace(
        "size: A4", f"size: {_PAPERS[document.paper]}"
    )
    numbers = count(1)
    body = "\n".join(
        part for block in document.blocks for part in _block(block, document, numbers)
    )
    return f"""<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" \
content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{_t(document.title)}</title>
<style>
{style}</style>
</head>
<body>
<main>
{body}
</main>
</body>
</html>
"""


def _block(block: Block, document: Document, numbers: count[int]) -> Iterator[str]:
    match block:
        case Heading():
            new = ' class="page"' if block.new_page else ""
            name = escape(block.anchor)
            level = block.level
            yield f'<h{level} id="{name}"{new}>{_t(block.text)}</h{level}>'
        case Paragraph():
            yield f'<p class="{block.tone}">{_t(block.text)}</p>'
        case Points():
            items = "".join(f"<li>{_t(text)}</li>" for text in block.texts)
            yield f"<ul>{items}</ul>"
        case Pairs():
            rows = "".join(
                f"<div><dt>{_t(name)}</dt><dd>{_t(value)}</dd></div>"
                for name, value in block.rows
            )
            yield f'<dl class="facts">{rows}</dl>'
        case Table():
            yield from _table(block)
        case Counts():
            rows = "".join(
                f"<div><dd>{number}</dd><dt>{_t(word)}</dt></div>"
                for word, number in block.rows
            )
            yield f'<dl class="counts">{rows}</dl>'
        case Drawing():
            drawn = svg(block.figure, name=f"drawing-{next(numbers)}")
            kept = ' class="kept"' if block.kept else ""
            yield f"<figure{kept}>{drawn}</figure>"
        case Signature() | Boxes() | Ruled():
            yield _to_fill(block)
        case Contents():
            yield from _contents(block, document)


def _to_fill(block: Signature | Boxes | Ruled) -> str:
    """Return what is filled in on paper."""
    match block:
        case Signature():
            rows = "".join(
                f"<div><dt>{_t(one)}</dt><dd></dd></div>" for one in block.lines
            )
            return f'<dl class="signature">{rows}</dl>'
        case Boxes():
            items = "".join(f"<li>{_t(text)}</li>" for text in block.texts)
            return f'<ul class="boxes">{items}</ul>'
        case Ruled():
            lines = "<div></div>" * block.lines
            return f'<div class="ruled"><p>{_t(block.title)}</p>{lines}</div>'


def _table(table: Table) -> Iterator[str]:
    whole = sum(table.widths)
    kept = ' class="whole"' if table.whole else ""
    yield f"<table{kept}><caption>{_t(table.title)}</caption><colgroup>"
    for width in table.widths:
        yield f'<col style="width:{100 * width / whole:.2f}%">'
    heads = "".join(f'<th scope="col">{_t(head)}</th>' for head in table.heads)
    yield f"</colgroup><thead><tr>{heads}</tr></thead><tbody>"
    for number, row in enumerate(table.rows):
        cells = []
        for place, cell in enumerate(row):
            words = "<br>".join(_cell(line) for line in lines_of(cell))
            link = table.links[number] if table.links and place == 0 else ""
            words = f'<a href="#{escape(link)}">{words}</a>' if link else words
            strong = ' class="heavy"' if place in table.strong else ""
            cells.append(f"<td{strong}>{words}</td>")
        yield f"<tr>{''.join(cells)}</tr>"
    yield "</tbody></table>"


def _cell(words: str) -> str:
    """Return words of a table; a length in brackets stays on one line."""
    return "".join(
        f'<span class="one">{escape(part)}</span>'
        if isinstance(part, Other)
        else escape(part)
        for part in parts_of(clean(words))
    )


def _contents(block: Contents, document: Document) -> Iterator[str]:
    yield f'<nav aria-label="{escape(block.title)}"><h2>{_t(block.title)}</h2><ol>'
    for one in document.blocks:
        if isinstance(one, Heading) and one.listed:
            kind = "room" if one.level == 1 else "part"
            yield (
                f'<li class="{kind}"><a href="#{escape(one.anchor)}">'
                f"{_t(one.text)}</a></li>"
            )
    yield "</ol></nav>"


def _t(text: str) -> str:
    return escape(clean(text))
