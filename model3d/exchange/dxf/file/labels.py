"""Texts of a plan, each with a point that lies in its first letter."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any, Final

from model3d.exchange.dxf.drawn_plan import PlanText
from model3d.units import FARTHEST

if TYPE_CHECKING:
    from collections.abc import Callable

    from model3d.geometry.frame import Corner

TEXTS: Final = frozenset({"TEXT", "MTEXT", "ATTRIB"})
_LONGEST: Final = 1000
_LEFT, _RIGHT = (1, 4, 7), (3, 6, 9)
_TOP, _BOTTOM = (1, 2, 3), (7, 8, 9)


def label_of(entity: Any, layer: str, block: int, metres: float) -> PlanText | None:
    """Return a text; None where nothing is written or nowhere.

    Args:
        entity: A TEXT, MTEXT or ATTRIB.
        layer: Where it is written.
        block: Number of the insert that it belongs to.
        metres: In one unit of the plan.
    """
    attribute = entity.dxf.tag if entity.dxftype() == "ATTRIB" else ""
    read: Callable[[], str] = getattr(entity, "plain_text", lambda: entity.dxf.text)
    lines = (" ".join(line.split()) for line in str(read())[:_LONGEST].splitlines())
    text = "\n".join(line for line in lines if line)
    at = _point(entity)
    if not text or not all(map(math.isfinite, at)):
        return None
    x, y = at[0] * metres, at[1] * metres
    if max(abs(x), abs(y)) > FARTHEST:
        return None
    plain = text.encode("utf-8", "replace").decode()
    return PlanText(layer, plain, (x, y), block, str(attribute))


def _point(entity: Any) -> Corner:
    dxf = entity.dxf
    if entity.dxftype() == "MTEXT":
        half, place = dxf.get("char_height", 0.0) / 2, dxf.get("attachment_point", 1)
        right = half * ((place in _LEFT) - (place in _RIGHT))
        up = half * ((place in _BOTTOM) - (place in _TOP))
        origin, angle = dxf.insert, math.radians(entity.get_rotation())
    else:
        half = dxf.get("height", 0.0) / 2
        level, rise = dxf.get("halign", 0), dxf.get("valign", 0)
        aligned = (level or rise) and dxf.hasattr("align_point")
        origin = entity.ocs().to_wcs(dxf.align_point if aligned else dxf.insert)
        angle = math.radians(dxf.get("rotation", 0.0))
        # 0, 3 and 5 begin at their left end; 2 ends at its right one. From the base
        # line it is up to the middle of the letters, from the top line down.
        right = half * ((level in (0, 3, 5)) - (level == 2))  # noqa: PLR2004
        up = half * ((rise in (0, 1) and level != 4) - (rise == 3))  # noqa: PLR2004
    cosine, sine = math.cos(angle), math.sin(angle)
    return (
        float(origin[0] + right * cosine - up * sine),
        float(origin[1] + right * sine + up * cosine),
    )
