"""Required figures in every face: as the book prints them, never by conversion.

The room is invented. 1.0 m (3 ft 6 in), 150 mm (6 in) and the like are printed in NEC
110.26(A); 1.0 m is 3 ft 3 3/8 in by arithmetic, which no code prints.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING, Final

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from model3d import Judgement, Report, Scene, check
from model3d.lessons import StepResult
from model3d.scene.parts.lesson import Step
from model3d.wording import sentences
from tests.viewer.report.invented import reports_text
from tests.viewer.written_rooms import room_scene
from viewer.report.text.lesson import lessons_text
from viewer.report.text.lesson_words import StepJudgement, sizes
from viewer.sheet.layout import layout
from viewer.stage import build_stage
from viewer.wording.sizes import briefs, required_words

if TYPE_CHECKING:
    from viewer.stage import Stage
    from viewer.stage.rows import ListedJudgement

SCENE: Final = room_scene()
REPORT: Final = check(SCENE)
BOOK: Final = {
    "depth": ("1.0 m", "3 ft 6 in"),
    "width": ("762 mm", "30 in"),
    "height": ("2.0 m", "6 1/2 ft"),
    "reach": ("150 mm", "6 in"),
}
METRES: Final = {"depth": 1.0, "width": 0.762, "height": 2.0, "reach": 0.15}
CONVERTED: Final = re.compile(
    r"3 ft 3 3/8 in|2 ft 6 in|6 ft 6 3/4 in|5 7/8 in|1000 mm|2000 mm"
)
"""What arithmetic makes of the figures above."""
CITED: Final = ("NEC 2023 110.26(A)(1)",)


def with_judgements(*judgements: Judgement) -> Report:
    return replace(REPORT, judgements=judgements, unread=CITED)


def reached() -> Judgement:
    """Return what is said of the wireway over LP1, which comes 250 past the front."""
    (found,) = REPORT.of("LP1", "working-space")
    (hit,) = found.intrusions
    assert hit.reach is not None
    return replace(
        found,
        required={"reach": 0.15},
        provided={"reach": hit.reach},
        printed={"reach": BOOK["reach"]},
        limit={"reach": "at-most"},
        short="reach",
    )


def blocked(**more: object) -> Judgement:
    """Return what is said of CP1, which a machine stands before."""
    (found,) = REPORT.of("CP1", "working-space")
    told = {name: METRES[name] for name in ("depth", "width", "height")}
    changed = replace(
        found,
        required=told,
        provided={"depth": 0.3},
        printed={name: BOOK[name] for name in told},
        short="depth",
        reason="BOX is ahead of the front.",
    )
    return replace(changed, **more)  # type: ignore[arg-type]


def stage_of(*judgements: Judgement) -> Stage:
    return build_stage(SCENE, with_judgements(*judgements))


def row(judgement: Judgement) -> ListedJudgement:
    (found,) = stage_of(judgement).judgements
    return found


def told_of(judgement: Judgement) -> list[str]:
    """Return all that faces say of sizes, but for what was measured."""
    stage = stage_of(judgement)
    listed = [size for one in stage.judgements for size in one.sizes]
    found = [text for size in listed for text in (*size.required, size.brief)]
    for line in stage.dimensions:
        found += [line.required, line.brief, line.brief_other]
    found += sizes(StepJudgement(judgement, None, named=True), REPORT, "mm")
    found.append(reports_text([with_judgements(judgement)], width=200))
    return found


@pytest.mark.parametrize("verdict", ["not-met", "open", "met"])
def test_no_face_converts_what_a_book_prints(verdict: str) -> None:
    for judgement in (blocked(verdict=verdict), reached()):
        said = told_of(judgement)
        assert not [text for text in said if CONVERTED.search(text)]


@pytest.mark.long
@given(
    st.lists(
        st.from_regex(r"[1-9][0-9]? (mm|in|m|ft)", fullmatch=True),
        min_size=1,
        max_size=2,
    )
)
def test_whatever_a_book_prints_stands_as_it_is(texts: list[str]) -> None:
    judgement = blocked(printed={"depth": tuple(texts)})
    whole = f"{texts[0]} ({texts[1]})" if len(texts) > 1 else texts[0]
    assert required_words(judgement, "depth", "mm") == whole
    first, second = briefs(judgement, "depth", "mm")
    assert first == f"300 mm of {texts[0]}"
    assert second == f"11 13/16 in of {texts[-1]}"


def test_what_no_book_prints_is_converted() -> None:
    """The item's own width: 800 mm is 31.5 in."""
    wide = blocked(required={"width": 0.8}, provided={}, printed={}, short="")
    assert required_words(wide, "width", "mm") == "800 mm (2 ft 7 1/2 in)"


# A reach


def test_a_reach_is_told_as_one_in_rows_and_in_the_picture() -> None:
    stage = stage_of(reached())
    (size,) = stage.judgements[0].sizes
    assert (size.name, size.required) == ("reach", ("at most 150 mm", "6 in"))
    assert (size.short, size.most) == (True, True)
    assert size.brief == "250 mm, at most 150 mm"
    (line,) = stage.dimensions
    assert (line.brief, line.brief_other) == (
        "250 mm, at most 150 mm",
        "9 13/16 in, at most 6 in",
    )


def test_the_line_of_a_reach_starts_at_the_front_beside_what_reaches() -> None:
    """The front is 150 before the north wall; the space ends at LP1's right side."""
    (line,) = stage_of(reached()).dimensions
    beside = 0.6 + 0.5
    assert line.start[:2] == pytest.approx((beside, 3.0 - 0.15))
    assert line.end[:2] == pytest.approx((beside, 3.0 - 0.15 - 0.15))
    assert line.reached_start == line.start
    assert line.reached_end[:2] == pytest.approx((beside, 3.0 - 0.15 - 0.25))
    # The wireway is from 1850 to 2000 high.
    assert line.start[2] == pytest.approx(1.925)
    along = np.subtract(line.end, line.start)
    assert float(along @ line.aside) == pytest.approx(0.0)


def test_a_lesson_tells_a_reach_as_one() -> None:
    (said,) = sizes(StepJudgement(reached(), None, named=True), REPORT, "mm")
    assert said == (
        "reach: at most 150 mm (6 in), it is 250 mm (9 13/16 in), "
        "100 mm (3 15/16 in) too far"
    )


# A clearance at a side


@pytest.mark.parametrize(("side", "axis"), [(None, 2), ("above", 2), ("front", 1)])
def test_a_clearance_is_drawn_the_way_it_is_measured(
    side: str | None, axis: int
) -> None:
    clear = blocked(
        requirement="maker-clearance",
        side=side,
        required={"clearance": 1.0},
        provided={},
        printed={},
        short="",
    )
    (line,) = stage_of(clear).dimensions
    along = np.abs(np.subtract(line.end, line.start))
    assert along.argmax() == axis


def test_a_side_is_part_of_a_row_s_name() -> None:
    assert row(blocked(side="left")).part == "left"


# What is open, excepted, from memory


def test_an_open_row_says_what_is_missing_and_what_was_measured() -> None:
    asked = "Say the supply of CP1."
    found = row(
        blocked(verdict="open", missing=asked, reason=sentences(asked, "More."))
    )
    assert (found.missing, found.measured) == (
        asked,
        "depth 300 mm (11 13/16 in) of 1.0 m (3 ft 6 in)",
    )
    closed = row(blocked(missing=asked))
    assert (closed.missing, closed.measured) == ("", "")


def test_a_row_names_its_exception_and_the_part_that_is_in_its_own_way() -> None:
    (hit,) = blocked().intrusions
    own = replace(hit, item="CP1", part="its upper shelf")
    found = row(blocked(exception="Exception No. 3: meters", intrusions=(hit, own)))
    assert found.exception == "Exception No. 3: meters"
    assert found.in_the_way == ("BOX", "CP1")
    assert found.named == ("BOX", "its upper shelf")


def test_what_is_from_memory_is_told_once_for_all() -> None:
    assert stage_of(blocked(), reached()).unread == (
        "verify against the adopted code: NEC 2023 110.26(A)(1)"
    )
    assert build_stage(SCENE, replace(REPORT, unread=())).unread == ""


def test_a_lesson_lists_once_what_is_from_memory() -> None:
    told = with_judgements(blocked(exception="Exception No. 1: racks"))
    step = Step(say="Look.", expect={"CP1": {"working-space": "not-met"}})
    results = [StepResult(n, step, REPORT, SCENE, told) for n in (1, 2)]
    text = lessons_text([(lesson_scene(), results)])
    assert text.count("From memory: verify against the adopted code: NEC 2023") == 1
    assert "By an exception: Exception No. 1: racks" in text


def lesson_scene() -> Scene:
    return room_scene(lesson={"title": "A room", "steps": [{"say": "Look."}]})


def test_what_touches_the_front_leaves_nothing() -> None:
    touching = blocked(provided={})
    size = next(one for one in row(touching).sizes if one.short)
    assert (size.provided, size.brief) == (("none", ""), "none of 1.0 m")
    (line,) = (one for one in stage_of(touching).dimensions if one.short)
    assert line.reached_end == pytest.approx(line.start)
    assert layout(stage_of(touching), (900, 600)).listed
