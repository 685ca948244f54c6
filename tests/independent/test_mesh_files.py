"""Meshes from files: closed ones like boxes, open ones without a volume, no crash.

Sources: interchange.md, section 0 (what scans and models hold, and the mesh that ends a
boolean engine's process); the box of the same size, judged by intervals.
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
import trimesh  # noqa: TID251 - its shapes are the outside source

from model3d import MeshError, SceneError, check, read_scene
from model3d.geometry.bodies.solid import Mesh
from model3d.geometry.frame import Frame
from tests.independent.meshes import (
    ENDINGS,
    KILLER_FACES,
    box,
    joined,
    open_box,
    sheet,
    write,
)

if TYPE_CHECKING:
    from pathlib import Path

pytestmark = pytest.mark.many

Plain = dict[str, Any]

NEAR = 0.05
"""Millimetres: STL and GLB keep single precision."""
PANEL = {
    "id": "LP1",
    "kind": "panelboard",
    "size": [1000, 150, 900],
    "place": {"wall": "north", "along": 2000, "bottom": 900},
    "supply": {"system": "480Y/277"},
    "door": "left",
}


SCAN = {"id": "SCAN", "kind": "obstacle", "grounded": False, "foreign": True}


def judged(
    folder: Path, *items: Plain, units: str = "mm", panel: Plain | None = None
) -> Plain:
    scene = {
        "title": "Meshes",
        "units": units,
        "rules": "nec-2023",
        "room": {"size": [6000, 4000], "height": 4000, "walls": "gypsum"},
        "items": [PANEL | (panel or {}), *items],
    }
    path = folder / "scene.yaml"
    path.write_text(json.dumps(scene), encoding="utf-8")
    report = check(read_scene(path)).document()
    assert json.loads(json.dumps(report)) == report
    return {
        one["requirement"]: one
        for one in report["judgements"]
        if one["subject"] == "LP1"
    }


def mesh_item(folder: Path, name: str, body: tuple[Any, Any], **keys: object) -> Plain:
    """Return an obstacle with a mesh file, its own millimetres the room's."""
    path = folder / name
    return {**SCAN, "mesh": write(path, *body), "units": "mm", **keys}


@pytest.mark.parametrize("ending", ENDINGS)
def test_a_closed_mesh_is_judged_like_the_box_it_is(
    tmp_path: Path, ending: str
) -> None:
    # The front is at y = 3850: the box begins 700 ahead of it.
    low, high = (2200.0, 2900.0, 0.0), (2600.0, 3150.0, 1500.0)
    item = mesh_item(tmp_path, f"scan{ending}", box(low, high))
    as_box = {
        **SCAN,
        "size": [400, 250, 1500],
        "place": {"at": [2400, 3025]},
    }
    one, other = judged(tmp_path, item), judged(tmp_path, as_box)
    assert one.keys() == other.keys()
    for requirement, found in one.items():
        expected = other[requirement]
        assert found["verdict"] == expected["verdict"]
        sizes = expected.get("provided", {})
        assert found.get("provided", {}) == pytest.approx(sizes, abs=NEAR)
        for a, b in zip(
            found.get("intrusions", []), expected.get("intrusions", []), strict=True
        ):
            assert a["volume"] == pytest.approx(b["volume"], rel=1e-4)
            assert a["low"] == pytest.approx(b["low"], abs=NEAR)
            assert a["high"] == pytest.approx(b["high"], abs=NEAR)
    assert one["working-space"]["verdict"] == "not-met"


@pytest.mark.parametrize("ending", ENDINGS)
def test_a_box_turned_inside_out_is_a_box(tmp_path: Path, ending: str) -> None:
    low, high = (2200.0, 2900.0, 0.0), (2600.0, 3150.0, 1500.0)
    vertices, faces = box(low, high)
    item = mesh_item(tmp_path, f"scan{ending}", (vertices, faces[:, ::-1]))
    (intrusion,) = judged(tmp_path, item)["working-space"]["intrusions"]
    assert intrusion["volume"] == pytest.approx(0.4 * 0.2 * 1.5, rel=1e-4)


@pytest.mark.parametrize("ending", ENDINGS)
def test_an_open_box_is_in_the_way_without_a_volume(
    tmp_path: Path, ending: str
) -> None:
    low, high = (2200.0, 2900.0, 0.0), (2600.0, 3150.0, 1500.0)
    item = mesh_item(tmp_path, f"scan{ending}", open_box(low, high))
    found = judged(tmp_path, item)
    space, door = found["working-space"], found["door-swing"]
    assert space["verdict"] == "not-met"
    assert space["provided"]["depth"] == pytest.approx(700, abs=NEAR)
    (intrusion,) = space["intrusions"]
    assert "volume" not in intrusion
    assert intrusion["low"] == pytest.approx([2200, 2950, 0], abs=NEAR)
    assert intrusion["high"] == pytest.approx([2600, 3150, 1500], abs=NEAR)
    # From the left hinge: the near side is 700 ahead, from 200 to 600 across.
    assert door["provided"]["angle"] == pytest.approx(
        np.degrees(np.arctan2(700, 600)), abs=0.02
    )
    assert "volume" not in door["intrusions"][0]


@pytest.mark.parametrize("ending", ENDINGS)
@pytest.mark.parametrize(("ahead", "verdict"), [(899.8, "not-met"), (900.0, "met")])
def test_a_single_sheet(
    tmp_path: Path, ending: str, ahead: float, verdict: str
) -> None:
    y = 3850.0 - ahead
    item = mesh_item(
        tmp_path, f"scan{ending}", sheet((2200.0, y, 0.0), (2600.0, y, 1500.0))
    )
    found = judged(tmp_path, item)["working-space"]
    assert found["verdict"] == verdict
    assert found["provided"]["depth"] == pytest.approx(ahead, abs=NEAR)
    if verdict == "not-met":
        assert "volume" not in found["intrusions"][0]


@pytest.mark.parametrize("inside", [-1.0, 0.0, 0.05, 0.2, 5.0])
def test_an_open_mesh_touches_or_reaches_in(tmp_path: Path, inside: float) -> None:
    low, high = (2200.0, 2500.0, 0.0), (2600.0, 2950.0 + inside, 1500.0)
    item = mesh_item(tmp_path, "scan.ply", open_box(low, high))
    found = judged(tmp_path, item)["working-space"]
    assert found["verdict"] == ("not-met" if inside > 0.1 else "met")


@pytest.mark.parametrize("ending", ENDINGS)
@pytest.mark.parametrize("seed", range(3))
def test_a_mesh_that_ends_the_boolean_engine_never_reaches_it(
    tmp_path: Path, ending: str, seed: int
) -> None:
    low = np.array([2100.0, 3000.0, 900.0])
    vertices = low + np.random.default_rng(seed).uniform(0, 800, (6, 3))
    item = mesh_item(tmp_path, f"pump{ending}", (vertices, KILLER_FACES))
    found = judged(tmp_path, item)
    assert found["working-space"]["verdict"] == "not-met"
    assert all(
        "volume" not in intrusion
        for one in found.values()
        for intrusion in one.get("intrusions", [])
    )


def test_an_open_mesh_in_the_dedicated_space(tmp_path: Path) -> None:
    low, high = (2200.0, 3900.0, 2500.0), (2600.0, 3950.0, 2700.0)
    item = mesh_item(tmp_path, "scan.stl", open_box(low, high))
    found = judged(tmp_path, item)["dedicated-space"]
    assert found["verdict"] == "not-met"
    assert "volume" not in found["intrusions"][0]
    unsaid = {key: value for key, value in item.items() if key != "foreign"}
    assert judged(tmp_path, unsaid)["dedicated-space"]["verdict"] == "open"


def test_a_placed_mesh_stands_with_its_front_where_it_is_put(tmp_path: Path) -> None:
    body = box((5.0, 7.0, -3.0), (405.0, 257.0, 1497.0))
    item = mesh_item(
        tmp_path, "scan.obj", body, place={"at": [2400, 3025], "facing": "south"}
    )
    (intrusion,) = judged(tmp_path, item)["working-space"]["intrusions"]
    assert intrusion["low"] == pytest.approx([2200, 2950, 0], abs=NEAR)
    assert intrusion["high"] == pytest.approx([2600, 3150, 1500], abs=NEAR)


def test_units_scale_turn_and_shift_of_a_mesh(tmp_path: Path) -> None:
    # 0.2 x 0.125 x 0.75 in metres, twice as large, turned by a quarter, moved.
    body = box((0.0, 0.0, 0.0), (0.2, 0.125, 0.75))
    item = mesh_item(
        tmp_path, "scan.ply", body, scale=2, turn=90, shift=[2300, 3300, 0]
    )
    item["units"] = "m"
    (intrusion,) = judged(tmp_path, item)["working-space"]["intrusions"]
    # Clockwise: x goes to minus y, y to x.
    assert intrusion["low"] == pytest.approx([2300, 2950, 0], abs=NEAR)
    assert intrusion["high"] == pytest.approx([2550, 3300, 1500], abs=NEAR)


@pytest.mark.parametrize("ending", ENDINGS)
@pytest.mark.parametrize("shells", ["crosswise", "flush", "one in the other"])
def test_shells_that_overlap_are_counted_once(
    tmp_path: Path, ending: str, shells: str
) -> None:
    low, high = (2200.0, 3100.0, 0.0), (2600.0, 3400.0, 1500.0)
    begin, end = {
        "crosswise": ((2400.0, 3200.0, 500.0), (2800.0, 3700.0, 1800.0)),
        "flush": ((2400.0, 3100.0, 0.0), (2800.0, 3400.0, 1500.0)),
        "one in the other": ((2300.0, 3200.0, 500.0), (2500.0, 3300.0, 900.0)),
    }[shells]
    item = mesh_item(tmp_path, f"scan{ending}", joined(box(low, high), box(begin, end)))
    (intrusion,) = judged(tmp_path, item)["working-space"]["intrusions"]
    blocks = [(low, high), (begin, end)]
    common = np.clip(np.minimum(high, end) - np.maximum(low, begin), 0, None)
    whole = sum(float(np.prod(np.subtract(b, a))) for a, b in blocks)
    assert intrusion["volume"] == pytest.approx(
        (whole - float(np.prod(common))) / 1e9, rel=1e-4
    )
    assert intrusion["low"] == pytest.approx(np.minimum(low, begin), abs=NEAR)
    assert intrusion["high"] == pytest.approx(np.maximum(high, end), abs=NEAR)


@pytest.mark.parametrize("ending", ENDINGS)
def test_a_hollow_is_not_filled(tmp_path: Path, ending: str) -> None:
    vertices, faces = box((2300.0, 3200.0, 500.0), (2500.0, 3300.0, 900.0))
    outer = box((2200.0, 3100.0, 0.0), (2600.0, 3400.0, 1500.0))
    beside = box((2450.0, 3150.0, 600.0), (2800.0, 3700.0, 1800.0))
    body = joined(outer, (vertices, faces[:, ::-1]), beside)
    item = mesh_item(tmp_path, f"scan{ending}", body)
    (intrusion,) = judged(tmp_path, item)["working-space"]["intrusions"]
    # 400 x 300 x 1500, less 200 x 100 x 400, and 350 x 550 x 1200 less what is common
    # with the outer block, 150 x 250 x 900, of which 50 x 100 x 300 fills the hollow.
    whole = 0.18 - 0.008 + 0.231 - (0.03375 - 0.0015)
    assert intrusion["volume"] == pytest.approx(whole, rel=1e-4)


@pytest.mark.parametrize("ending", ENDINGS)
def test_one_shell_that_passes_through_itself_has_no_volume(
    tmp_path: Path, ending: str
) -> None:
    # A tube of 180 around a ring of 120 fills the ring's middle twice.
    ring = trimesh.creation.torus(120, 180, major_sections=16, minor_sections=16)
    vertices = np.add(ring.vertices, (2400.0, 3400.0, 1200.0))
    item = mesh_item(tmp_path, f"scan{ending}", (vertices, np.array(ring.faces)))
    (intrusion,) = judged(tmp_path, item)["working-space"]["intrusions"]
    assert "volume" not in intrusion
    assert intrusion["low"] == pytest.approx([2100, 3100, 1020], abs=NEAR)


def test_what_shells_that_overlap_cover_is_covered_once() -> None:
    # Not united: as a surface with windings of 2 where the shells overlap.
    frame = Frame(0.0, 0.0, (1.0, 0.0), (0.0, 1.0))
    points, faces = joined(box((0, 0, 0), (2, 1, 1)), box((1, 0.5, 0), (3, 2, 1)))
    view = Mesh(points, faces).seen_from(frame)
    assert view.closed
    low, high = (-1.0, -1.0, 0.2), (5.0, 5.0, 0.8)
    assert view.shadow(low, high) == [pytest.approx((0.0, 3.0))]
    assert view.shadow(low, high, axis=1) == [pytest.approx((0.0, 2.0))]
    assert np.array(view.extents(low, high)) == pytest.approx(
        np.array([(0, 0, 0.2), (3, 2, 0.8)])
    )
    # In what both shells fill, where no surface is.
    low, high = (1.2, 0.6, 0.2), (1.8, 0.9, 0.8)
    assert view.shadow(low, high) == [pytest.approx((1.2, 1.8))]
    assert np.array(view.extents(low, high)) == pytest.approx(np.array([low, high]))


@pytest.mark.parametrize(
    "content", [b"", b"solid nothing\nendsolid nothing\n", b"\x00"]
)
@pytest.mark.parametrize("ending", ENDINGS)
def test_a_file_that_is_no_mesh_is_refused(
    tmp_path: Path, ending: str, content: bytes
) -> None:
    (tmp_path / f"scan{ending}").write_bytes(content)
    item = {"id": "SCAN", "kind": "obstacle", "mesh": f"scan{ending}"}
    with pytest.raises((MeshError, SceneError)):
        judged(tmp_path, item)


def test_a_shell_turned_inside_out_beside_others_stays(tmp_path: Path) -> None:
    # All in all the mesh has a volume, so nothing is turned over when it is read.
    one = box((2200.0, 3100.0, 0.0), (2600.0, 3400.0, 1500.0))
    other = box((2500.0, 3200.0, 500.0), (2700.0, 3500.0, 1800.0))
    vertices, faces = box((2900.0, 3000.0, 0.0), (3000.0, 3100.0, 100.0))
    body = joined(one, other, (vertices, faces[:, ::-1]))
    item = mesh_item(tmp_path, "scan.ply", body)
    (intrusion,) = judged(tmp_path, item)["working-space"]["intrusions"]
    whole = 0.4 * 0.3 * 1.5 + 0.2 * 0.3 * 1.3 - 0.1 * 0.2 * 1.0 + 0.001
    assert intrusion["volume"] == pytest.approx(whole, rel=1e-4)
    assert intrusion["high"][0] == pytest.approx(3000, abs=NEAR)


@pytest.mark.parametrize(
    ("ahead", "verdict", "margin"), [(750, "not-met", -150.0), (950, "met", 50.0)]
)
def test_a_part_that_only_touches_takes_nothing_of_the_depth(
    tmp_path: Path, ahead: int, verdict: str, margin: float
) -> None:
    """An arm along the side of the space, and a bar across it: trimesh joins them.

    The panelboard stands from x = 2000 to 3000 with its front at y = 3850.
    """
    bar = 3850.0 - ahead
    parts = [
        trimesh.creation.box(bounds=[[1900, 2000, 0], [2000, 3850, 1500]]),
        trimesh.creation.box(bounds=[[1900, bar - 100, 0], [2600, bar, 1500]]),
    ]
    whole = trimesh.boolean.union(parts, engine="manifold")
    body = np.asarray(whole.vertices), np.asarray(whole.faces)
    panel = {"supply": {"system": "208Y/120"}, "door": "bolted"}
    item = mesh_item(tmp_path, "arm.stl", body)
    found = judged(tmp_path, item, panel=panel)["working-space"]
    assert found["verdict"] == verdict
    assert found["provided"]["depth"] == pytest.approx(ahead, abs=NEAR)
    assert found["margin"] == pytest.approx(margin, abs=NEAR)
    for intrusion in found.get("intrusions", []):
        assert intrusion["high"][1] == pytest.approx(bar, abs=NEAR)
