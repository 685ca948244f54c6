"""The map of free places as it is drawn: the same places as the answer tells."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
import pytest
from PIL import Image

from model3d import check, read_scene
from model3d.mending.map.places import free_places
from model3d.mending.placing.answer import answer
from model3d.mending.placing.drawn_map import ground
from tests.mending.test_places import box, room, switch
from tests.paths import SCENES
from viewer.picture.composition import projection_of, signs_in
from viewer.picture.free import free_stage, free_words
from viewer.sheet.layout import layout
from viewer.sheet.letters import WrittenPicture
from viewer.stage import build_stage
from viewer.stage.bodies.free import FREE, free_shapes, is_band
from viewer.stage.looking.views import view_of_place

if TYPE_CHECKING:
    from model3d import Scene
    from model3d.mending.placing.answer import PlaceAnswer
    from viewer.stage.drawn import Points


def _answer(scene: Scene, name: str) -> PlaceAnswer:
    return answer(free_places(scene, name))


def test_the_triangles_cover_the_regions_and_no_more() -> None:
    scene = room(
        switch({"at": [2000, 2000], "facing": "south"}),
        box("C1", [300, 300, 2500], {"at": [1000, 2700]}),
    )
    found = _answer(scene, "DS1")
    (floor,) = found.document()["floor"]
    told = sum(
        _area(one["outer"]) - sum(_area(hole) for hole in one["holes"])
        for one in floor["regions"]
    )
    drawn = sum(_area(corners) for corners in ground(found).triangles)
    assert drawn * 1e6 == pytest.approx(told, abs=2000)


def _area(corners: object) -> float:
    x, y = np.array(corners).T
    return float(abs(np.dot(x, np.roll(y, 1)) - np.dot(y, np.roll(x, 1)))) / 2


def test_a_band_is_where_the_middle_may_be_and_tells_the_left_side() -> None:
    scene = room(switch({"wall": "north", "along": 700, "bottom": 900}))
    there = ground(_answer(scene, "DS1"))
    (north,) = [one for one in there.stretches if one.wall == "north"]
    # The wall is 4 m long and the switch 500 wide; y is 3 at the wall's face.
    assert north.along == (0.0, 3.5)
    assert north.ends == ((0.25, 3.0), (3.75, 3.0))
    x, y = np.mean(there.best, axis=0)
    # As much room is at the south wall; the switch is 200 deep.
    assert (x, min(y, 3 - y)) == (pytest.approx(2.0), pytest.approx(0.1))


def test_what_is_drawn_looks_up_and_stays_beside_its_wall() -> None:
    scene = room(switch({"wall": "north", "along": 700, "bottom": 900}))
    for shape in free_shapes(ground(_answer(scene, "DS1"))):
        if len(shape.faces):
            corners = shape.vertices[shape.faces]
            up = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
            assert (up[:, 2] > 0).all()
            x, y = shape.vertices[:, 0], shape.vertices[:, 1]
            outside = (x <= 0).all() or (x >= 4).all() or (y <= 0).all()
            assert outside or (y >= 3).all()


@pytest.mark.long
@pytest.mark.parametrize(
    ("name", "item", "words"),
    [
        ("pump-station", "TP1", "1320 mm (4 ft 4 in) to spare"),
        ("feet-and-inches", "LP1", "2 ft 10 in (863.6 mm) to spare"),
        ("pump-station", "LP1", "There is no place for LP1. All are barred by: LP1"),
    ],
)
def test_the_picture_says_what_it_shows(name: str, item: str, words: str) -> None:
    scene = read_scene(SCENES / f"{name}.yaml")
    found = _answer(scene, item)
    assert words in free_words(found, scene.units)
    stage, notes = free_stage(build_stage(scene, check(scene)), found)
    shapes = [one for one in stage.shapes if one.layer == FREE]
    assert bool(shapes) == bool(notes)
    assert not stage.judgements
    assert all(math.isfinite(value) for note in notes for value in note.anchor)


@pytest.mark.long
@pytest.mark.parametrize("looking_from", ["above", "south-east"])
@pytest.mark.parametrize("name", ["clean-small-room", "angled-room"])
def test_lengths_of_walls_point_at_the_band_they_are_of(
    name: str, looking_from: str
) -> None:
    """A drawing's leader ends on what it names (common practice in draughting)."""
    scene = read_scene(SCENES / f"{name}.yaml")
    found = _answer(scene, "LP1")
    stage, notes = free_stage(build_stage(scene, check(scene)), found)
    plan = layout(stage, (1600, 1000))
    view = view_of_place(stage, plan.aspect, looking_from=looking_from, margin=0.11)
    sheet = WrittenPicture(Image.new("RGB", (3200, 2000)))
    marks = signs_in(stage, plan, view, sheet.wide, notes=notes).marks
    bands = {
        shape.id: projection_of(plan, view).pixels(shape.vertices)
        for shape in stage.shapes
        if is_band(shape)
    }
    told = [mark for mark in marks if mark.look == "name" and " to " in mark.lines[0]]
    assert len(told) == len(bands) > 4
    hit = [{n for n, one in bands.items() if _within(one, m.anchor)} for m in told]
    assert [len(one) for one in hit] == [1] * len(bands)
    assert set.union(*hit) == set(bands)
    if name == "clean-small-room" and looking_from == "above":
        for mark in told:
            (x, y), (right, down) = mark.anchor, mark.box.middle
            middle = np.concatenate([*bands.values()]).mean(axis=0)
            # Past the band, away from the room: there nothing else is written.
            assert (right - x) * (x - middle[0]) + (down - y) * (y - middle[1]) > 0


def _within(triangles: Points, spot: tuple[float, float]) -> bool:
    for a, b, c in triangles.reshape(-1, 3, 2):
        turns = [
            float(np.linalg.det([q - p, spot - p])) for p, q in ((a, b), (b, c), (c, a))
        ]
        if min(turns) >= -1e-6 or max(turns) <= 1e-6:
            return True
    return False
