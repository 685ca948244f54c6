"""Rows of reports: which size is told, by how much, what is in the way, what is open.

The judgements are invented, see ``judged``; so is the room, where plain arithmetic says
what must come out. Which sentence of NEC 110.26(A) speaks of which size, (1) depth, (2)
width, (3) height, is the published order of the NEC.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest

from model3d import Report, Scene, check
from model3d.judging.results import Way
from model3d.wording import bracketed, headed, length, sentences, within_survey
from model3d.wording.said import Amount, Named, say
from tests.viewer.report.invented import (
    ASKED,
    DEPTH,
    REACH,
    SWING,
    TIGHT,
    UNSAID,
    prose,
    report,
)
from viewer.report.rows import NONE, deciding_row, size_rows, way_words
from viewer.report.text.table import not_met_rows
from viewer.wording.shortfall import in_the_way, names_in_the_way, shortfall
from viewer.wording.sizes import required_words
from viewer.wording.words import why_open

if TYPE_CHECKING:
    from collections.abc import Sequence


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


def test_a_pad_across_the_aisle_takes_depth_and_reaches_nowhere() -> None:
    # MCC2's pad ends 860 ahead of MCC1, whose depth is 900: it takes 40 of it.
    def line_up(name: str, pad: dict[str, Any]) -> list[dict[str, Any]]:
        gear = {
            "id": f"MCC{name}",
            "kind": "motor-control-center",
            "size": [3000, 500, 2200],
            "place": {"stands_on": f"PAD{name}"},
            "supply": {"system": "208Y/120", "amps": 600},
            "door": "bolted",
        }
        size = [3200, 640, 100]
        return [{"id": f"PAD{name}", "kind": "pad", "size": size, "place": pad}, gear]

    room = {
        "title": "An aisle",
        "units": "mm",
        "rules": "nec-2023",
        "room": {"size": [6000, 5000], "height": 3000, "walls": "gypsum"},
        "items": [
            *line_up("1", {"wall": "south", "along": 1000}),
            *line_up("2", {"at": [3400, 1680], "facing": "south"}),
        ],
    }
    (judged,) = check(Scene.model_validate(room)).of("MCC1", "working-space")
    assert in_the_way(judged, "depth", "mm") == ("PAD2 40 mm",)


def test_many_things_in_the_way_are_counted() -> None:
    boxes = tuple(replace(DEPTH.intrusions[0], item=f"B{n}") for n in range(9))

    (row,) = not_met_rows(report(replace(DEPTH, intrusions=boxes)))

    assert row.way == ("B0", "B1", "B2", "and 6 more")


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


def test_what_is_open_says_which_size_and_what_was_measured() -> None:
    assert (
        "[ ] MSB working-space depth: BOX is 880 mm ahead of the front. Measure "
        "again. Measured: depth 880 mm (2 ft 10 5/8 in) of 900 mm (3 ft). "
        "[NEC 2023 110.26(A)(1)]"
    ) in prose(TIGHT)


def test_a_figure_that_is_not_known_yet_is_not_told_as_required() -> None:
    found = prose(UNSAID)

    assert "depends on it. Measured: depth 2000 mm (6 ft 6 3/4 in). [NEC" in found


def test_what_the_reason_tells_with_its_figure_is_not_told_again() -> None:
    there, needed = length(0.88, "mm"), bracketed(("900 mm", "3 ft"))
    ahead = say("It is {} ahead, of {}.", there, needed)
    told = sentences(ahead, "Measure again.")

    assert "Measured" not in prose(replace(TIGHT, reason=told))


def test_of_what_is_clear_the_size_with_least_to_spare_is_told() -> None:
    # 0.02 of depth is left, 0.1 of width, 0.05 of height.
    clear = replace(
        UNSAID,
        provided={"depth": 0.92, "width": 2.5, "height": 2.2},
        missing="Is MSB service equipment?",
        unknown=(),
        reason="Is MSB service equipment?",
    )

    assert "Measured: depth 920 mm (3 ft 1/4 in) of 900 mm (3 ft)." in prose(clear)


def test_what_is_open_names_what_is_in_the_way_unless_the_reason_does() -> None:
    told = replace(TIGHT, reason="Measure again.")

    assert "In the way: BOX." in prose(told)
    assert "In the way" not in prose(TIGHT)


def test_reasons_that_differ_are_told_by_what_is_missing() -> None:
    tiers = [
        replace(
            ASKED,
            missing="Say the clearance.",
            reason=sentences(f"{n}.", "Say it."),
            tier=n,
        )
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


def test_a_leaf_that_opens_far_enough_has_no_margin() -> None:
    # A leaf is tried to the angle that is asked and no further (requirements.md).
    turned = replace(SWING, verdict="met", provided={"angle": 90.0}, margin=0.0)
    stopped = replace(SWING, verdict="not-met", provided={"angle": 60.0}, margin=-30.0)

    # A room door that opens far enough may lack its listed hardware (110.26(C)(3)).
    for one in (turned, replace(turned, verdict="not-met")):
        assert list(size_rows(one, "mm")) == [
            ("angle", "90\N{DEGREE SIGN}", "90\N{DEGREE SIGN} or more", NONE)
        ]
    ((_, _, there, margin),) = size_rows(stopped, "mm")
    assert (there, margin) == ("60\N{DEGREE SIGN}", "30\N{DEGREE SIGN} short")


def test_the_top_of_gear_is_not_told_as_its_handle() -> None:
    # 404.8(A) speaks of the grip; of which nothing is said here but that it is lower.
    gear: dict[str, Any] = {"id": "LP1", "kind": "panelboard", "door": "left"}
    gear |= {"size": [500, 150, 1000], "supply": {"system": "208Y/120", "amps": 100}}
    gear |= {"place": {"wall": "north", "along": 1000, "bottom": 1080}}
    room = {"size": [4000, 3000], "height": 3000, "walls": "gypsum"}
    scene: dict[str, Any] = {"title": "Room", "units": "mm", "rules": "nec-2023"}
    (asked,) = check(Scene.model_validate(scene | {"room": room, "items": [gear]})).of(
        "LP1", "handle-height"
    )

    ((_, needed, there, margin),) = size_rows(asked, "mm")

    assert needed == "at most 2.0 m (6 ft 7 in)"
    assert there == "its top: 2080 mm (6 ft 9 7/8 in)"
    assert margin == NONE, "no verdict on what is not known"
    ((_, _, _, over),) = size_rows(
        replace(asked, verdict="not-met", unknown=(), instead={}), "mm"
    )
    assert over == "80 mm (3 1/8 in) too high"


def test_what_is_said_of_several_things_alike_is_told_once() -> None:
    asks = "Say the supply of {}: the depth depends on it."
    row = [
        replace(UNSAID, subject=name, reason=words, missing=words)
        for name in ("S1", "S2", "S10")
        for words in [say(asks, Named(name))]
    ]
    other = replace(row[0], subject="S3", provided={"depth": 3.0})

    found = prose(*row, other)

    assert "[ ] S1, S2, S10 working-space: Say the supply of each: the depth" in found
    assert "[ ] S3 working-space: Say the supply of S1" in found, "it is not the same"
    assert "OPEN (4)" in found


def test_breaches_alike_are_one_row_and_each_is_counted() -> None:
    alike = [replace(DEPTH, subject=name) for name in ("S1", "S2")]

    (row,) = not_met_rows(report(*alike))

    assert row.item == "S1, S2"
    assert row.why == f"{DEPTH.citation}: {DEPTH.reason}"
    assert len(not_met_rows(report(*alike, replace(DEPTH, provided={})))) == 2
    assert "NOT MET (2)" in prose(*alike)


def test_no_second_size_is_told_where_the_reason_has_one() -> None:
    drop = say("The floor drops {} ahead of the front.", Amount("600 mm"))
    wide = replace(UNSAID, reason=drop, missing=drop, unknown=())

    assert "Measured" not in prose(wide)
    close = sentences(drop, within_survey(0.01, "mm"))
    assert "Measured: height" in prose(replace(wide, reason=close, missing=close))


def test_where_nothing_is_clear_all_of_it_is_missing() -> None:
    """Required 1.0 m and nothing there: the margin is what the book prints."""
    bare = replace(DEPTH, provided={}, short="depth")
    ((_, _, there, margin),) = (
        row for row in size_rows(bare, "mm") if row[0] == "depth"
    )
    needed = required_words(bare, "depth", "mm")
    assert (there, margin) == ("none", f"{needed} short")


def test_a_breach_without_a_figure_is_told_by_its_reason() -> None:
    """A gas pipe in a battery room, NEC 480.10(F): nothing of it is measured."""
    bare = replace(DEPTH, required={}, provided={}, short="", reason="Gas piping.")
    assert deciding_row(bare, "mm") == (NONE, "Gas piping.", "Gas piping.")


def test_a_narrow_way_out_is_between_two_things() -> None:
    way = Way("D1", ((0.0, 0.0), (1.0, 0.0)), 0.5, (0.5, 0.0), between=("P1", "P2"))
    narrow = replace(
        DEPTH,
        required={"width": 0.61},
        provided={"width": 0.5},
        printed={},
        short="width",
        intrusions=(),
        way=way,
    )
    assert way_words(narrow, report(narrow), "mm") == "P1 and P2"
    wide = replace(narrow, provided={"width": 0.7}, short="", verdict="met")
    assert way_words(wide, report(wide), "mm") == NONE


def test_a_question_behind_its_heading_is_asked_once() -> None:
    asks = say("Say the supply of {}.", Named("MSB"))
    behind = replace(UNSAID, missing=asks, reason=headed("Behind it", asks))

    assert why_open(behind) == "Behind it: Say the supply of MSB."
