"""Reports as text: laid out for a window, safe on a terminal, true to the judgement.

Sizes that were measured are plain arithmetic: 25.4 mm to the inch exactly (ISO
80000-3). The figures 900 mm (3 ft) and 150 mm (6 in) stand as the NEC prints them.
Which sentence of 110.26(A) speaks of which size, (1) depth, (2) width, (3) height, is
the published order of the NEC.
"""

from __future__ import annotations

import io
import re
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len
from rich.console import Console

from model3d import Assumption, Intrusion, Judgement, Report, Scene, check
from viewer.cleaning import clean
from viewer.lengths import both, other, own
from viewer.rows import LONGEST_LINE, not_met_rows
from viewer.shortfall import in_the_way, names_in_the_way, shortfall
from viewer.terminal import PLAIN_WIDTH, wants_colour, width_of
from viewer.text import reports_text
from viewer.words import CAUTION

if TYPE_CHECKING:
    from collections.abc import Sequence

DEPTH = Judgement(
    requirement="working-space",
    subject="MSB",
    verdict="not-met",
    citation="NEC 2023 110.26(A)(1)",
    reason="BOX is 350 mm ahead of the front.",
    required={"depth": 0.9, "width": 2.4, "height": 2.15},
    provided={"depth": 0.35},
    printed={"depth": ("900 mm", "3 ft")},
    margin=-0.55,
    condition=1,
    intrusions=(Intrusion("BOX", 0.15, (1.25, 2.75, 0.0), (1.75, 3.25, 0.6)),),
)
REACH = Judgement(
    requirement="working-space",
    subject="LP1",
    verdict="not-met",
    citation="NEC 2023 110.26(A)(3)",
    reason="WW1 reaches 170 mm past the front.",
    short="reach",
    required={"reach": 0.15},
    provided={"reach": 0.17},
    printed={"reach": ("150 mm", "6 in")},
    limit={"reach": "at-most"},
    margin=-0.02,
    intrusions=(
        Intrusion(
            "WW1", 0.002, (0.3, 1.4, 1.85), (0.32, 2.1, 2.0), reach=0.17, allowed=0.15
        ),
    ),
)
SWING = Judgement(
    requirement="door-swing",
    subject="MSB",
    verdict="not-met",
    citation="NEC 2023 110.26(A)(2)",
    reason="BOX stops the leaf at 25.9 degrees.",
    required={"angle": 90.0},
    provided={"angle": 25.94},
    margin=-64.06,
    leaf=1,
    intrusions=DEPTH.intrusions,
)
OPENED = replace(SWING, verdict="met", provided={"angle": 90.0}, leaf=0, intrusions=())
ASKED = Judgement(
    requirement="battery-top-clearance",
    subject="R1",
    verdict="open",
    citation="NEC 2023 480.10(D)",
    reason="Say the battery maker's clearance above the cells of R1 (top_clearance).",
    provided={"clearance": 0.28},
    tier=0,
)
CLEAR = Judgement(
    requirement="working-space",
    subject="T1",
    verdict="met",
    citation="NEC 2023 110.26(A)(1)",
    reason="Nothing is in the way.",
)


def report(*judgements: Judgement, scene: str = "Annex", units: str = "mm") -> Report:
    """Return an invented report of a scene in some units."""
    made = Report(scene, "annex.yaml", "nec-2023", judgements)
    empty = {"title": "Annex", "units": units, "rules": "nec-2023", "use": "outdoor"}
    return replace(made, arrangement=check(Scene.model_validate(empty)).arrangement)


def text(*judgements: Judgement, width: int = PLAIN_WIDTH, units: str = "mm") -> str:
    return reports_text([report(*judgements, units=units)], width=width)


def prose(*judgements: Judgement) -> str:
    """Return a report as one line: where it breaks is tested elsewhere."""
    return " ".join(text(*judgements).split())


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


def test_what_stands_in_its_own_way_is_called_so() -> None:
    shelf, cells = (replace(DEPTH.intrusions[0], item="R1") for _ in range(2))

    way = in_the_way(replace(ASKED, intrusions=(shelf, cells)), "clearance", "mm")

    assert way == ("itself",), "once, though two parts of it are in the way"


def test_which_part_of_it_stands_in_its_own_way_is_said() -> None:
    shelf = replace(DEPTH.intrusions[0], item="R1", part="its upper shelf")
    cells = replace(shelf, part="the cells above")
    own = replace(ASKED, intrusions=(shelf, cells, shelf, DEPTH.intrusions[0]))

    assert in_the_way(own, "clearance", "mm") == (
        "BOX",
        "its upper shelf",
        "the cells above",
    )
    assert names_in_the_way(own) == {
        "R1": "its upper shelf and the cells above",
        "BOX": "BOX",
    }


def test_what_reaches_too_far_is_said_before_what_takes_less() -> None:
    both_ways = replace(REACH, intrusions=DEPTH.intrusions + REACH.intrusions)

    (row,) = not_met_rows(report(both_ways))

    assert row.requirement == ("working-space", "reach")
    assert row.way == ("WW1 170 mm past the front", "BOX")


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


def test_many_things_in_the_way_are_counted() -> None:
    boxes = tuple(replace(DEPTH.intrusions[0], item=f"B{n}") for n in range(9))

    (row,) = not_met_rows(report(replace(DEPTH, intrusions=boxes)))

    assert row.way == ("B0", "B1", "B2", "and 6 more")


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
    assert own(metres, units) == first
    assert other(metres, units) == second
    assert both(metres, units) == f"{first} ({second})"


def found_size(provided: dict[str, float]) -> tuple[str, float] | None:
    found = shortfall(replace(DEPTH, provided=provided))
    return None if found is None else (found.size, round(found.by, 6))


@pytest.mark.parametrize(
    ("provided", "size"),
    [
        # Something stands before the whole front: no width, no height at full depth.
        ({"depth": 0.35}, ("depth", 0.55)),
        # Enough width is no shortfall, though some is left.
        ({"depth": 0.35, "width": 2.5}, ("depth", 0.55)),
        ({"width": 2.5}, None),
        ({}, None),
    ],
)
def test_the_size_that_is_short(
    provided: dict[str, float], size: tuple[str, float] | None
) -> None:
    assert found_size(provided) == size


def test_a_size_of_which_nothing_is_clear_is_told_as_none() -> None:
    touching = replace(DEPTH, short="depth", provided={})

    (row,) = not_met_rows(report(touching))

    assert [own for own, _ in row.sizes] == ["900 mm", "none", "900 mm"]


@pytest.mark.parametrize(
    ("requirement", "size", "by"),
    [
        ("working-space", "reach", "20 mm too far"),
        ("handle-height", "height", "20 mm too high"),
        ("draw-out", "width", "20 mm too much"),
    ],
)
def test_a_greatest_figure_is_told_as_one(requirement: str, size: str, by: str) -> None:
    over = replace(
        REACH,
        requirement=requirement,
        short="",
        required={size: 0.15},
        provided={size: 0.17},
        printed={size: ("150 mm", "6 in")},
        limit={size: "at-most"},
        intrusions=(),
    )

    (row,) = not_met_rows(report(over))

    assert row.sizes[0] == ("at most 150 mm", "(6 in)")
    assert row.sizes[1] == ("170 mm", "(6 11/16 in)")
    assert row.sizes[2] == (by, "(13/16 in)")
    kept = replace(over, provided={size: 0.1})
    assert shortfall(kept) is None, "less than the most is not short"


@pytest.mark.parametrize(
    ("requirement", "size", "said"),
    [
        ("working-space", "reach", "reach"),
        ("rear-access", "depth", "depth, rear"),
        # The requirement's own name says it.
        ("handle-height", "height", "rear"),
        ("maker-clearance", "clearance", "rear"),
    ],
)
def test_a_row_says_which_size_and_which_side(
    requirement: str, size: str, said: str
) -> None:
    side = None if size == "reach" else "rear"
    short = replace(
        DEPTH,
        requirement=requirement,
        side=side,
        required={size: 0.9},
        provided={size: 0.8},
    )

    (row,) = not_met_rows(report(short))

    assert row.requirement == (requirement, said)


def test_a_figure_that_a_book_prints_in_one_system_stands_alone() -> None:
    alone = replace(DEPTH, printed={"depth": ("36 in",)})

    (row,) = not_met_rows(report(alone))

    assert row.sizes[0] == ("36 in", "")


TIGHT = replace(
    DEPTH,
    verdict="open",
    provided={"depth": 0.88},
    short="depth",
    reason="BOX is 880 mm ahead of the front. Measure again.",
    missing="Measure again.",
)
UNSAID = replace(
    TIGHT,
    provided={"depth": 2.0, "width": 3.0, "height": 2.5},
    short="",
    reason="Say the supply of MSB: the depth depends on it.",
    missing="Say the supply of MSB: the depth depends on it.",
    intrusions=(),
)


def test_what_is_open_says_which_size_and_what_was_measured() -> None:
    assert (
        "[ ] MSB working-space depth: BOX is 880 mm ahead of the front. Measure "
        "again. Measured: depth 880 mm (2 ft 10 5/8 in) of 900 mm (3 ft). "
        "[NEC 2023 110.26(A)(1)]"
    ) in prose(TIGHT)


def test_a_figure_that_is_not_known_yet_is_not_told_as_required() -> None:
    found = prose(UNSAID)

    assert "depends on it. Measured: depth 2000 mm (6 ft 6 3/4 in). [NEC" in found


def test_of_what_is_clear_the_size_with_least_to_spare_is_told() -> None:
    # 0.02 of depth is left, 0.1 of width, 0.05 of height.
    clear = replace(
        UNSAID,
        provided={"depth": 0.92, "width": 2.5, "height": 2.2},
        missing="Is MSB service equipment?",
        reason="Is MSB service equipment?",
    )

    assert "Measured: depth 920 mm (3 ft 1/4 in) of 900 mm (3 ft)." in prose(clear)


def test_what_is_open_names_what_is_in_the_way_unless_the_reason_does() -> None:
    told = replace(TIGHT, reason="Measure again.")

    assert "In the way: BOX." in prose(told)
    assert "In the way" not in prose(TIGHT)


def test_reasons_that_differ_are_told_by_what_is_missing() -> None:
    tiers = [
        replace(ASKED, missing="Say the clearance.", reason=f"{n}. Say it.", tier=n)
        for n in range(2)
    ]

    found = prose(*tiers)

    assert "clearance: Say the clearance. Measured: tier 1 clearance 280 mm" in found
    unmeasured = prose(*(replace(one, provided={}) for one in tiers))
    assert "battery-top-clearance, tier 1, tier 2: Say the clearance. [" in unmeasured


def test_angles_that_were_measured_are_written_in_plain_letters() -> None:
    turned = replace(SWING, verdict="open", missing="Measure again.")

    found = prose(turned)

    assert "Measured: angle 25.9 degrees of 90 degrees." in found
    assert found.isascii()


EXCEPTION = "NEC 2023 110.26(A)(3) Exception No. 2: existing dwellings"


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


def room(*others: dict[str, Any]) -> Report:
    """Check a panelboard with other things in a room, drawn in millimetres."""
    panel = {
        "id": "LP1",
        "kind": "panelboard",
        "size": [500, 150, 900],
        "place": {"wall": "north", "along": 2000, "bottom": 900},
        "supply": {"system": "208Y/120"},
        "door": "none",
    }
    return check(
        Scene.model_validate(
            {
                "title": "Annex",
                "units": "mm",
                "rules": "nec-2023",
                "room": {"size": [5000, 4000], "height": 3000, "walls": "gypsum"},
                "items": [panel, *others],
            }
        )
    )


def box(size: Sequence[int], at: Sequence[int], bottom: int = 0) -> dict[str, Any]:
    place = {"at": at, "facing": "south", "bottom": bottom}
    return {"id": "BOX", "kind": "storage", "size": size, "place": place}


@pytest.mark.parametrize(
    ("thing", "size", "way", "section"),
    [
        # The panel's front is at y = 3850; the box's, 600 deep, at 3450 is 400 ahead
        # of it and takes 500 of the 900 mm.
        (box((600, 600, 600), (2250, 3150)), "depth", "BOX 500 mm", 1),
        # Its underside at 1900 takes 100 of the 2000 mm.
        (box((2000, 900, 300), (2250, 3400), 1900), "height", "BOX 100 mm", 3),
    ],
)
def test_the_size_shown_is_the_one_the_citation_is_about(
    thing: dict[str, Any], size: str, way: str, section: int
) -> None:
    (judgement,) = room(thing).of("LP1", "working-space")

    found = shortfall(judgement)

    assert found is not None
    assert found.size == size
    assert judgement.citation == f"NEC 2023 110.26(A)({section})"
    assert in_the_way(judgement, size, "mm") == (way,)


def test_a_width_that_is_short_is_shared_by_what_stands_beside() -> None:
    # Boxes from 900 to 1900 and from 2600 to 3600: between them 700 of 762 mm.
    left = box((1000, 300, 600), (1400, 3700))
    right = box((1000, 300, 600), (3100, 3700)) | {"id": "BOX2"}

    (judgement,) = room(left, right).of("LP1", "working-space")

    found = shortfall(judgement)
    assert found is not None
    assert (found.size, round(found.by, 4)) == ("width", 0.062)
    assert judgement.citation == "NEC 2023 110.26(A)(2)"
    way = in_the_way(judgement, "width", "mm")
    taken = sum(float(one.split()[1]) for one in way)
    assert taken == pytest.approx(62, abs=0.2)


def test_the_worst_in_the_way_is_named_first() -> None:
    near, far = box((600, 600, 600), (2250, 3400)), box((600, 100, 600), (2250, 3000))

    (judgement,) = room(far, near | {"id": "NEAR"}).of("LP1", "working-space")

    assert in_the_way(judgement, "depth", "mm") == ("NEAR 750 mm", "BOX 100 mm")


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
