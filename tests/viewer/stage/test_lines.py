"""Sizes that belong to no space, and floors that drop, as they are drawn.

The rooms are invented; what is geometry is worked out by hand beside each check.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import pytest

from model3d import Scene, check
from viewer.stage import build_stage

if TYPE_CHECKING:
    from viewer.stage import Stage
    from viewer.stage.drawn import Dimension
    from viewer.stage.rows import ListedJudgement

SWITCH = {
    "id": "DS1",
    "kind": "disconnect",
    "size": [400, 200, 600],
    "place": {"wall": "north", "along": 1000, "bottom": 1500},
    "supply": {"system": "480Y/277", "amps": 60},
}
UNIT = {
    "kind": "energy-storage-unit",
    "size": [600, 600, 1800],
    "supply": {"system": "120/240", "amps": 60},
}


def drawn(*items: dict[str, Any]) -> Stage:
    """Return the stage of a room of 6 m by 4 m."""
    room = {"size": [6000, 4000], "height": 4000, "walls": "concrete"}
    written = {"title": "Shop", "units": "mm", "rules": "nec-2023", "room": room}
    scene = Scene.model_validate({**written, "items": items})
    return build_stage(scene, check(scene))


def found(
    made: Stage, item: str, requirement: str
) -> tuple[ListedJudgement, list[Dimension]]:
    """Return a row and its sizes."""
    (index,) = (
        n
        for n, row in enumerate(made.judgements)
        if (row.subject, row.requirement) == (item, requirement)
    )
    return made.judgements[index], [d for d in made.dimensions if d.judgement == index]


def test_a_handles_height_stands_upright_from_the_floor() -> None:
    """At most 2.0 m (6 ft 7 in): NEC 404.8(A). The grip is at 1500 + 560."""
    _, (size,) = found(drawn({**SWITCH, "handle": 560}), "DS1", "handle-height")
    assert size.most
    assert size.short
    assert size.brief == "2060 mm, at most 2.0 m"
    assert size.brief_other == "6 ft 9 1/8 in, at most 6 ft 7 in"
    assert size.start == size.reached_start
    assert size.start[2] == pytest.approx(0.0)
    assert size.end[:2] == pytest.approx(size.start[:2])
    assert size.reached_end[:2] == pytest.approx(size.start[:2])
    assert size.reached_end[2] == pytest.approx(2.06)
    # At the right end of the front, seen from in front: 1000 + 400 from the left end.
    assert size.start[:2] == pytest.approx((1.4, 3.8))


def test_a_handles_height_is_measured_from_the_platform() -> None:
    platform = {
        "id": "PF1",
        "kind": "platform",
        "size": [1600, 2000, 100],
        "place": {"at": [1200, 3000]},
    }
    made = drawn({**SWITCH, "handle": 600}, platform)
    _, (size,) = found(made, "DS1", "handle-height")
    assert size.start[2] == pytest.approx(0.1)
    assert size.reached_end[2] == pytest.approx(2.1)


def test_a_view_of_a_row_shows_its_size_too() -> None:
    """The item hangs from 1500 to 2100; the size begins at the floor."""
    row, _ = found(drawn({**SWITCH, "handle": 560}), "DS1", "handle-height")
    assert 0.9 < row.look.target[2] < 1.3


def test_a_handle_is_drawn_where_it_is_said_to_be() -> None:
    """The grip of the one leaf at 1500 + 450; where nothing is said, in its middle."""
    leaf = {**SWITCH, "door": "left"}
    for item, height in (({**leaf, "handle": 450}, 1.95), (leaf, 1.8)):
        shape = drawn(item).shape("DS1/leaf-0")
        outermost = shape.vertices[:, 1].min()
        grip = shape.vertices[shape.vertices[:, 1] < outermost + 1e-6]
        assert grip[:, 2].mean() == pytest.approx(height)


def test_where_a_handle_is_not_told_its_height_is_no_shortfall() -> None:
    """The top is at 2100; how high the handle is, is asked."""
    row, (size,) = found(drawn(SWITCH), "DS1", "handle-height")
    assert row.verdict == "open"
    assert not size.short
    assert not any(one.short for one in row.sizes)
    assert "2100 mm" in row.missing
    assert row.measured == ""


def test_the_spacing_of_units_lies_between_them() -> None:
    """914 mm (3 ft) between units; they stand 600 apart, 1300 from 700."""
    made = drawn(
        {**UNIT, "id": "ESU1", "place": {"at": [2000, 2000], "facing": "south"}},
        {**UNIT, "id": "ESU2", "place": {"at": [3200, 2000], "facing": "south"}},
    )
    for item, start, way in (("ESU1", 2.3, 1.0), ("ESU2", 2.9, -1.0)):
        _, (size,) = found(made, item, "storage-unit-spacing")
        assert size.short
        assert size.brief == "600 mm of 914 mm"
        assert size.start[0] == pytest.approx(start)
        assert size.end[0] == pytest.approx(start + way * 0.9144, abs=1e-3)
        assert size.reached_end[0] == pytest.approx(start + way * 0.6)
        assert size.start[1] == size.end[1]
        assert size.start[2] == size.end[2] == pytest.approx(0.0)


def test_the_height_of_live_parts_without_a_guard_stands_upright() -> None:
    """2.9 m (9 ft 6 in): NEC 110.34(E). They are at 2700."""
    high = {"system": "24.9kV/14.4kV", "amps": 400}
    made = drawn({**SWITCH, "supply": high, "unguarded_live_parts": 2700})
    _, (size,) = found(made, "DS1", "guarded-live-parts")
    assert not size.most
    assert size.brief == "2700 mm of 2.9 m"
    assert size.end[2] == pytest.approx(2.9, abs=0.01)
    assert size.reached_end[2] == pytest.approx(2.7)


def test_a_floor_that_drops_is_measured_out_to_its_edge() -> None:
    """A pit 480 before the front; 1.0 m is asked for before a concrete wall."""
    pit = {
        "id": "SU1",
        "kind": "pit",
        "size": [600, 600, 400],
        "place": {"at": [1200, 3020]},
    }
    made = drawn({**SWITCH, "size": [400, 200, 500], "handle": 300}, pit)
    row, (size,) = found(made, "DS1", "clear-floor")
    assert row.verdict == "not-met"
    assert size.short
    assert math.dist(size.reached_start, size.reached_end) == pytest.approx(0.48)
    assert math.dist(size.start, size.end) == pytest.approx(1.0)
    spaces = [made.shape(name) for name in row.shapes]
    assert {shape.role for shape in spaces} == {"space", "footprint", "intrusion"}
    (space,) = (shape for shape in spaces if shape.role == "space")
    asked = {made.judgements[n].requirement for n in space.judgements}
    # One space, which is drawn once for all that ask for it.
    assert {"clear-floor", "storage", "working-space"} <= asked
