"""Scans of millions of triangles are read, cut and drawn as smaller ones are.

Source: the readers of smaller meshes, and cutting all triangles; the bounds are made
small here, so that the files may be.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
import trimesh  # noqa: TID251 - writes what others write

from model3d import check, read_scene
from model3d.geometry.bodies import solid
from model3d.geometry.bodies.solid import Mesh
from model3d.geometry.bodies.strips import ScanView, Strips
from model3d.geometry.bodies.thinned import MOST_FACES, thinned_surface
from model3d.geometry.files import announced, mesh
from model3d.geometry.files.announced import MeshFileError
from model3d.geometry.files.mesh import read_mesh
from model3d.geometry.frame import Frame
from tests.bench.scans import scan

if TYPE_CHECKING:
    from pathlib import Path

    from numpy.typing import NDArray

    Triangles = NDArray[np.float64]

COUNT = 6000


def written(file: Path) -> Path:
    points, faces = scan(COUNT)
    trimesh.Trimesh(points, faces, process=False).export(file)
    return file


def triangles(found: tuple[Triangles, NDArray[np.int64]]) -> Triangles:
    """Return middle and normal of each triangle, in an order of their own."""
    a, b, c = found[0][found[1]].transpose(1, 0, 2)
    rows = np.concatenate([(a + b + c) / 3, np.cross(b - a, c - a)], axis=1)
    return rows[np.lexsort(rows.round(6).T)]


@pytest.mark.parametrize("ending", ["ply", "stl", "glb"])
def test_a_large_file_is_read_as_a_small_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, ending: str
) -> None:
    file = written(tmp_path / f"a.{ending}")
    small = read_mesh(file)
    for module in (mesh, announced):
        monkeypatch.setattr(module, "MOST_TRIANGLES", 1000)
    large = read_mesh(file)
    assert len(large[0]) == len(small[0])
    assert triangles(large) == pytest.approx(triangles(small), abs=1e-9)


def test_a_closed_body_stays_closed_and_is_turned_outwards(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    ball = trimesh.creation.icosphere(subdivisions=4)
    ball.invert()
    ball.export(tmp_path / "a.stl")
    for module in (mesh, announced):
        monkeypatch.setattr(module, "MOST_TRIANGLES", 1000)
    found = Mesh(*read_mesh(tmp_path / "a.stl"))
    assert found.closed
    assert solid.volume(found) == pytest.approx(-ball.volume, rel=1e-6)


def test_a_file_holds_no_more_than_its_own_size(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Of a file of so many bytes a sixth of them are triangles, at most: by hand."""
    file = written(tmp_path / "a.stl")
    for module in (mesh, announced):
        monkeypatch.setattr(module, "MOST_TRIANGLES", 1000)
    monkeypatch.setattr(announced, "LARGEST_SCAN", 2000)
    with pytest.raises(MeshFileError, match="more than 2000 triangles"):
        read_mesh(file)
    assert announced.most_triangles(852) == 1000
    assert announced.most_triangles(9000) == 1500


def test_a_large_file_that_is_not_plain_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    points, faces = scan(COUNT)
    file = tmp_path / "a.ply"
    trimesh.Trimesh(points, faces, process=False).export(file)
    four = file.read_bytes()
    file.write_bytes(four[: -13 * len(faces)] + b"\x04" + bytes(13 * len(faces)))
    for module in (mesh, announced):
        monkeypatch.setattr(module, "MOST_TRIANGLES", 1000)
    with pytest.raises(MeshFileError, match="not only points and triangles"):
        read_mesh(file)


@pytest.mark.parametrize("bearing", [0.0, 37.0])
def test_a_scan_is_cut_as_all_of_its_triangles_are(
    monkeypatch: pytest.MonkeyPatch, bearing: float
) -> None:
    points, faces = scan(COUNT)
    frame = Frame.facing(3.0, 2.0, bearing)
    whole = Mesh(points, faces).seen_from(frame)
    monkeypatch.setattr(solid, "LARGE", 100)
    view = Mesh(points, faces).seen_from(frame)
    assert isinstance(view, ScanView)
    far = float("inf")
    for low, high in (
        ((-1.0, -1.0, 0.0), (1.0, 1.0, 2.0)),
        ((-0.4, 0.0, 0.5), (0.4, far, 1.5)),
        ((-far, -far, 1.0), (far, far, 1.2)),
        ((50.0, 50.0, 0.0), (51.0, 51.0, 2.0)),
    ):
        assert view.extents(low, high) == whole.extents(low, high)
        assert (view.points(low, high) == whole.points(low, high)).all()
        assert view.shadow(low, high) == whole.shadow(low, high)
        assert (view.plan_edges(low, high) == whole.plan_edges(low, high)).all()
        assert (view.outlook(low, high) == whole.outlook(low, high)).all()


@pytest.mark.parametrize("most", [300, 1500])
def test_what_is_drawn_of_a_scan_is_little_and_lies_on_it(most: int) -> None:
    points, faces = scan(COUNT)
    some, few = thinned_surface(points, faces, most)
    assert most / 5 < len(few) <= most
    assert {*map(tuple, some)} <= {*map(tuple, points)}
    assert np.ptp(some, axis=0) == pytest.approx(np.ptp(points, axis=0), rel=0.1)


@pytest.mark.long
def test_a_scan_that_is_drawn_in_part_is_judged_whole_and_says_so(
    tmp_path: Path,
) -> None:
    points, faces = scan(220_000)
    trimesh.Trimesh(points, faces, process=False).export(tmp_path / "a.ply")
    (tmp_path / "room.yaml").write_text(
        "title: Scan\nunits: m\nrules: nec-2023\n"
        "room: {size: [6, 4], height: 3, walls: gypsum}\n"
        "items:\n  - {id: S1, kind: obstacle, mesh: a.ply}\n"
    )
    report = check(read_scene(tmp_path / "room.yaml"))
    (told,) = [one.what for one in report.assumed if one.item == "S1"]
    assert "At most 200000 triangles of it are drawn." in told
    assert report.arrangement is not None
    placed = report.arrangement.items["S1"]
    assert placed.drawn is not None
    assert len(placed.solid.mesh[1]) > MOST_FACES
    assert MOST_FACES / 5 < len(placed.drawn.mesh[1]) <= MOST_FACES


@pytest.mark.parametrize("wide", [0.02, 0.3, 3.0, 99.0])
def test_what_is_near_a_box_is_the_same_however_much_that_is(wide: float) -> None:
    """Found one by one: a triangle's bounds meet the box, contact included."""
    dice = np.random.default_rng(7)
    points = dice.random((4000, 3)) * 3.0
    faces = dice.integers(0, len(points), (9000, 3))
    bounds = (points.min(axis=0).tolist(), points.max(axis=0).tolist())
    view = ScanView(
        points,
        faces,
        (tuple(bounds[0]), tuple(bounds[1])),
        Strips.of(points, faces),
        Frame.facing(0.0, 0.0, 0.0),
    )
    corners = points[faces]
    for _ in range(5):
        low = dice.random(3) * 3.0
        high = low + wide
        meets = (corners.min(axis=1) <= high) & (corners.max(axis=1) >= low)
        found = view.meeting(tuple(low.tolist()), tuple(high.tolist()))
        assert found.tolist() == np.flatnonzero(meets.all(axis=1)).tolist()
