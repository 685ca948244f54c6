"""Boxes that stand in each other answer the same as one mesh of them.

Source: trimesh, which unites the same boxes into one body that is not convex, or lays
their shells into one mesh; the boxes by themselves are judged by intervals.
"""

from __future__ import annotations

from random import Random
from typing import TYPE_CHECKING, Any, Final

import numpy as np
import pytest
import trimesh  # noqa: TID251 - its union is the outside source

from model3d import Scene, check
from model3d.scene.scene import Origin
from tests.fuzz.rooms import room

if TYPE_CHECKING:
    from pathlib import Path

    from numpy.typing import NDArray

    Box = NDArray[np.float64]

Plain = dict[str, Any]

NEAR: Final = 0.5
"""Millimetres: an STL file keeps single precision."""

WHOLE: Final = {"entrance", "second-entrance", "as-drawn"}
"""A mesh is stepped over, and gone under, as a whole; boxes one by one."""


def boxes(draw: Random, size: tuple[int, int]) -> list[Box]:
    """Return two to four boxes in a room, each of which stands in an earlier one."""
    far = np.array([*size, 3000])
    sides = [draw.randrange(50, 800, 10) for _ in range(3)]
    low = np.array(
        [draw.randrange(50, size[axis] - sides[axis], 10) for axis in (0, 1)]
        + [draw.choice((0, 0, 300, 1200, 1900))]
    )
    found = [np.array([low, low + sides], dtype=float)]
    while len(found) < draw.randint(2, 4):
        one = draw.choice(found)
        sides = [draw.randrange(30, 1200, 10) for _ in range(3)]
        at = [round(draw.uniform(*one[:, axis]), -1) for axis in range(3)]
        low = np.array(at) - [draw.choice((0, 0.5, 1)) * side for side in sides]
        made = np.array([np.maximum(low, (10, 10, 0)), np.minimum(low + sides, far)])
        made[1] = np.minimum(made[1], far - 10)
        common = np.minimum(made[1], one[1]) - np.maximum(made[0], one[0])
        if common.min() > 0:
            found.append(made)
    return found


def apart(bodies: list[Box]) -> list[Plain]:
    """Return them as items of their own."""
    items = []
    for number, (low, high) in enumerate(bodies):
        x, y, _ = (low + high) / 2
        place = {"at": [x, y], "facing": "south", "bottom": low[2]}
        item = {"id": f"C{number}", "kind": "obstacle", "place": place}
        items.append(item | {"size": (high - low).tolist()})
    return items


def rows(scene: Plain, folder: Path) -> dict[tuple[str, ...], tuple[str, Plain, float]]:
    """Return what is judged of the gear: verdict, what is provided, margin."""
    made = Scene.model_validate(scene, context=Origin(folder / "scene.yaml"))
    return {
        (
            one["requirement"],
            one["subject"],
            str(one.get("leaf")),
            one.get("side", ""),
        ): (
            one["verdict"],
            one.get("provided", {}),
            one.get("margin", 0.0),
        )
        for one in check(made).document()["judgements"]
        if one["requirement"] not in WHOLE and not one["subject"].startswith("C")
    }


@pytest.mark.long
@pytest.mark.parametrize("form", ["united", "shells"])
@pytest.mark.parametrize(
    "seeds",
    [
        range(10),
        pytest.param(range(10, 60), marks=pytest.mark.many),
    ],
)
def test_one_mesh_answers_as_its_boxes(seeds: range, form: str, tmp_path: Path) -> None:
    compared = 0
    for seed in seeds:
        draw = Random(seed)  # noqa: S311 - the same rooms each time
        scene = room(draw)
        scene["room"]["height"] = 3000
        bodies = boxes(draw, scene["room"]["size"])
        solids = [trimesh.creation.box(bounds=one / 1000) for one in bodies]
        if form == "united":
            mesh = trimesh.boolean.union(solids, engine="manifold")
        else:
            mesh = trimesh.util.concatenate(solids)
        mesh.export(tmp_path / "C.stl")
        whole = {"id": "C", "kind": "obstacle", "mesh": "C.stl", "units": "m"}
        items = scene["items"]
        expected = rows({**scene, "items": [*items, *apart(bodies)]}, tmp_path)
        found = rows({**scene, "items": [*items, whole]}, tmp_path)
        assert found.keys() == expected.keys(), seed
        for key, (verdict, provided, margin) in expected.items():
            assert found[key][0] == verdict, (seed, key)
            assert found[key][1] == pytest.approx(provided, abs=NEAR), (seed, key)
            assert found[key][2] == pytest.approx(margin, abs=NEAR), (seed, key)
        compared += len(expected)
    assert compared > 5 * len(seeds)
