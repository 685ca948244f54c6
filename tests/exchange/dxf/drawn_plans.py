"""Plans that tests draw: by the library that reads them too, and letter by letter."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import ezdxf

from model3d import read_scene
from viewer.cli.main import main

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    import pytest

    from model3d import Scene
    from model3d.exchange.dxf.drawn_plan import Plan

    Points = Sequence[tuple[float, float]]

MM, METRES, INCHES, NONE = 4, 6, 1, 0
TABLE = """\
Layer,Becomes,Height (mm),Bottom (mm),Facing
ROOM,room outline,3000,,
GEAR,panelboard,900,900,
"""
ROOM = [(0, 0), (6000, 0), (6000, 4000), (0, 4000)]
BOARD = [(1000, 3850), (1500, 3850), (1500, 4000), (1000, 4000)]


class Drawing:
    """A plan that is drawn."""

    def __init__(self, units: int = MM, version: str = "R2018") -> None:
        self.document = ezdxf.new(version)  # type: ignore[attr-defined]
        self.document.units = units
        self.space: Any = self.document.modelspace()

    def closed(self, layer: str, points: Points, **said: Any) -> Any:
        """Draw a closed polyline."""
        attributes = {"layer": layer, **said}
        return self.space.add_lwpolyline(points, close=True, dxfattribs=attributes)

    def room(self) -> Drawing:
        """Draw a room of 6 m by 4 m with a board on its north wall."""
        self.closed("ROOM", ROOM)
        self.closed("GEAR", BOARD)
        return self

    def text(self, text: str, x: float, y: float, layer: str = "TEXT") -> None:
        """Write a text that begins at a point."""
        said = {"layer": layer, "insert": (x, y), "height": 50}
        self.space.add_text(text, dxfattribs=said)

    def block(self, name: str, points: Points) -> Any:
        """Make a block of one closed polyline."""
        block = self.document.blocks.new(name)
        block.add_lwpolyline(points, close=True)
        return block

    def insert(self, name: str, at: tuple[float, float], **said: Any) -> Any:
        """Insert a block as gear."""
        return self.space.add_blockref(name, at, {"layer": "GEAR", **said})


class Folder:
    """A folder with a plan and a table, and what comes of them."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.table(TABLE)

    def table(self, text: str) -> Folder:
        """Write the table of layers."""
        (self.path / "layers.csv").write_text(text, "utf-8")
        return self

    def draw(self, drawing: Drawing) -> Folder:
        """Save the plan."""
        drawing.document.saveas(self.path / "plan.dxf")
        return self

    def write(self, data: bytes) -> Folder:
        """Write the plan as it is given."""
        (self.path / "plan.dxf").write_bytes(data)
        return self

    def run(self, *more: str, name: str = "room.yaml") -> int:
        """Import the plan and return the exit status."""
        return main(
            [
                *("import", str(self.path / "plan.dxf"), "--rules", "nec-2023"),
                *("--layers", str(self.path / "layers.csv")),
                *("-o", str(self.path / name), *more),
            ]
        )

    def scene(self, *more: str) -> Scene:
        """Return the scene that comes of it."""
        assert self.run(*more) == 0
        return read_scene(self.path / "room.yaml")

    def made(self) -> list[str]:
        """Return the names of what was written."""
        given = {"plan.dxf", "layers.csv"}
        return sorted(one.name for one in self.path.iterdir() if one.name not in given)


def turned(points: Points, degrees: float, about: tuple[float, float]) -> Points:
    """Return points turned counter-clockwise about a point."""
    cosine, sine = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return [
        (
            about[0] + (x - about[0]) * cosine - (y - about[1]) * sine,
            about[1] + (x - about[0]) * sine + (y - about[1]) * cosine,
        )
        for x, y in points
    ]


def by_hand(*entities: str, units: int | None = MM) -> bytes:
    """Return a DXF file of Release 12's form, written without any library.

    Source: the DXF reference: pairs of a group code and a value, one a line.
    """
    header = ["0", "SECTION", "2", "HEADER", "9", "$ACADVER", "1", "AC1009"]
    if units is not None:
        header += ["9", "$INSUNITS", "70", str(units)]
    lines = [*header, "0", "ENDSEC", "0", "SECTION", "2", "ENTITIES"]
    for entity in entities:
        lines += entity.split("|")
    return "\r\n".join([*lines, "0", "ENDSEC", "0", "EOF", ""]).encode()


def polyline(layer: str, points: Points, flags: int = 1, bulge: float = 0.0) -> str:
    """Return an old polyline with its vertices; 1 closes it."""
    parts = ["0", "POLYLINE", "8", layer, "66", "1", "70", str(flags)]
    for x, y in points:
        parts += ["0", "VERTEX", "8", layer, "10", str(x), "20", str(y)]
        parts += ["42", str(bulge)] if bulge else []
    return "|".join([*parts, "0", "SEQEND"])


def read_here(monkeypatch: pytest.MonkeyPatch) -> None:
    """Read plans in this process: another one takes seconds to begin."""

    def read(work: Any, _: str, tell: Any, **__: float) -> Plan:
        return work(tell)  # type: ignore[no-any-return]

    monkeypatch.setattr("model3d.exchange.dxf.file.worker.read_apart", read)
