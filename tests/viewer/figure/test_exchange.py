"""Figures as PDF, PNG and DXF: real text, real dimensions, the same bytes."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from typing import TYPE_CHECKING

import pypdfium2
import pytest
from ezdxf import entities, units
from ezdxf.filemanagement import read
from PIL import Image

from tests.paths import ROOT
from tests.viewer.figure.examples import report_of, subject
from viewer.figure.drafting.drawing import DimensionLine
from viewer.figure.drafting.pens import PENS
from viewer.figure.files.dxf import dxf
from viewer.figure.files.printed import printed
from viewer.figure.item.three_sides import ALL, item_figure
from viewer.figure.plans.room import room_figure
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from ezdxf.document import Drawing

    from viewer.figure.drafting.drawing import Figure


def _read(figure: Figure) -> Drawing:
    return read(io.StringIO(dxf(figure).decode()))


def _measured(drawing: Drawing) -> set[int]:
    """Return what the dimensions of a drawing measure, whole millimetres."""
    found = drawing.modelspace().query("DIMENSION")
    ones = [one for one in found if isinstance(one, entities.Dimension)]
    return {round(float(one.get_measurement())) for one in ones}


@pytest.fixture(scope="module")
def drawing() -> Drawing:
    """The pumps' panel as a CAD program reads it."""
    return _read(item_figure(subject("pump-station", "PCP1"), ALL, 180, 150))


@pytest.mark.long
def test_the_dxf_is_sound(drawing: Drawing) -> None:
    assert drawing.audit().errors == []
    assert drawing.units == units.MM


@pytest.mark.long
def test_dimensions_measure_real_millimetres(drawing: Drawing) -> None:
    """What the room's own story says: 516 are left of 1000, the panel is 900 wide."""
    assert {516, 484, 900, 2000, 1200, 700} <= _measured(drawing)


@pytest.mark.long
def test_a_room_is_as_wide_as_it_is() -> None:
    plan = _read(room_figure(report_of("pump-station"), 180, 150))
    assert {6400, 4200} <= _measured(plan)


def test_layers_are_named_by_meaning(drawing: Drawing) -> None:
    used = {one.dxf.layer for one in drawing.modelspace()}
    assert used <= set(PENS)
    assert {"required-space", "in-the-way", "walls", "dimensions-missing"} <= used
    layer = drawing.layers.get("required-space")
    assert layer.dxf.linetype == "required-space"
    assert layer.description == "Required space"


@pytest.mark.long
def test_the_same_figure_gives_the_same_bytes() -> None:
    figure = item_figure(subject("pump-station", "PCP1"), ALL, 180, 150)
    for written in (
        dxf,
        lambda one: printed(one, "pdf"),
        lambda one: printed(one, "png"),
    ):
        assert written(figure) == written(figure)


@pytest.mark.long
def test_another_process_writes_the_same_drawing() -> None:
    """The order of a set is another one in each process; these seeds show two."""
    program = (
        "import hashlib; from tests.viewer.figure.examples import subject;"
        "from viewer.figure.files.dxf import dxf;"
        "from viewer.figure.item.three_sides import ALL, item_figure;"
        "figure = item_figure(subject('pump-station', 'PCP1'), ALL, 180, 150);"
        "print(hashlib.sha256(dxf(figure)).hexdigest())"
    )
    told = {
        subprocess.run(  # noqa: S603 - this Python, the lines above
            [sys.executable, "-c", program],
            cwd=ROOT,
            env={**os.environ, "PYTHONHASHSEED": str(seed)},
            capture_output=True,
            check=True,
        ).stdout
        for seed in range(4, 8)
    }
    assert len(told) == 1


@pytest.mark.long
def test_a_pdf_is_as_large_as_the_paper_and_its_text_is_text() -> None:
    figure = item_figure(subject("feet-and-inches", "HP1"), ALL, 180, 150)
    (page,) = pypdfium2.PdfDocument(printed(figure, "pdf"))
    width, _ = page.get_size()
    assert width == pytest.approx(180 * 72 / 25.4, abs=0.5)
    words = page.get_textpage().get_text_range()
    for mark in figure.marks:
        if isinstance(mark, DimensionLine):
            assert mark.texts[0].text in words


def test_a_png_is_a_picture_of_it() -> None:
    data = printed(item_figure(subject("pump-station", "PCP1"), ALL, 180, 150), "png")
    with Image.open(io.BytesIO(data)) as image:
        assert image.width == pytest.approx(180 * 144 / 25.4, abs=2)
        assert len(image.convert("L").getcolors() or ()) > 2


@pytest.mark.parametrize(
    ("module", "make"),
    [
        ("viewer.figure.files.dxf.importlib.util.find_spec", dxf),
        ("viewer.figure.files.printed.is_there", lambda one: printed(one, "pdf")),
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


def test_words_of_a_dimension_leave_its_lines_whole(drawing: Drawing) -> None:
    many = 0
    for one in drawing.modelspace().query("DIMENSION"):
        assert isinstance(one, entities.Dimension)
        block = one.get_geometry_block()
        words = [*block.query("MTEXT")] if block is not None else []
        if block is None or not words:
            continue
        many += 1
        assert words[0].dxf.get("insert") == one.dxf.get("text_midpoint")
        # One line from end to end, two extension lines at most, and a tick each.
        lines = [*block.query("LINE")]
        long = sorted(
            ((line.dxf.get("end") - line.dxf.get("start")).magnitude for line in lines),
            reverse=True,
        )
        measured = float(one.get_measurement())
        assert any(length == pytest.approx(measured, abs=0.5) for length in long)
    assert many > 3


def test_hatches_are_thin_and_of_the_colour_of_their_layer(drawing: Drawing) -> None:
    found = drawing.modelspace().query("HATCH")
    hatches = [one for one in found if isinstance(one, entities.Hatch) and one.pattern]
    assert hatches
    for one in hatches:
        assert one.dxf.get("lineweight") == 13
        assert one.rgb == drawing.layers.get(str(one.dxf.get("layer"))).rgb
