"""What decides and finds no place in a drawing is told in a note below it."""

from __future__ import annotations

from tests.viewer.figure.measured import touching
from viewer.figure.drafting import pens
from viewer.figure.drafting.drawing import DimensionLine, Hatch, Text
from viewer.figure.drafting.labels.label import FigureLabel, at_point
from viewer.figure.drafting.paper import Paper
from viewer.figure.lettering.notes import complete

SIZE = 40.0
WORDS = ("484 mm short", "(1 ft 7 1/16 in)", "of 1.0 m (3 ft 6 in)")


def _full(height: float, free: float) -> Paper:
    """Return a paper that is hatched but for a strip at its left edge."""
    paper = Paper(SIZE, height)
    corners = ((free, 0.0), (SIZE, 0.0), (SIZE, SIZE), (free, SIZE))
    paper.put(Hatch(pens.CUT, corners, ()))
    ends = ((free, 5.0), (free, 15.0))
    mark = DimensionLine(pens.MISSING, *ends, ends, 0.484, 20.0)
    room = (0.0, 0.0, SIZE, SIZE)
    label = FigureLabel(WORDS, at_point((free, 10.0)), room, bold=9, about="depth")
    paper.dimension(mark, label)
    paper.label(FigureLabel(("pipe",), at_point((20, 20)), room, needed=False))
    paper.settle()
    return paper


def _written(paper: Paper) -> list[Text]:
    found = [mark for mark in paper.marks if isinstance(mark, Text)]
    for mark in paper.marks:
        found += mark.texts if isinstance(mark, DimensionLine) else ()
    return found


def test_a_number_stands_in_the_drawing_and_the_words_below_it() -> None:
    paper, _ = complete(lambda height, _: (_full(height, 8.0), 20.0), 60.0)

    texts = [text.text for text in _written(paper)]
    assert texts.count("1") == 2  # in the drawing, and before the note
    words = " ".join(text for text in texts if text != "1")
    assert words == f"Notes depth: {' '.join(WORDS)}"
    (mark,) = [one for one in paper.marks if isinstance(one, DimensionLine)]
    assert [text.text for text in mark.texts] == ["1"]
    assert touching(_written(paper), paper.marks) == []
    lowest = max(text.at[1] for text in _written(paper))
    assert SIZE < lowest < paper.lowest() <= 60.0


def test_where_not_even_a_number_has_room_the_note_says_what_it_is_about() -> None:
    paper, _ = complete(lambda height, _: (_full(height, 0.0), 20.0), SIZE)

    words = " ".join(text.text for text in _written(paper))
    assert words == f"Notes depth: {' '.join(WORDS)}"
    assert paper.height > SIZE


def test_more_room_beside_the_views_is_tried_before_notes() -> None:
    paper, scale = complete(
        lambda height, more: (_full(height, 8.0 + 2 * more), 20.0 + more / 4), 60.0
    )
    assert paper.notes == []
    assert scale > 20.0
    assert WORDS[0] in [text.text for text in _written(paper)]


def test_a_drawing_is_not_made_far_smaller_for_its_words() -> None:
    paper, scale = complete(
        lambda height, more: (_full(height, 8.0 + 2 * more), 20.0 + more), 60.0
    )
    assert scale == 20.0
    assert len(paper.notes) == 1
