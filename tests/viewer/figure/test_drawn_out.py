"""Plans of the example rooms as a CAD program reads them: they say what the check says.

Read back by ezdxf. The sizes of the rooms stand in their files.
"""

from __future__ import annotations

import io
import re
from typing import TYPE_CHECKING, Final

import pytest
from ezdxf import entities, units
from ezdxf.filemanagement import read

from model3d.units import to_metres
from tests.paths import ROOMS
from tests.viewer.figure.examples import report_of, texts_of
from viewer.figure.drafting.drawing import DimensionLine, Text
from viewer.figure.drafting.pens import PENS
from viewer.figure.files.dxf import dxf
from viewer.figure.plans.room import room_figure
from viewer.wording.cleaning import clean

if TYPE_CHECKING:
    from ezdxf.document import Drawing

pytestmark = pytest.mark.long

_NAMES: Final = sorted(file.stem for file in ROOMS)
_LENGTH: Final = re.compile(r"([^(\\]*?)(?: there| short)?\s*(?:\\P|\(|$).*")
"""The first length of what stands at a dimension, before the other system's."""
_HALF: Final = {"mm": 0.5, "ft": 25.4 / 32}
"""Millimetres by which a length may be rounded: whole ones, sixteenths of an inch."""
_PAPER: Final = 0.002
"""Millimetres of paper by which two ends may be rounded."""


def _plan(name: str) -> tuple[Drawing, float]:
    figure = room_figure(report_of(name), 180, 150)
    return read(io.StringIO(dxf(figure).decode())), figure.scale


def _texts(drawing: Drawing) -> list[str]:
    return [str(one.dxf.text) for one in drawing.modelspace().query("TEXT")]


@pytest.mark.parametrize("name", _NAMES)
def test_an_outside_reader_finds_units_layers_and_words(name: str) -> None:
    drawing, _ = _plan(name)
    assert drawing.audit().errors == []
    # Millimetres of a metric drawing, whatever units the scene is written in.
    assert drawing.units == units.MM
    assert (drawing.header["$INSUNITS"], drawing.header["$MEASUREMENT"]) == (4, 1)
    used = {str(one.dxf.layer) for one in drawing.modelspace()}
    assert used <= {*PENS}
    assert all(drawing.layers.get(one).description for one in used)
    report = report_of(name)
    figure = room_figure(report, 180, 150)
    at_dimensions = [
        id(text)
        for mark in figure.marks
        if isinstance(mark, DimensionLine)
        for text in mark.texts
    ]
    written = [
        clean(text.text) for text in texts_of(figure) if id(text) not in at_dimensions
    ]
    assert sorted(_texts(drawing)) == sorted(written)
    layers = {
        (mark.layer, clean(mark.text))
        for mark in figure.marks
        if isinstance(mark, Text)
    }
    assert layers == {
        (str(one.dxf.layer), str(one.dxf.text))
        for one in drawing.modelspace().query("TEXT")
    }


@pytest.mark.parametrize("name", _NAMES)
def test_what_is_not_met_is_named_and_hatched(name: str) -> None:
    drawing, _ = _plan(name)
    texts, report = _texts(drawing), report_of(name)
    assert report.arrangement is not None
    gear = {
        one.id for one in report.arrangement.items.values() if one.front is not None
    }
    wrong = {one.subject for one in report.judgements if one.verdict == "not-met"}
    for subject in wrong & gear:
        assert any(
            re.match(rf"{re.escape(subject)}( overhead)?$", one) for one in texts
        ), subject
    assert ("not met" in texts) == bool(wrong & gear)


@pytest.mark.parametrize("name", _NAMES)
def test_words_of_a_dimension_are_what_it_measures(name: str) -> None:
    drawing, scale = _plan(name)
    scene = report_of(name).arrangement
    assert scene is not None
    unit = "ft" if scene.scene.units in {"ft", "in"} else "mm"
    seen = 0
    for one in drawing.modelspace().query("DIMENSION"):
        assert isinstance(one, entities.Dimension)
        found = _LENGTH.fullmatch(one.dxf.text)
        assert found is not None, one.dxf.text
        if found[1].strip().isdecimal():
            continue  # the number of a note
        told = to_metres(found[1].strip(), scene.scene.units) * 1000
        room = _HALF[unit] + scale * _PAPER
        assert float(one.get_measurement()) == pytest.approx(told, abs=room)
        seen += 1
    assert seen


@pytest.mark.parametrize(
    ("name", "sizes"),
    [
        ("pump-station", {"6400 mm (20 ft 11 15/16 in)": 6400, "4200 mm": 4200}),
        ("feet-and-inches", {"14 ft (4267.2 mm)": 4267.2, "3 ft 11 in": 1193.8}),
    ],
)
def test_a_room_in_either_system_is_drawn_in_millimetres(
    name: str, sizes: dict[str, float]
) -> None:
    """By hand: 14 ft are 4267.2 mm, 3 ft 11 in are 1193.8."""
    drawing, scale = _plan(name)
    for said, size in sizes.items():
        found = [
            float(one.get_measurement())
            for one in drawing.modelspace().query("DIMENSION")
            if isinstance(one, entities.Dimension) and one.dxf.text.startswith(said)
        ]
        assert found == [pytest.approx(size, abs=scale * _PAPER)]
