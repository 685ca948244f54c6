"""Models of one building that each have an origin of their own, in one frame.

Source: IFC 4.3, IfcMapConversion: eastings, northings and height of a model's origin in
the unit of the map (of the project, where it says none), and the direction of its x.
The scale is left alone: what is judged is measured in the building, not on a map.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any, Final

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from model3d.exchange.ifc.element import Matrix

_FARTHEST: Final = 5_000.0
"""Metres between the origins of two models of one building; more is a mistake."""
_SAME: Final = 1e-6


def on_the_map(model: Any, scale: float) -> Matrix | None:
    """Return where a model's frame lies on the map, metres; None where nobody says.

    Args:
        model: A model.
        scale: Metres in its unit of length.
    """
    from ifcopenshell.util import geolocation

    said = geolocation.get_helmert_transformation_parameters(model)
    if said is None:
        return None
    metres = _unit_of_map(model) or scale
    angle = math.atan2(said.xao, said.xaa)
    cosine, sine = math.cos(angle), math.sin(angle)
    found = np.eye(4)
    found[:2, :2] = [[cosine, -sine], [sine, cosine]]
    found[:3, 3] = np.array([said.e, said.n, said.h]) * metres
    return found if np.isfinite(found).all() else None


def _unit_of_map(model: Any) -> float | None:
    from ifcopenshell.util import unit as units

    if model.schema == "IFC2X3":
        return None
    for crs in model.by_type("IfcProjectedCRS"):
        if (unit := crs.MapUnit) is None:
            return None
        factor = 1.0
        if unit.is_a("IfcConversionBasedUnit"):
            factor = float(unit.ConversionFactor.ValueComponent.wrappedValue)
            unit = unit.ConversionFactor.UnitComponent
        prefix = getattr(unit, "Prefix", None)
        return factor * float(units.get_prefix_multiplier(prefix) if prefix else 1)
    return None


def moves_of(
    names: Sequence[str], maps: Sequence[Matrix | None]
) -> tuple[list[Matrix | None], list[str]]:
    """Return what brings each model into the frame of the first, and what is told.

    Args:
        names: Of the files.
        maps: Where each lies on the map.

    Returns:
        For each None where nothing is to be done.
    """
    moves: list[Matrix | None] = [None]
    told: list[str] = []
    first = maps[0]
    for name, other in zip(names[1:], maps[1:], strict=True):
        moves.append(None)
        if (first is None) != (other is None):
            has, lacks = (names[0], name) if other is None else (name, names[0])
            said = f"{lacks} has no georeference and {has} has one"
            told.append(f"{said}: both are taken to have one origin")
        if first is None or other is None:
            continue
        move = np.linalg.inv(first) @ other
        x, y, z = (round(float(one), 6) + 0.0 for one in move[:3, 3])
        if np.abs(move - np.eye(4)).max() <= _SAME:
            continue
        where = f"{x:.10g} m, {y:.10g} m, {z:.10g} m"
        if math.hypot(x, y, z) > _FARTHEST:
            said = f"the georeferences put {name} {where} from {names[0]}"
            told.append(f"{said}: not believed, both are taken to have one origin")
            continue
        moves[-1] = move
        angle = math.degrees(math.atan2(move[1, 0], move[0, 0]))
        turned = f" and turned by {angle:.6g} degrees" if abs(angle) > _SAME else ""
        told.append(f"{name} is moved by {where}{turned}, as the georeferences say")
    return moves, told
