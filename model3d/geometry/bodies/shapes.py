"""Bodies made from sections: prisms over a plan, runs along a line."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from model3d.geometry.bodies.solid import Mesh
from model3d.geometry.bodies.upright import standing
from model3d.geometry.tolerance import PARALLEL, SAGITTA

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from model3d.geometry.frame import Triple

    Points = NDArray[np.float64]
    Faces = NDArray[np.int64]


def prism(outline: Points, bottom: float, top: float, triangles: Faces) -> Mesh:
    """Stand a polygon up as a closed mesh.

    Args:
        outline: Plan points, shape (n, 2), counter-clockwise, metres.
        bottom: World height of the underside.
        top: World height of the top.
        triangles: Cover the polygon; corners counter-clockwise, shape (n - 2, 3).
    """
    return Mesh(*standing(outline, bottom, top, triangles), sound=True)


def rod(start: Triple, end: Triple, section: Points) -> Mesh:
    """Draw a convex section, shape (n, 2), along the line between two points.

    The section's first axis lies level (east for a vertical line), its second axis
    upwards (north for a vertical line).
    """
    a, b = np.array(start), np.array(end)
    along = (b - a) / np.linalg.norm(b - a)
    level = np.array([along[1], -along[0], 0.0])
    length = float(np.linalg.norm(level))
    side = np.array([1.0, 0.0, 0.0]) if length <= PARALLEL else level / length
    rise = np.cross(side, along)
    if length <= PARALLEL:
        rise = np.array([0.0, 1.0, 0.0])
    ring = section @ np.stack([side, rise])
    count = len(section)
    fan = np.column_stack(
        [np.zeros(count - 2), np.arange(1, count - 1), np.arange(2, count)]
    ).astype(np.int64)
    flat = prism(section, 0.0, 1.0, fan)
    faces = flat.faces
    if float(np.dot(np.cross(side, rise), along)) < 0:
        faces = faces[:, ::-1]
    return Mesh(np.concatenate([a + ring, b + ring]), faces, sound=True)


def round_section(diameter: float) -> Points:
    """Return a many-sided section with the area of a circle, shape (n, 2).

    So many sides that no side differs from the circle by more than the tolerance.
    """
    radius = diameter / 2
    count = max(24, 8 * math.ceil(math.pi / math.acos(1 - SAGITTA / radius) / 8))
    step = 2 * math.pi / count
    angles = np.arange(count) * step
    scaled = radius * math.sqrt(step / math.sin(step))
    return scaled * np.column_stack([np.cos(angles), np.sin(angles)])
