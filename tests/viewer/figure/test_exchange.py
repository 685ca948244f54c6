"""Figures as PDF, PNG and DXF: real text, real dimensions, the same bytes."""

from __future__ import annotations

import io
import math

import ezdxf
import pypdfium2
import pytest
from PIL import Image

from tests.viewer.figure.examples import report_of, subject
from viewer.figure.drawing import Dimension
from viewer.figure.dxf import dxf
from viewer.figure.item_sheet import ALL, item_figure
from viewer.figure.pens import PENS
from viewer.figure.printed import printed
from viewer.figure.room_plan import room_figure
from viewer.wording.refusal import UnusableError


@pytest.fixture(scope="module")
def drawing() -> ezdxf.document.Drawing:
    """The pumps' panel as a CAD program reads it."""
    figure = item_figure(subject("pump-station", "PCP1"), ALL, 180, 150)
    return ezdxf.read(io.StringIO(dxf(figure).decode()))


def test_the_dxf_is_sound(drawing: ezdxf.document.Drawing) -> None:
    assert drawing.audit().errors == []
    assert drawing.units == ezdxf.units.MM


def test_dimensions_measure_real_millimetres(drawing: ezdxf.document.Drawing) -> None:
    """What the room's own story says: 516 are left of 1000, the panel is 900 wide."""
    found = {
        round(float(one.get_measurement()))
        for one in drawing.modelspace().query("DIMENSION")
    }
    assert {516, 484, 900, 2000, 1200, 700} <= found


def test_layers_are_named_by_meaning(drawing: ezdxf.document.Drawing) -> None:
    used = {one.dxf.layer for one in drawing.modelspace()}
    assert used <= set(PENS)
    assert {"required-space", "in-the-way", "walls", "dimensions-missing"} <= used
    layer = drawing.layers.get("required-space")
    assert layer.dxf.linetype == "required-space"
    assert layer.description == "Required space"


def test_a_walls_length_is_the_real_one(drawing: ezdxf.document.Drawing) -> None:
    plan = ezdxf.read(
        io.StringIO(dxf(room_figure(report_of("pump-station"), 180, 150)).decode())
    )
    sides = {
        round(math.dist(one[0][:2], other[0:2]))
        for line in plan.modelspace().query("LWPOLYLINE[layer=='walls']")
        for one, other in [(line.get_points(), line.get_points()[-1])]
    }
    assert sides
    assert 6400 in {
        round(float(one.get_measurement()))
        for one in plan.modelspace().query("DIMENSION")
    }
    assert drawing.modelspace() is not None


def test_the_same_figure_gives_the_same_bytes() -> None:
    figure = item_figure(subject("pump-station", "PCP1"), ALL, 180, 150)
    for written in (dxf, lambda one: printed(one, "pdf"), lambda one: printed(one, "png")):
        assert written(figure) == written(figure)


def test_a_pdf_is_as_large_as_the_paper_and_its_text_is_text() -> None:
    figure = item_figure(subject("feet-and-inches", "HP1"), ALL, 180, 150)
    (page,) = pypdfium2.PdfDocument(printed(figure, "pdf"))
    width, _ = page.get_size()
    assert width == pytest.approx(180 * 72 / 25.4, abs=0.5)
    words = page.get_textpage().get_text_range()
    for mark in figure.marks:
        if isinstance(mark, Dimension):
            assert mark.texts[0].text in words


def test_a_png_is_a_picture_of_it() -> None:
    data = printed(item_figure(subject("pump-station", "PCP1"), ALL, 180, 150), "png")
    with Image.open(io.BytesIO(data)) as image:
        assert image.width == pytest.approx(180 * 144 / 25.4, abs=2)
        assert len(image.convert("L").getcolors() or ()) > 2


@pytest.mark.parametrize(
    ("module", "make"),
    [
        ("viewer.figure.dxf.importlib.util.find_spec", dxf),
        ("viewer.figure.printed.is_there", lambda one: printed(one, "pdf")),
    ],
)
def test_without_the_extra_one_line_says_what_to_do(
    module: str, make: object, monkeypatch: pytest.MonkeyPatch
) -> None:
    figure = item_figure(subject("pump-station", "PCP1"), ("plan",), 180, 150)
    monkeypatch.setattr(module, lambda *_: None)
    with pytest.raises(UnusableError) as refused:
        make(figure)  # type: ignore[operator]
    (line,) = refused.value.mistakes
    assert "pip install" in line
