"""Files to be damaged: one of each format that is read, small, made here."""

from __future__ import annotations

import contextlib
import io
import tempfile
from functools import cache
from pathlib import Path
from typing import Final, NamedTuple

import numpy as np
from openpyxl import Workbook

from tests.exchange.dxf.drawn_plans import TABLE, Drawing
from tests.exchange.ifc.written_models import Model
from tests.exchange.rooms import TEXT
from tests.geometry.clouds.written import WRITERS
from tests.geometry.files.written_step import box
from tests.paths import ROOT
from viewer.cli.main import main

LIST: Final = """\
Tag,Kind,Width (mm),Depth (mm),Height (mm),System,Amps,Wall,Along (mm),Bottom (mm)
LP1,panelboard,508,146,914,208Y/120,225,north,1000,900
T1,transformer,720,600,920,480Y/277,90,east,500,0
DS1,disconnect,230,160,430,480Y/277,60,north,3000,1200
"""
NEW: Final = ("--rules", "nec-2023", "-o", "made.yaml")
SIZED: Final = ("--size", "6000x4000x3000", "--units", "mm")
SCENE: Final = """\
title: T
units: mm
rules: {rules}
{more}
room: {{size: [6000, 4000], height: 3000}}
items:
  - {{id: LP1, kind: panelboard, size: [600, 200, 900],
      place: {{wall: north, along: 2000, bottom: 900}}, supply: {{system: 208Y/120}}}}
  - {{id: B1, {what}}}
"""


class Damaged(NamedTuple):
    """A file that is damaged, and what is asked of it.

    Attributes:
        data: What is in it before.
        command: What is asked; the file stands in its place.
        beside: Other files, by name.
    """

    data: bytes
    command: tuple[str, ...]
    beside: dict[str, bytes]


@cache
def whole_files() -> dict[str, Damaged]:
    """Return what can be damaged, by the file's name."""
    found = {
        "list.csv": Damaged(LIST.encode(), ("import", "list.csv", *SIZED, *NEW), {}),
        "list.xlsx": Damaged(_workbook(), ("import", "list.xlsx", *SIZED, *NEW), {}),
        "kinds.toml": Damaged(
            b'"LTG PNL" = "panelboard"\n"XFMR" = "transformer"\n',
            ("import", "list.csv", "--mapping", "kinds.toml", *SIZED, *NEW),
            {"list.csv": LIST.encode()},
        ),
        "layers.csv": Damaged(
            TABLE.encode(),
            ("import", "plan.dxf", "--layers", "layers.csv", *NEW),
            {"plan.dxf": _plan()},
        ),
        "plan.dxf": Damaged(
            _plan(),
            ("import", "plan.dxf", "--layers", "layers.csv", *NEW),
            {"layers.csv": TABLE.encode()},
        ),
        "model.ifc": Damaged(_model(), ("import", "model.ifc", *NEW), {}),
        "into.ifc": Damaged(
            _model(),
            ("export", "scene.yaml", "-o", "made.ifc", "--into", "into.ifc"),
            {"scene.yaml": TEXT.encode()},
        ),
        "gear.yaml": Damaged(
            (ROOT / "scenes" / "gear.yaml").read_bytes(),
            ("check", "scene.yaml"),
            {"scene.yaml": _scene("type: lighting-panel", "types_from: gear.yaml")},
        ),
        "town.toml": Damaged(
            (ROOT / "scenes" / "quillhaven.toml").read_bytes(),
            ("check", "scene.yaml"),
            {"scene.yaml": _scene("kind: pad, size: [9, 9, 9]", rules="town.toml")},
        ),
    }
    for name, data in _meshes().items():
        units = "" if name.endswith(".step") else "units: m, "
        scene = _scene(f"kind: obstacle, mesh: {name}, {units}shift: [2000, 1000, 0]")
        found[name] = Damaged(data, ("check", "scene.yaml"), {"scene.yaml": scene})
    for name, data in _clouds().items():
        scene = _scene(f"kind: obstacle, points: {name}, units: m")
        found[name] = Damaged(data, ("check", "scene.yaml"), {"scene.yaml": scene})
    return found


def _scene(what: str, more: str = "", rules: str = "nec-2023") -> bytes:
    return SCENE.format(what=what, more=more, rules=rules).encode()


def _workbook() -> bytes:
    book, made = Workbook(), io.BytesIO()
    page = book.active
    assert page is not None
    for row in LIST.splitlines():
        page.append(
            [int(one) if one.isdecimal() else one or None for one in row.split(",")]
        )
    book.save(made)
    return made.getvalue()


def _plan() -> bytes:
    made = io.StringIO()
    Drawing().room().document.write(made)
    return made.getvalue().encode()


def _model() -> bytes:
    one = Model()
    one.room()
    gear = one.put(
        "IfcElectricDistributionBoard", "LP1", (11, 22.8, 1), (0.5, 0.2, 0.9)
    )
    one.say(
        gear,
        "Pset_ElectricalDeviceCommon",
        RatedCurrent=("IfcElectricCurrentMeasure", 225.0),
    )
    with tempfile.TemporaryDirectory() as folder:
        return one.write(Path(folder, "model.ifc")).read_bytes()


def _meshes() -> dict[str, bytes]:
    """Return meshes by the project's own writer, and by hand."""
    return {"room.glb": _room(), "box.step": box(400, 300, 200).encode()}


def _room() -> bytes:
    with tempfile.TemporaryDirectory() as folder:
        scene, made = Path(folder, "room.yaml"), Path(folder, "room.glb")
        scene.write_text(TEXT, encoding="utf-8")
        with contextlib.redirect_stdout(io.StringIO()):
            assert main(["export", str(scene), "-o", str(made)]) == 0
        return made.read_bytes()


def _clouds() -> dict[str, bytes]:
    points = np.random.default_rng(1).uniform(0.5, 1.5, (400, 3))
    found = {}
    with tempfile.TemporaryDirectory() as folder:
        for sort, (name, write) in WRITERS.items():
            file = Path(folder, name)
            write(file, points)
            called = f"{sort.replace(' ', '-')}{file.suffix.lower()}"
            found[called] = file.read_bytes()
    return found
