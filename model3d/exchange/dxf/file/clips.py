"""What the clips of inserted blocks leave to be seen, and where something is drawn.

Source: the DXF reference: a block is clipped by a SPATIAL_FILTER in the dictionary of
its insert; ezdxf reads its path in the block's own system.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any, Literal

from model3d.geometry.plan.lines.clip_window import seen_through
from model3d.units import FARTHEST

if TYPE_CHECKING:
    from collections.abc import Sequence

    from model3d.geometry.frame import Corner

    Clips = tuple[tuple[Corner, ...], ...]

_FEWEST = 3


def clip_of(insert: Any, metres: float) -> tuple[tuple[Corner, ...], str]:
    """Return the corners of what is shown of a block, in the world, and what is odd.

    Args:
        insert: Of the plan, or as it lies within another one.
        metres: In one unit of the plan.

    Returns:
        No corners where all of it is shown or nothing certain is known; in the latter
        case what is not read, else "".
    """
    from ezdxf.xclip import XClip

    # A block within another one is a copy, which has lost its clip.
    clip = XClip(insert.source_of_copy or insert)
    if not clip.has_clipping_path or not clip.is_clipping_enabled:
        return (), ""
    if clip.is_inverted_clip:
        return (), "inverted clip"
    path = clip.get_block_clipping_path().vertices
    place = insert.matrix44()
    points = [place.transform((one.x, one.y, 0.0)) for one in path]
    corners = tuple((float(x) * metres, float(y) * metres) for x, y, _ in points)
    sound = all(math.isfinite(one) for corner in corners for one in corner)
    if len(corners) < _FEWEST or not sound:
        return (), "clip without an area"
    return corners, ""


def shown(points: Sequence[Corner], clips: Clips) -> Literal["in", "out", "across"]:
    """Tell whether a line lies in all clips, out of one, or across the edge of one."""
    found = {seen_through(points, clip) for clip in clips}
    if "out" in found:
        return "out"
    return "across" if "across" in found else "in"


def place_of_first(entity: Any, metres: float) -> Corner | None:
    """Return the lower left corner around an entity, or None where nothing tells."""
    from ezdxf import bbox

    try:
        around = bbox.extents([entity], fast=True)
        low = around.extmin if around.has_data else entity.dxf.insert
        x, y = float(low[0]) * metres, float(low[1]) * metres
    except Exception:  # noqa: BLE001 - of what is not read anything may be wrong
        return None
    return (x, y) if all(abs(one) < FARTHEST for one in (x, y)) else None
