"""A scene that is drawn and brought back has the same places and the same verdicts."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from model3d import check, read_scene, read_text
from model3d.scene.parts.placement import BEARING, At
from model3d.standing.arrangement import arrange
from tests.exchange.dxf.drawn_plans import Drawing, Folder, read_here
from tests.paths import ROOT

if TYPE_CHECKING:
    from pathlib import Path

    from model3d import Scene

BOXES = (
    *("angled-room", "clean-small-room", "facing-lineups", "around-the-corner"),
    *("pump-station", "one-way-out"),
)


def boxes_of(scene: Scene) -> Scene:
    """Return a scene with its boxes alone, which stand on the floor or hang."""
    items = tuple(
        one
        for one in scene.items
        if one.size is not None and one.mesh is None and one.place is not None
    )
    return scene.model_copy(update={"items": items, "lesson": None})


def drawn(scene: Scene, folder: Folder) -> None:
    """Draw a scene's floor and footprints, each on a layer of its own, in metres."""
    drawing = Drawing(6)
    standing = arrange(scene)
    assert scene.room is not None
    outline = standing.shell.outline
    drawing.closed("ROOM", [(float(x), float(y)) for x, y in outline])
    rows = ["Layer,Becomes,Bottom (m),Top (m),Facing"]
    rows.append(f"ROOM,room outline,,{standing.shell.height!r},")
    for item in scene.items:
        vertices, _ = standing.items[item.id].solid.mesh
        low, high = float(vertices[:, 2].min()), float(vertices[:, 2].max())
        front = standing.items[item.id].front
        assert front is not None
        frame = front.frame
        local = frame.local(np.asarray(vertices))
        (u0, v0, _), (u1, v1, _) = local.min(axis=0), local.max(axis=0)
        corners = [(u0, v0), (u1, v0), (u1, v1), (u0, v1)]
        points = [frame.to_plan(float(u), float(v)) for u, v in corners]
        drawing.closed(item.id, points)
        x, y = frame.to_plan(float(u0 + u1) / 2, float(v0 + v1) / 2)
        said = {"layer": item.id, "insert": (x, y), "height": 0.001}
        drawing.space.add_text(item.id, dxfattribs=said)
        bearing = float(np.degrees(np.arctan2(*frame.out))) % 360
        rows.append(f"{item.id},{item.kind},{low!r},{high!r},{bearing!r}")
    folder.draw(drawing).table("\n".join(rows) + "\n")


def brought_back(scene: Scene, folder: Folder) -> Scene:
    """Draw a scene, bring it back, and say again what no plan says."""
    drawn(scene, folder)
    found = folder.scene("--units", scene.units)
    said = {item.id: item for item in scene.items}
    assert {one.id for one in found.items} == {*said}
    items = tuple(
        said[one.id].model_copy(update={"size": one.size, "place": one.place})
        for one in found.items
    )
    items = tuple(sorted(items, key=lambda one: [*said].index(one.id)))
    assert scene.room is not None
    assert found.room is not None
    keys = ("size", "outline", "height")
    shape = {key: getattr(found.room, key) for key in keys}
    room = scene.room.model_copy(update=shape)
    return scene.model_copy(update={"items": items, "room": room})


def verdicts(scene: Scene) -> list[tuple[str, str, str]]:
    found = check(scene).judgements
    return [(one.requirement, one.subject, one.verdict) for one in found]


@pytest.mark.long
@pytest.mark.parametrize("name", BOXES)
def test_an_example_room_comes_back(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    read_here(monkeypatch)
    scene = boxes_of(read_scene(ROOT / "scenes" / f"{name}.yaml"))
    back = brought_back(scene, Folder(tmp_path))
    one, other = arrange(scene).items, arrange(back).items
    for name_, placed in one.items():
        if name_ not in {item.id for item in scene.items}:
            continue
        low, high = placed.solid.bounds
        assert other[name_].solid.bounds[0] == pytest.approx(low, abs=2e-5)
        assert other[name_].solid.bounds[1] == pytest.approx(high, abs=2e-5)
    assert verdicts(back) == verdicts(scene)


@pytest.mark.long
@given(
    st.sampled_from([*BEARING]),
    st.integers(0, 40),
    st.tuples(st.integers(1, 12), st.integers(1, 6)),
)
@settings(
    max_examples=15,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
def test_a_board_at_any_wall_faces_the_room(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    wall: str,
    along: int,
    size: tuple[int, int],
) -> None:
    read_here(monkeypatch)
    width, depth = 200 + 100 * size[0], 50 + 50 * size[1]
    text = f"""
title: One board
units: mm
rules: nec-2023
room: {{size: [6000, 6000], height: 3000}}
items:
  - id: LP1
    kind: panelboard
    size: [{width}, {min(depth, width)}, 900]
    place: {{wall: {wall}, along: {100 * along}, bottom: 900}}
"""
    scene = read_text(text, tmp_path / "drawn.yaml")
    folder = Folder(tmp_path)
    drawn(scene, folder)
    table = (tmp_path / "layers.csv").read_text("utf-8").splitlines()
    folder.table("\n".join(line.rpartition(",")[0] for line in table) + "\n")
    for file in folder.made():
        (tmp_path / file).unlink()
    if 100 * along + width > 6000:
        return
    place = folder.scene().items[0].place
    assert isinstance(place, At)
    away = (BEARING[wall] + 180) % 360
    assert place.facing == {turn: word for word, turn in BEARING.items()}[away]
