"""The report: what it says, that nothing in it is run, and what the PDF carries."""

from __future__ import annotations

import ctypes
import re
from dataclasses import replace
from html.parser import HTMLParser
from typing import TYPE_CHECKING

import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from model3d import check
from model3d.wording import bracketed
from tests.viewer.figure.examples import report_of
from tests.viewer.report.cured import cures_in, report_on
from tests.viewer.written_rooms import HOSTILE, room_scene
from viewer.report.document.content import (
    Document,
    Drawing,
    Heading,
    Paragraph,
    Table,
)
from viewer.report.document.cures import Cures
from viewer.report.document.dossier import dossier
from viewer.report.document.html import html_report
from viewer.report.document.pdf import BREAK, pdf_report
from viewer.report.text.mend import PROVED, TIGHTEST

if TYPE_CHECKING:
    from viewer.report.document.content import Paper


class _Words(HTMLParser):
    """Gathers text and tags, as a browser would see them."""

    def __init__(self) -> None:
        super().__init__()
        self.words: list[str] = []
        self.tags: list[str] = []
        self.names: list[str] = []
        self.links: list[str] = []
        self._goes_on = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self._goes_on = tag == "span"  # which starts no new word, nor ends one
        for name, value in attrs:
            self.names.append(name)
            if name == "href":
                self.links.append(value or "")

    def handle_data(self, data: str) -> None:
        if self._goes_on and self.words:
            self.words[-1] += data
        else:
            self.words.append(data)
        self._goes_on = False

    def handle_endtag(self, tag: str) -> None:
        self._goes_on = tag == "span"


def _read(text: str) -> _Words:
    found = _Words()
    found.feed(text)
    return found


def _school(*, every: bool = False) -> Document:
    return report_on("feet-and-inches", every=every)


def _pump_station(*, every: bool = False) -> Document:
    """The pump station; what cures it is another test's."""
    return dossier(
        [report_of("pump-station")], paper="a4", every=every, cured=[Cures()]
    )


@pytest.mark.long
def test_the_first_page_says_what_is_wrong_and_by_which_sentence() -> None:
    words = " ".join(_read(html_report(_pump_station())).words)
    for said in (
        "Harbour pump station, electrical room",
        "NEC 2023 (nec-2023)",
        "Not met (5)",
        "NEC 2023 110.26(A)(1)",
        "depth 1.0 m (3 ft 6 in)",
        "484 mm (1 ft 7 1/16 in) short",
        "Discharge riser of pump 2",
        "Say the supply of TP1",
        "Measured: depth 3950 mm (12 ft 11 1/2 in).",
        "Licence",
        "Energised equipment can kill",
        "verify against the adopted code",
        "over 150 to 600 V to ground, condition 2",
    ):
        assert said in words, said


@pytest.mark.long
def test_what_cures_a_breach_is_what_was_proved() -> None:
    """The remedies of `mend`: the first page tells some, the item's sheet all."""
    cures = cures_in("stored-goods")
    words = [*_read(html_report(report_on("stored-goods"))).words]
    offered = [one.text for mend in cures.mends.values() for one in mend.remedies]
    assert offered
    assert set(offered) <= set(words)
    for mend in cures.mends.values():
        first = mend.remedies[0].text if mend.remedies else mend.why
        assert sum(first in one for one in words) >= 2, first
    assert any(PROVED in one for one in words)


def test_where_nothing_cures_it_the_report_says_so_and_why() -> None:
    (mend,) = cures_in("above-ceiling").mends.values()
    assert mend.remedies == ()
    words = " ".join(_read(html_report(report_on("above-ceiling"))).words)
    assert f"None found. {mend.why}" in words
    assert f"What cures it: none found. {mend.why}" in words
    assert PROVED not in words


@pytest.mark.long
def test_the_tightest_ten_are_told_and_the_one_to_measure_again() -> None:
    found = cures_in("meter-stack-outdoors")
    document = report_on("meter-stack-outdoors")
    (table,) = [
        b for b in document.blocks if isinstance(b, Table) and "nearer" in b.title
    ]
    assert len(found.tightest) == TIGHTEST == len(table.rows)
    assert found.again is None
    report = report_of("meter-stack-outdoors")
    again = replace(found, again=found.tightest[0])
    words = " ".join(
        b.text
        for b in dossier([report], paper="a4", cured=[again]).blocks
        if isinstance(b, Paragraph)
    )
    assert f"Measure again: from {found.tightest[0].thing}" in words
    assert "Measure again" not in " ".join(
        b.text for b in document.blocks if isinstance(b, Paragraph)
    )


@pytest.mark.long
def test_the_figure_of_a_sentence_that_does_not_apply_is_no_source() -> None:
    """NEC 110.26(A)(4) prints 30 in too, for places of limited access."""
    words = " ".join(_read(html_report(_pump_station())).words)
    assert "110.26(A)(1)" in words
    assert "crawl" not in words


@pytest.mark.long
def test_a_sheet_for_every_item_that_has_something_to_say() -> None:
    few = [b.text for b in _pump_station().blocks if isinstance(b, Heading)]
    assert "PCP1, Pump control panel" in few
    assert not any(text.startswith("T1") for text in few)
    every = _pump_station(every=True).blocks
    assert any(isinstance(b, Heading) and b.text.startswith("T1") for b in every)
    drawn = [b for b in _pump_station().blocks if isinstance(b, Drawing)]
    assert len(drawn) >= 6


@pytest.mark.long
def test_a_question_at_every_section_of_a_row_is_one_row_of_the_table() -> None:
    document = dossier([report_of("rows")], paper="a4", cured=[Cures()])
    (table,) = [
        b for b in document.blocks if isinstance(b, Table) and "decided" in b.title
    ]
    (row,) = table.rows
    assert row[0] == "MCC1, MCC2, MCC3, MCC4, MCC5\nMotor control section"
    assert "546 mm (1 ft 9 1/2 in) is free beyond the working space" in row[2]
    assert table.links == ("room-1-MCC1",)


@pytest.mark.long
def test_every_link_leads_somewhere_and_every_anchor_is_one() -> None:
    text = html_report(report_on("feet-and-inches", "one-way-out", paper="letter"))
    anchors = re.findall(r' id="([^"]+)"', text)
    assert len(anchors) == len(set(anchors))
    links = _read(text).links
    assert links
    assert {link.removeprefix("#") for link in links} <= set(anchors)
    assert "size: letter" in text


@pytest.mark.long
def test_a_set_of_rooms_has_a_summary_and_a_table_of_contents() -> None:
    names = ("pump-station", "battery-room", "facing-lineups")
    reports = [report_of(name) for name in names]
    document = dossier(reports, paper="a4", cured=[Cures()] * len(names))
    (summary,) = [
        b for b in document.blocks if isinstance(b, Table) and b.title == "All rooms"
    ]
    assert [row[1] for row in summary.rows] == [f"{name}.yaml" for name in names]
    assert [row[3] for row in summary.rows] == [
        str(report_of(name).counts["not-met"]) for name in names
    ]
    assert "<nav" in html_report(document)


@pytest.mark.long
def test_names_are_text_and_nothing_runs() -> None:
    report = check(room_scene())
    document = dossier([report], paper="a4", every=True)
    text = html_report(document)
    pdf = pypdfium2.PdfDocument(pdf_report(document))
    title = next(pdf.get_toc()).get_title().replace(BREAK, "")
    assert title.endswith(HOSTILE)
    found = _read(text)
    assert HOSTILE in " ".join(found.words)
    assert not {"script", "img", "iframe", "link", "object"} & set(found.tags)
    assert not any(name.startswith("on") for name in found.names)
    assert "default-src 'none'" in text
    assert "http://" not in text.replace("http://www.w3.org/2000/svg", "")


@pytest.mark.long
def test_the_same_scene_gives_the_same_bytes() -> None:
    assert html_report(_school()) == html_report(_school())
    assert pdf_report(_school()) == pdf_report(_school())


@pytest.fixture(scope="module")
def pdf() -> bytes:
    """The report of two rooms as PDF."""
    return pdf_report(_two())


def _two() -> Document:
    reports = [report_of(name) for name in ("pump-station", "battery-room")]
    return dossier(reports, paper="letter", cured=[Cures(), cures_in("battery-room")])


@pytest.mark.long
def test_the_pdf_has_real_text_in_figures_too(pdf: bytes) -> None:
    document = pypdfium2.PdfDocument(pdf)
    words = " ".join(
        page.get_textpage().get_text_range().replace("\r\n", " ") for page in document
    )
    for said in ("Harbour pump station", "484 mm short", "leaf stops at", "Licence"):
        assert said in words, said
    width, height = document[0].get_size()
    assert (round(width), round(height)) == (612, 792)


@pytest.mark.long
@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_no_page_ends_within_a_short_table(paper: Paper) -> None:
    """The head of a table that goes on is printed again: each is counted.

    A row alone below a head, or above the rest of a page, is what typesetters avoid
    (common practice).
    """
    report = [report_of("pump-station"), report_of("battery-room")]
    document = dossier(report, paper=paper, every=True, cured=[Cures(), Cures()])
    tables = [one for one in document.blocks if isinstance(one, Table)]
    judged = [one for one in tables if "Verdict" in one.heads]
    assert all(one.whole for one in judged)
    pages = pypdfium2.PdfDocument(pdf_report(document))
    words = " ".join(one.get_textpage().get_text_range() for one in pages)
    assert words.count("Verdict") == len(judged)
    assert html_report(document).count('<table class="whole">') == sum(
        one.whole for one in tables
    )


@pytest.mark.long
def test_a_long_table_goes_on_and_holds_every_row() -> None:
    rows = tuple((f"row {n}", "long words " * 40) for n in range(60))
    table = Table("Long", ("Name", "Words"), rows, (1.0, 3.0))
    assert not table.whole
    assert replace(table, rows=rows[:2]).whole
    document = _school()
    pages = pypdfium2.PdfDocument(pdf_report(replace(document, blocks=(table,))))
    words = " ".join(one.get_textpage().get_text_range() for one in pages)
    assert len(pages) > 1
    assert all(f"row {n}" in words for n in range(60))


@pytest.mark.long
def test_the_pdf_has_bookmarks(pdf: bytes) -> None:
    titles = [one.get_title() for one in pypdfium2.PdfDocument(pdf).get_toc()]
    assert "Harbour pump station, electrical room" in titles
    assert "PCP1, Pump control panel" in titles


@pytest.mark.long
def test_the_pdf_is_tagged_and_its_figures_have_words(pdf: bytes) -> None:
    assert b"pdfuaid" in pdf
    document = pypdfium2.PdfDocument(pdf)
    assert pdfium.FPDFCatalog_IsTagged(document)
    alternatives = [words for page in document for words in _alternatives(page)]
    assert any("RW1 is 516 mm" in words for words in alternatives)
    drawn = sum(isinstance(block, Drawing) for block in _two().blocks)
    assert len(alternatives) == drawn


def _alternatives(page: pypdfium2.PdfPage) -> list[str]:
    """Return the alternative texts in the tags of a page."""
    tree = pdfium.FPDF_StructTree_GetForPage(page)
    found: list[str] = []
    left = [
        pdfium.FPDF_StructTree_GetChildAtIndex(tree, n)
        for n in range(pdfium.FPDF_StructTree_CountChildren(tree))
    ]
    while left:
        element = left.pop()
        size = pdfium.FPDF_StructElement_GetAltText(element, None, 0)
        if size > 2:
            buffer = ctypes.create_string_buffer(size)
            pdfium.FPDF_StructElement_GetAltText(element, buffer, size)
            found.append(buffer.raw.decode("utf-16-le").rstrip("\0"))
        for n in range(pdfium.FPDF_StructElement_CountChildren(element)):
            child = pdfium.FPDF_StructElement_GetChildAtIndex(element, n)
            if child:
                left.append(child)
    return found


def test_what_is_in_brackets_stays_on_one_line_with_a_decimal_too() -> None:
    """3 ft is 914.4 mm (25.4 mm to the inch exactly, ISO 80000-3)."""
    rows = ((bracketed(("3 ft", "914.4 mm")),),)
    table = Table("Sizes", ("Required",), rows, (1.0,))

    assert '3 ft <span class="one">(914.4 mm)</span>' in html_report(
        Document("Annex", "Annex", "a4", (table,))
    )
