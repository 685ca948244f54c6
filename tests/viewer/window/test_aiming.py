"""Where the camera of the window goes, and what it sees from there."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

from tests.viewer.window.window_rooms import bring_shelf, window_state
from viewer.sheet.projection import Projection
from viewer.stage.cameras import corners
from viewer.window.aiming import AimStart
from viewer.window.frame import framed
from viewer.window.poses import Pose
from viewer.window.shown import shapes_shown
from viewer.window.state import Action, WindowState

if TYPE_CHECKING:
    from viewer.stage.parts import Shape


def test_views_by_their_names_aim_the_camera() -> None:
    state = window_state()
    start = Pose((0.0, 0.0, 0.0), 10.0, 10.0, 1.0)
    frame = framed(1280, 820, lesson=False)
    state.do(Action("view", "above"))
    assert state.aim is not None
    above = state.aim.pose(start, frame)
    assert above.elevation == pytest.approx(90.0)
    state.do(Action("view", "north"))
    assert state.aim.pose(start, frame).bearing == pytest.approx(0.0, abs=1e-6)
    state.do(Action("whole"))
    assert state.aim.pose(start, frame).bearing == pytest.approx(10.0)


@pytest.mark.parametrize("name", ["south-east", "north", "above"])
@pytest.mark.parametrize("size", [(900, 600), (1600, 1000)])
def test_the_whole_room_is_seen_above_the_tools(
    name: str, size: tuple[int, int]
) -> None:
    state = window_state()
    state.do(Action("view", name))
    frame = framed(*size, lesson=False)
    assert state.aim is not None
    pose = state.aim.pose(Pose((0.0, 0.0, 0.0), 10.0, 10.0, 1.0), frame)
    room = frame.room
    wide, tall = round(room.right - room.left), round(room.bottom - room.top)
    points = corners(state.stage.low, state.stage.high)
    # Projection is what still pictures are drawn by.
    x, y = Projection(pose.view(frame.aspect), wide, tall).pixels(points).T
    assert x.min() > 0
    assert x.max() < wide
    assert y.min() > 0
    assert y.max() < tall * (1 - frame.foot)


def test_the_first_view_is_one_in_which_the_trouble_is_seen() -> None:
    state = window_state()
    bring_shelf(state)
    frame = framed(1280, 820, lesson=False)
    start = AimStart(state.stage)
    pose = start.pose(Pose((0.0, 0.0, 0.0), 10.0, 10.0, 1.0), frame)
    # Nothing stands between the south-east corner and the panel on the west wall.
    assert start.name == "south-east"
    assert pose.bearing == pytest.approx(142.0)
    screen = _block(state.stage.shape("S1"), (1.0, 0.2, 0.0), (1.1, 2.6, 2.7))
    hidden = replace(state.stage, shapes=(*state.stage.shapes, screen))
    assert AimStart(hidden).name == ""


def test_what_stands_before_a_picked_row_is_seen_through() -> None:
    state = window_state()
    bring_shelf(state)
    state.do(Action("form"))
    number = next(
        n
        for n, one in enumerate(state.stage.findings)
        if (one.subject, one.requirement) == ("LP1", "working-space")
    )
    look = state.stage.findings[number].look
    eye, target = np.array(look.eye), np.array(look.target)
    middle = eye + (target - eye) * 0.5
    screen = _block(state.stage.shape("S1"), middle - 0.4, middle + 0.4)
    state.stage = replace(state.stage, shapes=(*state.stage.shapes, screen))
    state.do(Action("nothing"))
    assert _drawn(state, "screen").opacity == 1.0
    state.do(Action("pick", number=number))
    assert _drawn(state, "screen").opacity < 0.5
    assert _drawn(state, "S1").opacity == 1.0  # it is what is in the way


def _drawn(state: WindowState, shape: str) -> Shape:
    layers = shapes_shown(state).values()
    return next(one for layer in layers for one in layer if one.id == shape)


def _block(like: Shape, low: object, high: object) -> Shape:
    """Return a shape of the same make, with other corners and another name."""
    ends = like.vertices.min(axis=0), like.vertices.max(axis=0)
    share = (like.vertices - ends[0]) / (ends[1] - ends[0])
    vertices = np.asarray(low) + share * np.subtract(high, low)  # type: ignore[call-overload]
    return replace(like, id="screen", item="screen", vertices=vertices)
