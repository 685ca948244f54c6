"""Where cameras stand: by compass direction, and so that all of something is seen."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING, Final

import numpy as np

from viewer.stage.drawn import View

if TYPE_CHECKING:
    from collections.abc import Sequence

    from viewer.stage.drawn import Point, Points

ANGLE: Final = 28.0
"""Degrees from the bottom of the picture to its top."""
ELEVATION: Final = 32.0
"""Degrees above the horizon of a view from a compass direction."""
ASPECT: Final = 1.6
"""Width by height of the picture a view is made for, where nothing else is said."""
MARGIN: Final = 0.05
"""Share of the picture kept free on each side."""
NEAREST: Final = 0.1
"""Metres ahead of the eye of all that a view is made for: about what one could touch.

A cloud that widens away from its nearest point would else be seen from that very point.
"""

BEARINGS: Final = {
    "south-east": 142.0,
    "south-west": 218.0,
    "north-west": 322.0,
    "north-east": 38.0,
    "south": 180.0,
    "east": 90.0,
    "north": 0.0,
    "west": 270.0,
}
"""Degrees clockwise from north, seen from the room's middle, in which the eye is.

A few degrees off a diagonal: a square corner is not seen on its very edge.
"""
_LEAST: Final = 0.1
"""Metres. The least width of a plan."""
ABOVE: Final = "above"
DIRECTIONS: Final = (*BEARINGS, ABOVE)


def towards_eye(bearing: float, elevation: float = ELEVATION) -> Point:
    """Return the unit vector from what is looked at to the eye.

    Args:
        bearing: Degrees clockwise from north.
        elevation: Degrees above the horizon.
    """
    angle, rise = math.radians(bearing), math.radians(elevation)
    flat = math.cos(rise)
    return flat * math.sin(angle), flat * math.cos(angle), math.sin(rise)


def direction(name: str) -> Point:
    """Return the unit vector towards the eye of a view by its name.

    Raises:
        ValueError: There is no such view; the message lists them.
    """
    if name == ABOVE:
        return 0.0, 0.0, 1.0
    if name not in BEARINGS:
        msg = f"found the view {name}, right is {', '.join(DIRECTIONS)}"
        raise ValueError(msg)
    return towards_eye(BEARINGS[name])


@cache
def _axes(east: float, north: float, high: float) -> tuple[Points, Points, Points]:
    """Return right, up and back of a camera whose eye lies that way; all are kept.

    Few ways are asked for, and a room asks for each of them very often.
    """
    back = np.array((east, north, high))
    up = np.array([0.0, 1.0, 0.0] if abs(back[2]) > 0.999 else [0.0, 0.0, 1.0])  # noqa: PLR2004
    right = np.cross(up, back)
    right /= np.linalg.norm(right)
    return right, np.cross(back, right), back


def framed(
    points: Points,
    eye_direction: Point,
    *,
    aspect: float = ASPECT,
    name: str = "",
    margin: float = MARGIN,
    room: Points | None = None,
) -> View:
    """Return the nearest camera that sees all points, with a margin about them.

    The eye's place is the exact answer of five inequalities: each side of the picture
    is a plane through the eye, and no point may lie outside it, nor nearer than
    `NEAREST`. Where that leaves it free to one side, it stands so that the room fills
    the picture.

    Args:
        points: Shape (n, 3).
        eye_direction: Unit vector towards the eye.
        aspect: Width by height of the picture.
        name: Of the view.
        margin: Share of the picture kept free on each side.
        room: What else there is to be seen, shape (m, 3); outside it all is empty.
    """
    right, up, back = _axes(*map(float, eye_direction))
    x, y, z = points @ right, points @ up, points @ -back
    around = points if room is None else room
    axes = np.array([right, up, -back])
    if name == ABOVE:
        return _parallel(name, axes, (x, y, z), around @ axes.T, aspect, margin)
    whole = math.tan(math.radians(ANGLE / 2))
    tall = whole * (1 - 2 * margin)
    ends = []
    for across, slope in ((x, tall * aspect), (y, tall)):
        low = float((across - slope * z).max())
        high = float((across + slope * z).min())
        ends.append((low, high, slope))
    depth = min((high - low) / (2 * slope) for low, high, slope in ends)
    depth = min(depth, float(z.min()) - NEAREST)
    off = around @ -back - depth
    ahead, off = around[off > 0], off[off > 0]
    stands = []
    for (low, high, slope), way, edge in zip(
        ends, (right, up), (whole * aspect, whole), strict=True
    ):
        free = low + slope * depth, high - slope * depth
        across = ahead @ way
        begins = float((across + edge * off).min())
        stops = float((across - edge * off).max())
        stands.append(_filling(free, (begins, stops)))
    eye = right * stands[0] + up * stands[1] - back * depth
    far = float(z.mean()) - depth
    target = eye - back * far
    width = 2 * far * math.tan(math.radians(ANGLE / 2)) * aspect
    return View(name, _point(eye), _point(target), _point(up), ANGLE, width)


def _filling(free: tuple[float, float], filled: tuple[float, float]) -> float:
    """Return where between two ends an eye stands so that the room fills the picture.

    Args:
        free: From where to where it may stand, as little apart as need be.
        filled: From where to where the room reaches both edges of the picture; the
            wrong way round where it is too narrow: then it stands in the middle.
    """
    least, most = min(free), max(free)
    begins, stops = filled
    if begins > stops:
        wanted = (begins + stops) / 2
    else:
        wanted = min(max((least + most) / 2, begins), stops)
    return min(max(wanted, least), most)


def _parallel(
    name: str,
    axes: Points,
    places: tuple[Points, Points, Points],
    around: Points,
    aspect: float,
    margin: float,
) -> View:
    """Return the camera of a plan: lines that are parallel stay so."""
    right, up, back = axes[0], axes[1], -axes[2]
    spans = [(float(v.min()), float(v.max())) for v in places]
    (left, end), (low, high), (near, far) = spans
    width = max(end - left, (high - low) * aspect, _LEAST) / (1 - 2 * margin)
    stands = []
    for (first, last), half, across in (
        ((left, end), width / 2, around[:, 0]),
        ((low, high), width / aspect / 2, around[:, 1]),
    ):
        kept = half * (1 - 2 * margin)
        filled = float(across.min()) + half, float(across.max()) - half
        stands.append(_filling((last - kept, first + kept), filled))
    middle = right * stands[0] + up * stands[1]
    target = middle - back * far
    eye = middle - back * (near - width)
    return View(
        name, _point(eye), _point(target), _point(up), ANGLE, width, parallel=True
    )


def orbit(
    seen: Sequence[Points], bearings: Sequence[float], *, aspect: float = ASPECT
) -> list[View]:
    """Return cameras on a circle, all as far from the middle as the widest needs.

    Args:
        seen: What each of them must see, shape (n, 3).
        bearings: Where each of them stands, degrees clockwise from north.
        aspect: Width by height of the picture.
    """
    ends = np.array([(points.min(axis=0), points.max(axis=0)) for points in seen])
    middle = (ends[:, 0].min(axis=0) + ends[:, 1].max(axis=0)) / 2
    tall = math.tan(math.radians(ANGLE / 2)) * (1 - 2 * MARGIN)
    away = 0.0
    stands = []
    for points, bearing in zip(seen, bearings, strict=True):
        back = np.array(towards_eye(bearing))
        right = np.cross([0.0, 0.0, 1.0], back)
        right /= np.linalg.norm(right)
        up = np.cross(back, right)
        off = points - middle
        needs = np.maximum(abs(off @ right) / aspect, abs(off @ up)) / tall
        away = max(away, float((needs + off @ back).max()))
        stands.append((back, up))
    width = 2 * away * math.tan(math.radians(ANGLE / 2)) * aspect
    target = _point(middle)
    return [
        View("", _point(middle + back * away), target, _point(up), ANGLE, width)
        for back, up in stands
    ]


def suited(view: View, aspect: float) -> View:
    """Return a view so that a picture of another shape holds all of it.

    Args:
        view: Made for a picture of the usual shape.
        aspect: Width by height of the picture it is wanted for.
    """
    if view.parallel:
        return replace(view, width=view.width * max(1.0, aspect / ASPECT))
    back = max(1.0, ASPECT / aspect)
    eye = np.array(view.target) + np.subtract(view.eye, view.target) * back
    return replace(view, eye=_point(eye), width=view.width * back)


def between(start: View, end: View, share: float) -> View:
    """Return the camera on its way from one to another.

    Args:
        start: Where it comes from.
        end: Where it goes.
        share: 0 at the start, 1 at the end; it sets off and arrives gently.
    """
    gentle = share * share * (3 - 2 * share)

    def mixed(one: Point, other: Point) -> Point:
        return _point(np.array(one) + (np.array(other) - one) * gentle)

    up = np.array(mixed(start.up, end.up))
    return View(
        end.name,
        mixed(start.eye, end.eye),
        mixed(start.target, end.target),
        _point(up / np.linalg.norm(up)),
        start.angle + (end.angle - start.angle) * gentle,
        start.width + (end.width - start.width) * gentle,
        parallel=end.parallel,
    )


def corners_of(low: Point, high: Point) -> Points:
    """Return the corners of a box of the world, shape (8, 3)."""
    ends = np.array([low, high])
    picks = np.array([(a, b, c) for a in (0, 1) for b in (0, 1) for c in (0, 1)])
    found: Points = ends[picks, np.arange(3)]
    return found


def _point(vector: Points) -> Point:
    return float(vector[0]), float(vector[1]), float(vector[2])
