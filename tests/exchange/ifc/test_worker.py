"""Reading has an end: in time, in memory, and where the reader dies."""

from __future__ import annotations

import ctypes
import importlib.util
import logging
import signal
import subprocess
import sys
import threading
import warnings
from typing import TYPE_CHECKING

import numpy as np
import pytest

from model3d import check
from model3d.exchange.ifc.element import ModelError
from model3d.exchange.ifc.file.opening import opened
from model3d.exchange.ifc.file.reader import read_building
from model3d.exchange.ifc.file.worker import building_of, read_apart
from model3d.exchange.ifc.overlay import overlay, overlay_into
from tests.exchange.ifc.written_models import Model
from tests.exchange.rooms import crowded
from tests.paths import ROOT

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

pytestmark = pytest.mark.long
SIZE = (0.4, 0.3, 0.9)


@pytest.fixture
def model(tmp_path: Path) -> Path:
    one = Model()
    one.room()
    return one.write(tmp_path / "model.ifc")


def test_it_is_told_what_is_read(model: Path) -> None:
    told: list[str] = []
    building = building_of([model], told.append)
    assert [one.called for one in building.spaces] == ["ELEC RM"]
    assert told[0] == "opening model.ifc"


def test_after_its_time_it_is_ended(model: Path) -> None:
    with pytest.raises(ModelError) as caught:
        building_of([model], lambda _: None, seconds=0.0)
    (said,) = caught.value.mistakes
    assert "took more than 0 s and was ended" in said


def grumbling(tell: Callable[[str], None]) -> str:
    """Warn as libraries do that divide by nothing."""
    warnings.warn("invalid value encountered in divide", RuntimeWarning, stacklevel=1)
    logging.getLogger("of a library").warning("something for programmers")
    tell("read")
    return "all"


def test_what_a_library_warns_of_is_not_told_on_the_terminal(
    capfd: pytest.CaptureFixture[str],
) -> None:
    """A placement whose axes are parallel gave 17 lines of numpy's warnings."""
    told: list[str] = []
    found = read_apart(
        grumbling, "model.ifc", told.append, seconds=60.0, memory=8 * 2**30
    )
    assert (found, told) == ("all", ["read"])
    out, err = capfd.readouterr()
    assert (out, err) == ("", "")


def endless(tell: Callable[[str], None]) -> None:
    """Never come back, as a library may not, and let no other thread run."""
    tell("begun")
    ctypes.PyDLL(None).sleep(600)


@pytest.mark.skipif(sys.platform != "linux", reason="Linux alone tells of it")
def test_it_ends_with_whoever_asked(tmp_path: Path) -> None:
    """It was left, held to no time, when a program was killed that read a model."""
    program = (
        "from model3d.exchange.ifc.file.worker import read_apart\n"
        "from tests.exchange.ifc.test_worker import endless\n"
        "from functools import partial\n"
        "say = partial(print, flush=True)\n"
        "read_apart(endless, 'model.ifc', say, seconds=600.0, memory=8 * 2**30)\n"
    )
    log = tmp_path / "log"
    with (
        log.open("wb") as stream,
        subprocess.Popen(  # noqa: S603 - this Python, the lines above
            [sys.executable, "-c", program],
            cwd=ROOT,
            stdout=subprocess.PIPE,
            stderr=stream,
        ) as process,
    ):
        assert process.stdout is not None
        assert process.stdout.readline() == b"begun\n"
        process.kill()
        end = threading.Timer(60.0, process.stdout.close)
        end.start()
        # Its end comes when nobody has the stream any more, the reader neither.
        assert process.stdout.read() == b""
        end.cancel()
    assert log.read_bytes() == b""


@pytest.mark.skipif(
    importlib.util.find_spec("resource") is None, reason="no such end on Windows"
)
def test_it_ends_itself_where_nobody_ends_it() -> None:
    program = (
        "import ctypes\n"
        "from model3d.geometry.files import held\n"
        "held._AFTER = 0\n"
        "held.hold_to(2**33, 0.5)\n"
        "ctypes.PyDLL(None).sleep(600)\n"
    )
    done = subprocess.run(  # noqa: S603 - this Python, the lines above
        [sys.executable, "-c", program],
        cwd=ROOT,
        capture_output=True,
        timeout=60,
        check=False,
    )
    assert done.returncode == -signal.SIGALRM


@pytest.mark.skipif(
    importlib.util.find_spec("resource") is None, reason="no such limit on Windows"
)
def test_more_memory_than_it_may_have_is_one_line(model: Path) -> None:
    with pytest.raises(ModelError) as caught:
        building_of([model], lambda _: None, memory=64 * 2**20)
    (said,) = caught.value.mistakes
    assert str(model) in said


def test_a_model_that_is_cut_short_is_one_line(model: Path) -> None:
    # Whoever saved what was left of it wrote its last lines anew: it parses.
    lines = model.read_text().splitlines()
    data, end = lines.index("DATA;"), lines.index("ENDSEC;", lines.index("DATA;"))
    kept = lines[: data + 2 * (end - data) // 3]
    model.write_text("\n".join([*kept, *lines[end:]]))
    with pytest.raises(ModelError) as caught:
        building_of([model], lambda _: None)
    (said,) = caught.value.mistakes
    assert f"{model}: found nothing at #" in said
    assert said.endswith("right is a whole model")


def test_what_lies_nowhere_is_one_line(model: Path) -> None:
    text = model.read_text()
    room = text.index("IFCEXTRUDEDAREASOLID(")
    end = text.index(")", room)
    model.write_text(text[: text.rindex(",", room, end) + 1] + "1.E30" + text[end:])
    with pytest.raises(ModelError) as caught:
        building_of([model], lambda _: None)
    (said,) = caught.value.mistakes
    assert "model.ifc: found no place for Ifc" in said


def test_what_no_reader_expects_is_one_line() -> None:
    with pytest.raises(ModelError) as caught:
        read_apart(float.fromhex, "model.ifc", print, seconds=60.0, memory=8 * 2**30)  # type: ignore[arg-type]
    (said,) = caught.value.mistakes
    assert said == "model.ifc: found what cannot be read, right is a sound model"


@pytest.mark.parametrize("kind", ["IfcRelAggregates", "IfcRelNests"])
def test_what_is_in_itself_is_one_line_at_once(tmp_path: Path, kind: str) -> None:
    # It was followed until the time was up.
    circle = Model()
    one, other = (circle.put("IfcFurniture", name, (1, 1, 0), SIZE) for name in "AB")
    circle.relate(kind, one, [other])
    circle.relate(kind, other, [one])
    file = circle.write(tmp_path / "circle.ifc")
    with pytest.raises(ModelError) as caught:
        opened(file)
    (said,) = caught.value.mistakes
    first, second = one.id(), other.id()
    assert said.startswith(f"{file}: found #")
    assert f"#{first} in #{second}" in said or f"#{second} in #{first}" in said
    assert said.endswith("right is nothing that is in itself")


def test_what_is_placed_by_itself_is_one_line(tmp_path: Path) -> None:
    # The library followed it until its process died.
    circle = Model()
    place = circle.put("IfcFurniture", "A", (1, 1, 0), SIZE).ObjectPlacement
    place.PlacementRelTo = place
    file = circle.write(tmp_path / "circle.ifc")
    with pytest.raises(ModelError, match=f"found #{place.id()} in #{place.id()},"):
        opened(file)


@pytest.mark.parametrize("schema", ["IFC4X1", "IFC5", "IFC4X3_RC4"])
def test_a_schema_that_is_not_known_is_named(model: Path, schema: str) -> None:
    model.write_text(model.read_text().replace("('IFC4')", f"('{schema}')"))
    with pytest.raises(ModelError) as caught:
        opened(model)
    right = "right is IFC2X3, IFC4 or IFC4X3_ADD2"
    assert caught.value.mistakes == (f"{model}: found the schema {schema}, {right}",)


def test_a_model_of_two_schemas_is_refused_with_both(model: Path) -> None:
    """Source: ISO 10303-21: a list of names; IFC wants one there."""
    model.write_text(model.read_text().replace("('IFC4')", "('IFC4','IFC2X3')"))
    with pytest.raises(ModelError) as caught:
        opened(model)
    said = "found 2 schemas (IFC4, IFC2X3), right is one: IFC2X3, IFC4 or IFC4X3_ADD2"
    assert caught.value.mistakes == (f"{model}: {said}",)


@pytest.mark.parametrize("name", ["IFC4X3", "IFC4X3_TC1", "IFC4X3_ADD1", "ifc4x3"])
def test_an_earlier_name_of_ifc_4_3_is_read_as_the_last(
    tmp_path: Path, name: str
) -> None:
    # buildingSMART's releases of IFC 4.3, by the names in files (from memory).
    last = Model("IFC4X3_ADD2")
    last.put("IfcFurniture", "A", (1, 1, 0), SIZE)
    file = last.write(tmp_path / "last.ifc")
    named = tmp_path / "earlier.ifc"
    named.write_text(file.read_text().replace("('IFC4X3_ADD2')", f"('{name}')"))
    assert named.read_text() != file.read_text()
    assert len([*opened(named)]) == len([*opened(file)])


def test_what_of_a_shape_is_lost_is_told(tmp_path: Path) -> None:
    # The library leaves out a solid that has no end, and says so in its log alone.
    lossy = Model()
    whole, half, none = (
        lossy.put("IfcFurniture", name, (at, 1, 0), SIZE)
        for at, name in enumerate(("whole", "half", "none"))
    )
    endless = lossy.box(SIZE).Representations[0].Items
    endless[0].Depth = 1e308
    (shape,) = half.Representation.Representations
    shape.Items = [*shape.Items, *endless]
    none.Representation.Representations[0].Items[0].Depth = 1e308
    building = read_building([lossy.write(tmp_path / "lossy.ifc")], lambda _: None)
    (note,) = building.notes
    assert note.endswith("a part of it lost, so kept as not read: half, none")
    meshed = {one.called: one.meshed for one in building.elements}
    assert meshed == {"whole": True, "half": True, "none": False}
    assert whole.id() != half.id()


@pytest.mark.parametrize(
    ("unit", "metres"), [(None, 1.0), ("in", 0.0254), ("cm", 0.01)]
)
def test_a_model_without_a_unit_is_told(
    tmp_path: Path, unit: str | None, metres: float
) -> None:
    # Metres are what the standard's lengths are usually in (IFC 4.3, IfcLengthMeasure).
    bare = Model(unit="m")
    bare.put("IfcFurniture", "A", (7, 8, 9), SIZE)
    file = bare.write(tmp_path / "bare.ifc")
    kept = "IFCSIUNIT(*,.ELECTRICVOLTAGEUNIT.,$,.VOLT.)"
    text = file.read_text()
    assert kept in text
    file.write_text(text.replace("IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.)", kept))
    building = read_building([file], lambda _: None, unit)
    (element,) = building.elements
    size = np.ptp(element.points, axis=0)
    assert size == pytest.approx([one * metres for one in SIZE])
    assert element.matrix[:3, 3] == pytest.approx([7 * metres, 8 * metres, 9 * metres])
    right = "found no unit of length, taken as m; --drawn-in may say another"
    assert building.notes == (() if unit else (f"bare.ifc: {right}",))


def test_a_unit_that_a_model_says_is_not_overruled(tmp_path: Path) -> None:
    model = Model(unit="ft")
    model.put("IfcFurniture", "A", (7, 8, 9), SIZE)
    file = model.write(tmp_path / "feet.ifc")
    building = read_building([file], lambda _: None, "mm")
    assert np.ptp(building.elements[0].points, axis=0) == pytest.approx(SIZE)
    (note,) = building.notes
    assert note.startswith("feet.ifc: says its unit of length itself")


def test_a_copy_with_spaces_is_made_apart_too(tmp_path: Path) -> None:
    one = Model()
    one.room()
    file = one.write(tmp_path / "model.ifc")
    report = check(crowded(tmp_path))
    assert overlay_into(report, file, print) == overlay(report, into=file)
    with pytest.raises(ModelError, match="took more than 0 s and was ended"):
        overlay_into(report, file, print, seconds=0.0)
    file.write_text(file.read_text().replace(".LENGTHUNIT.", ".MASSUNIT."))
    with pytest.raises(ModelError, match="found no unit of length"):
        overlay_into(report, file, print)
