"""Files of points: every format gives the same; a bad one is told in few words."""

from __future__ import annotations

import contextlib
import struct
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from model3d.geometry.clouds import faults
from model3d.geometry.clouds.faults import PointFileError
from model3d.geometry.clouds.pcd import unpacked
from model3d.geometry.clouds.reader import POINT_ENDINGS, read_points
from tests.geometry.clouds.written import WRITERS, lzf, pcd_head, sealed

if TYPE_CHECKING:
    from pathlib import Path

PLACES = np.round(np.random.default_rng(17).random((500, 3)) * [6.0, 4.0, 3.0], 4)
PLACES[7] = (-1.5, 0.0, 1e-4)


@pytest.mark.long
@pytest.mark.parametrize("name", WRITERS)
def test_every_format_gives_the_same_points(name: str, tmp_path: Path) -> None:
    file, write = WRITERS[name]
    write(tmp_path / file, PLACES)
    found = read_points(tmp_path / file)
    assert found.dtype == np.float64
    # The library writes E57 in single precision.
    np.testing.assert_allclose(
        found, PLACES, rtol=0, atol=1e-6 if name == "e57" else 1e-9
    )


def test_every_ending_is_tried() -> None:
    tried = {f".{file.lower().split('.')[1]}" for file, _ in WRITERS.values()}
    assert tried == {*POINT_ENDINGS}


@pytest.mark.long
@pytest.mark.parametrize("name", WRITERS)
@pytest.mark.parametrize("share", [0.0, 0.3, 0.97])
def test_a_file_that_is_cut_off_is_told(
    name: str, share: float, tmp_path: Path
) -> None:
    file, write = WRITERS[name]
    write(tmp_path / file, PLACES)
    whole = (tmp_path / file).read_bytes()
    (tmp_path / file).write_bytes(whole[: int(share * len(whole))])
    if name in {"xyz", "txt", "csv"} and share:
        # Text without a header may end anywhere: only a row that is cut is seen.
        with contextlib.suppress(PointFileError):
            assert len(read_points(tmp_path / file)) < len(PLACES)
        return
    with pytest.raises(PointFileError) as caught:
        read_points(tmp_path / file)
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize(
    "name", [one for one in WRITERS if one not in {"las", "laz", "e57"}]
)
@pytest.mark.parametrize("worst", [np.nan, np.inf, -1e200])
def test_what_is_no_place_is_told(name: str, worst: float, tmp_path: Path) -> None:
    file, write = WRITERS[name]
    places = PLACES.copy()
    places[3, 1] = worst
    write(tmp_path / file, places)
    with pytest.raises(PointFileError, match="point 4 is no finite place"):
        read_points(tmp_path / file)


def test_a_pcd_row_without_a_number_is_no_measurement(tmp_path: Path) -> None:
    _, write = WRITERS["pcd binary"]
    places = PLACES.copy()
    places[3] = np.nan
    write(tmp_path / "a.pcd", places)
    assert len(read_points(tmp_path / "a.pcd")) == len(PLACES) - 1


@pytest.mark.long
@pytest.mark.parametrize(
    ("file", "data", "said"),
    [
        ("a.xyz", b"", "no points"),
        ("a.xyz", b"1 2\n3 4\n", "fewer than three columns"),
        ("a.xyz", b"1 2 3\n4 five 6\n", "row 2 has no three numbers"),
        ("a.csv", b"x,y,z\n", "no points"),
        ("a.csv", b"1,2,3\n4,5\n", "row 2 has no three numbers"),
        ("a.csv", b"1,5;2,5;3,5\n1,5;2,5;3,5\n", "row 1 has no three numbers"),
        ("a.ply", b"solid\n", "no PLY header"),
        ("a.ply", b"ply\nformat ascii 1.0\nend_header\n", "cannot be read"),
        ("a.pcd", b"VERSION 0.7\n", "no PCD header"),
        ("a.pcd", pcd_head(3, "packed"), "cannot be read"),
        ("a.pcd", pcd_head(-3, "ascii"), "no points"),
        ("a.pcd", pcd_head(3, "ascii").replace(b"H 3", b"H 4"), "says 3 points, and 4"),
        ("a.pcd", pcd_head(3, "ascii").replace(b"x y z", b"x y t"), "no x, y and z"),
        ("a.pcd", pcd_head(10**15, "binary"), "more than 10000000 points"),
        (
            "a.pcd",
            pcd_head(1, "binary_compressed") + struct.pack("<II", 2, 36) + b"\x20\x05",
            "packed part is damaged",
        ),
        (
            "a.pcd",
            pcd_head(10**6, "binary_compressed").replace(b"T 3", b"T 999")
            + struct.pack("<II", 0, 4020 * 10**6),
            "holds more than 512 MiB",
        ),
        ("a.las", b"LASF" + bytes(50), "no LAS file"),
        ("a.laz", b"nothing", "no LAS file"),
        (
            "a.las",
            b"LASF" + bytes(90) + struct.pack("<HII", 227, 227, 2**32 - 1) + bytes(400),
            "more records than it has room for",
        ),
        ("a.e57", b"ASTM-E57" + bytes(4096), "no E57 file"),
    ],
)
def test_bad_files_are_told(file: str, data: bytes, said: str, tmp_path: Path) -> None:
    (tmp_path / file).write_bytes(data)
    with pytest.raises(PointFileError, match=said):
        read_points(tmp_path / file)


@pytest.mark.long
@pytest.mark.parametrize("name", ["laz", "e57"])
def test_a_file_that_ends_its_reader_is_told(name: str, tmp_path: Path) -> None:
    # Its packed points speak of chunks without end: the library asks for so much memory
    # that the whole process was ended, with a traceback of another language.
    file, write = WRITERS[name]
    write(tmp_path / file, np.random.default_rng(1).random((300, 3)))
    data = (tmp_path / file).read_bytes()
    for cut in range(len(data) // 3, len(data) - 20, len(data) // 5):
        (tmp_path / file).write_bytes(data[:cut] + data[cut + 1 :])
        with pytest.raises(PointFileError, match=r"damaged|ended without an answer"):
            read_points(tmp_path / file)


@pytest.mark.long
def test_an_e57_file_with_fewer_points_than_it_says_is_told(tmp_path: Path) -> None:
    """Its reader would give what lay in memory, other points in every run."""
    file = tmp_path / "a.e57"
    WRITERS["e57"][1](file, PLACES)
    data = file.read_bytes()
    assert data.count(b'recordCount="500"') == 1
    more = data.replace(b'recordCount="500"', b'recordCount="900"')
    file.write_bytes(sealed(more))
    with pytest.raises(PointFileError, match="says 900 points, and it has fewer"):
        read_points(file)


@pytest.mark.parametrize("ending", POINT_ENDINGS)
def test_a_folder_is_no_file(ending: str, tmp_path: Path) -> None:
    (tmp_path / f"a{ending}").mkdir()
    with pytest.raises(OSError, match="directory"):
        read_points(tmp_path / f"a{ending}")


@pytest.mark.long
def test_too_many_points_are_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(faults, "MOST_POINTS", 100)
    for file, write in WRITERS.values():
        write(tmp_path / file, PLACES)
        with pytest.raises(PointFileError, match="more than 100 points"):
            read_points(tmp_path / file)


@given(st.binary(max_size=600))
def test_what_was_packed_is_unpacked(data: bytes) -> None:
    assert unpacked(lzf(data), len(data)) == data


@given(st.binary(max_size=60), st.integers(0, 200))
def test_unpacking_anything_ends(data: bytes, size: int) -> None:
    with contextlib.suppress(PointFileError):
        assert len(unpacked(data, size)) == size
