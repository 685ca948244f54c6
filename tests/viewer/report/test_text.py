"""Reports as text: laid out for a window, safe on a terminal, true to the judgement.

The judgements are invented, see ``judged``.
"""

from __future__ import annotations

import io
import re
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len
from rich.console import Console

from model3d import Assumption, Report
from model3d.wording import length, lengths
from tests.viewer.report.invented import (
    ASKED,
    CLEAR,
    DEPTH,
    EXCEPTION,
    OPENED,
    REACH,
    SWING,
    TIGHT,
    prose,
    report,
    reports_text,
    text,
)
from viewer.output.terminal import PLAIN_WIDTH, wants_colour, width_of
from viewer.report.text.table import LONGEST_LINE
from viewer.wording.cleaning import clean
from viewer.wording.words import CAUTION

WIDTHS = (60, 80, 100, 160, 200)
ALL = (DEPTH, REACH, OPENED, SWING, ASKED, replace(ASKED, tier=1), CLEAR)


def test_a_metric_report() -> None:
    whole = replace(report(*ALL), assumed=(Assumption("T1", "No door is said."),))

    assert reports_text([whole]) == (
        """\
Annex
annex.yaml, nec-2023: 3 not met, 2 open, 2 met

NOT MET (3)
Item  Requirement    Required        Provided         Short by         In the way
MSB   working-space  900 mm          350 mm           550 mm           BOX
      depth          (3 ft)          (1 ft 1 3/4 in)  (1 ft 9 5/8 in)
      NEC 2023 110.26(A)(1): BOX is 350 mm ahead of the front.

LP1   working-space  at most 150 mm  170 mm           20 mm too far    """
        """WW1 170 mm past the front
      reach          (6 in)          (6 11/16 in)     (13/16 in)
      NEC 2023 110.26(A)(3): WW1 reaches 170 mm past the front.

MSB   door-swing     90 degrees      25.94 degrees    64.06 degrees    BOX
      leaf 2
      NEC 2023 110.26(A)(2): BOX stops the leaf at 25.9 degrees.

OPEN (2)
[ ] R1 battery-top-clearance: Say the battery maker's clearance above the cells of R1
    (top_clearance). Measured: tier 1 clearance 280 mm (11 in), tier 2 clearance """
        """280 mm (11 in).
    [NEC 2023 480.10(D)]

MET (2)
door-swing    MSB (1 of 2)
working-space T1

ASSUMED
- T1: No door is said.

Energised equipment can kill: distances alone do not make work on it safe.
The authority having jurisdiction decides by local code; a licensed person signs.
"""
    )


def test_an_inch_pound_report_in_a_narrow_window() -> None:
    reach = replace(REACH, printed={"reach": ("6 in", "150 mm")})
    assert text(reach, SWING, units="in", width=60) == (
        """\
Annex
annex.yaml, nec-2023: 2 not met

NOT MET (2)
LP1 working-space, reach
  Required    at most 6 in (150 mm)
  Provided    6 11/16 in (170 mm)
  Short by    13/16 in too far (20 mm)
  In the way  WW1 6 11/16 in past the front
  NEC 2023 110.26(A)(3): WW1 reaches 170 mm past the front.

MSB door-swing
  Required    90 degrees
  Provided    25.94 degrees
  Short by    64.06 degrees
  In the way  BOX
  NEC 2023 110.26(A)(2): BOX stops the leaf at 25.9 degrees.

Energised equipment can kill: distances alone do not make
work on it safe.
The authority having jurisdiction decides by local code; a
licensed person signs.
"""
    )


def test_between_narrow_and_wide_the_last_column_moves_into_the_sentence() -> None:
    found = text(DEPTH, width=76)

    assert "Short by\n" in found
    assert "\n      In the way: BOX. NEC 2023 110.26(A)(1): BOX is" in found


def test_a_report_with_nothing_in_it_says_so() -> None:
    assert "nothing was judged, no item needs a clear space" in text()


def test_what_has_no_size_has_its_reason() -> None:
    sizeless = replace(DEPTH, required={}, provided={}, intrusions=())

    for width in WIDTHS:
        found = " ".join(text(sizeless, width=width).split())
        assert "MSB working-space NEC 2023 110.26(A)(1): BOX is 350 mm ahead" in found


def test_sections_that_are_empty_are_left_out() -> None:
    found = text(CLEAR)

    assert "MET (1)\nworking-space T1\n" in found
    assert not {"NOT MET", "OPEN", "ASSUMED"} & set(
        re.findall("[A-Z]{3,}[ A-Z]*", found)
    )


def test_many_that_are_met_are_counted() -> None:
    found = text(*(replace(CLEAR, subject=f"LP{number}") for number in range(100)))

    assert "MET (100)" in found
    assert "LP59, and 40 more" in " ".join(found.split())


def test_what_is_assumed_alike_is_said_once() -> None:
    what = "No door is said."
    alike = replace(
        report(CLEAR), assumed=(Assumption("A", what), Assumption("B", what))
    )

    assert "- A, B: No door is said.\n" in reports_text([alike])


def test_several_reports_end_with_their_sum_and_one_caution() -> None:
    found = reports_text([report(DEPTH, scene="One"), report(CLEAR, scene="Two")])

    assert "2 scenes, 1 of them with something not met: 1 not met, 1 met\n" in found
    assert found.count(CAUTION[0]) == 1
    assert "2 scenes, nothing not met: 2 met" in reports_text([report(CLEAR)] * 2)


def too_wide(found: str, width: int) -> list[str]:
    return [line for line in found.split("\n") if cell_len(line) > width]


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("units", ["mm", "ft"])
def test_no_line_is_wider_than_the_window(width: int, units: str) -> None:
    long = replace(DEPTH, subject="X" * 100, reason="because " * 300)
    wide = replace(
        REACH, subject="\N{CJK UNIFIED IDEOGRAPH-6F22}" * 90, reason="y" * 500
    )

    found = text(*ALL, long, wide, width=width, units=units)

    assert not too_wide(found, width)
    assert "X" * 16 in found


@pytest.mark.long
@given(st.text(max_size=300), st.sampled_from(WIDTHS))
def test_no_text_breaks_the_layout(words: str, width: int) -> None:
    hostile = [
        replace(one, subject=words or "x", reason=words, citation=words)
        for one in (DEPTH, ASKED, CLEAR)
    ]

    made = Report(words, words, "nec-2023", tuple(hostile), (Assumption(words, words),))

    assert not too_wide(reports_text([made], width=width), width)


def test_prose_stays_readable_in_a_very_wide_window() -> None:
    found = text(replace(DEPTH, reason="because " * 50), ASKED, width=300)

    assert not too_wide(found, LONGEST_LINE)


def test_colour_is_added_only_where_asked_for_and_changes_no_word() -> None:
    coloured = reports_text([report(*ALL)], colour=True)
    # ECMA-48 5.4, 8.3.117: SGR is ESC [ parameters m.
    words = re.sub(r"\x1b\[[0-9;]*m", "", coloured)

    assert words != coloured
    plain = text(*ALL)
    assert "\x1b" not in plain
    assert [line.rstrip() for line in words.split("\n")] == plain.split("\n")


def test_plain_text_is_ascii() -> None:
    assert text(*ALL).isascii()


@pytest.mark.parametrize(
    ("written", "shown"),
    [
        ("Annex\n B\t2", "Annex B 2"),
        ("\x1b[31mred\x07", "?[31mred?"),
        ("\x9b2J", "?2J"),
        ("LP\u202e1PL\u2066", "LP1PL"),
        ("\ud800", "?"),
        ("0 \N{SOFT HYPHEN}", "0"),
        ("M\N{LATIN SMALL LETTER U WITH DIAERESIS}ller", "M\xfcller"),
    ],
)
def test_what_a_terminal_may_obey_is_taken_out(written: str, shown: str) -> None:
    """ECMA-48 control functions; Unicode bidirectional controls (UAX 9)."""
    assert clean(written) == shown
    found = reports_text([report(replace(DEPTH, subject=written), scene=written)])
    assert found.startswith(f"{shown}\n")
    assert f"\n{shown}" in found.partition("Item")[2]


@pytest.mark.long
@given(st.text())
def test_cleaned_text_is_one_line_and_stays_clean(words: str) -> None:
    once = clean(words)

    assert len(once.splitlines()) <= 1
    assert "\x1b" not in once
    assert clean(once) == once


def test_long_text_is_shortened() -> None:
    assert clean("x" * 50, 10) == "xxxxxxx..."
    assert clean("x" * 10, 10) == "x" * 10


LENGTHS = [
    # 30 in is 762 mm, and 6 1/2 ft is 1981.2 mm: NEC 110.26(A) prints both.
    (0.762, "mm", "762 mm", "2 ft 6 in"),
    (0.762, "ft", "2 ft 6 in", "762 mm"),
    (1.9812, "m", "1981.2 mm", "6 ft 6 in"),
    (0.0, "in", "0 in", "0 mm"),
    # What is short by too little to be written is short all the same.
    (0.0005, "in", "under 1/16 in", "0.5 mm"),
    (0.00002, "mm", "under 0.1 mm", "under 1/16 in"),
]


@pytest.mark.parametrize(("metres", "units", "first", "second"), LENGTHS)
def test_lengths_in_both_systems(
    metres: float, units: str, first: str, second: str
) -> None:
    assert lengths(metres, units)[0] == first
    assert lengths(metres, units)[1] == second
    assert length(metres, units) == f"{first} ({second})"


def test_exceptions_are_named_where_something_is_met_by_one() -> None:
    allowed = [
        replace(CLEAR, subject=name, exception=EXCEPTION) for name in ("LP1", "LP2")
    ]

    found = text(*allowed, CLEAR)

    assert "working-space LP1, LP2, T1\n" in found
    assert f"Met by an exception:\n- LP1, LP2 working-space: {EXCEPTION}\n" in found
    assert "exception" not in text(CLEAR)
    assert f"Exception: {EXCEPTION}." in prose(replace(TIGHT, exception=EXCEPTION))


def test_what_is_from_memory_is_listed_once_a_report() -> None:
    cited = ("NEC 2023 110.26(A)(1)", "NEC 2023 110.26(B)")

    found = reports_text([replace(report(DEPTH, CLEAR), unread=cited)])

    line = f"From memory: verify against the adopted code: {', '.join(cited)}\n"
    assert found.count("From memory") == 1
    assert line in found
    assert "From memory" not in text(DEPTH)


def test_json_tells_exceptions_and_parts_only_where_there_are_any() -> None:
    shelf = replace(DEPTH.intrusions[0], part="its upper shelf")
    allowed = replace(CLEAR, exception=EXCEPTION, intrusions=(shelf,))

    plain, told = report(DEPTH, allowed).document()["judgements"]

    assert "exception" not in plain
    assert "part" not in plain["intrusions"][0]
    assert told["exception"] == EXCEPTION
    assert told["intrusions"][0]["part"] == "its upper shelf"


class Terminal(io.StringIO):
    """A stream that says it is a terminal."""

    def isatty(self) -> bool:
        """Say so."""
        return True


def test_colour_is_wanted_on_a_terminal_unless_somebody_objects(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """The convention of no-color.org: set and not empty means no colour."""
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.delenv("NO_COLOR", raising=False)
    # An old Windows console obeys no escape sequences.
    assert wants_colour(Terminal()) is not Console(file=Terminal()).legacy_windows
    assert not wants_colour(io.StringIO())
    assert not wants_colour(None)
    monkeypatch.setenv("NO_COLOR", "1")
    assert not wants_colour(Terminal())


def test_a_pipe_stays_plain_though_colour_is_forced_elsewhere(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("FORCE_COLOR", "1")
    assert not wants_colour(io.StringIO())


def test_the_width_is_that_of_the_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "72")
    assert width_of(Terminal()) == 72
    assert width_of(io.StringIO()) == PLAIN_WIDTH
    assert width_of(None) == PLAIN_WIDTH
