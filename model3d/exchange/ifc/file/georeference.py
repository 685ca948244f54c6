"""Where models of one building lie: in one frame when read, in their own when written.

Source: IFC 4.3, IfcMapConversion: eastings, northings and height of a model's origin in
the unit of the map (of the project, where it says none), and the direction of its x.
The scale is left alone: what is judged is measured in the building, not on a map.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any, Final

import numpy as np

from model3d.exchange.ifc.element import ModelError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from model3d.exchange.ifc.element import Box, Matrix
    from model3d.scene.parts.site import ModelFrame
    from model3d.scene.scene import Scene

_FARTHEST: Final = 5_000.0
"""Metres between two models of one building; more is a mistake."""
_APART: Final = 100.0
"""Metres between two models of one building that a person should hear of."""
_SAME: Final = 1e-6
_CHANGED: Final = 1e-3
MAP: Final = "map"


def matrix_of(origin: Sequence[float], turn: float) -> Matrix:
    """Return what brings a frame into another one.

    Args:
        origin: Where its origin lies there, metres.
        turn: Degrees that its x is turned there, counter-clockwise.
    """
    cosine, sine = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    found = np.eye(4)
    found[:2, :2] = [[cosine, -sine], [sine, cosine]]
    found[:3, 3] = origin
    return found


def turn_of(matrix: Matrix) -> float:
    """Return how many degrees something turns in plan, counter-clockwise."""
    return math.degrees(math.atan2(matrix[1, 0], matrix[0, 0]))


def on_the_map(model: Any, scale: float) -> Matrix | None:
    """Return where a model's frame lies on the map, metres; None where nobody says.

    Args:
        model: A model.
        scale: Metres in its unit of length.
    """
    from ifcopenshell.util import geolocation

    if model.schema == "IFC2X3" and not model.by_type("IfcProject"):
        return None
    said = geolocation.get_helmert_transformation_parameters(model)
    if said is None:
        return None
    metres = _unit_of_map(model) or scale
    at = [float(one) * metres for one in (said.e, said.n, said.h)]
    found = matrix_of(at, math.degrees(math.atan2(said.xao, said.xaa)))
    # What lies there is the point that the context gives, not always the model's zero.
    context = geolocation.get_wcs(model)
    if context is not None and abs(context[2, 2] - 1) <= _SAME:
        own = matrix_of(context[:3, 3] * scale, turn_of(context))
        found = found @ np.linalg.inv(own)
    return found if np.isfinite(found).all() else None


def map_of(model: Any) -> str:
    """Return what a model calls its map, such as EPSG:25832."""
    if model.schema == "IFC2X3":
        return MAP
    return next((one.Name for one in model.by_type("IfcProjectedCRS") if one.Name), MAP)


def project_of(model: Any) -> str:
    """Return the GlobalId of a model's project; "" where it has none."""
    return next((one.GlobalId for one in model.by_type("IfcProject")), "")


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
    names: Sequence[str], maps: Sequence[Matrix | None], boxes: Sequence[Box | None]
) -> tuple[list[Matrix], Matrix | None, list[str]]:
    """Return what brings each model into the frame of the first, and what is told.

    Args:
        names: Of the files.
        maps: Where each lies on the map.
        boxes: Corners of what each holds, in its own frame; None of nothing.

    Returns:
        A move for each; where the frame of the first lies on the map, if anyone says.
    """
    told: list[str] = []
    known = [*maps]
    for number, box in enumerate(boxes):
        if maps[number] is None and any(one is not None for one in maps) and _far(box):
            # Some write what they build where it lies on the map, and say no more.
            known[number] = np.eye(4)
            said = f"{names[number]} has no georeference and lies far from its origin"
            told.append(f"{said}: its coordinates are taken as those of the map")
    base = next((n for n, one in enumerate(known) if one is not None), 0)
    first = known[base]
    moves = [np.eye(4) for _ in names]
    for number, name in enumerate(names):
        other = known[number]
        if number == base or first is None:
            continue
        if other is None:
            said = f"{name} has no georeference and {names[base]} has one"
            told.append(f"{said}: both are taken to have one origin")
            continue
        move = np.linalg.inv(first) @ other
        x, y, z = (round(float(one), 6) + 0.0 for one in move[:3, 3])
        if np.abs(move - np.eye(4)).max() <= _SAME:
            continue
        where = f"{x:.10g} m, {y:.10g} m, {z:.10g} m"
        gap = _gap(boxes[base], _moved(boxes[number], move))
        if (math.hypot(x, y, z) if gap is None else gap) > _FARTHEST:
            said = f"the georeferences put {name} {where} from {names[base]}"
            told.append(f"{said}: not believed, both are taken to have one origin")
            continue
        moves[number] = move
        angle = turn_of(move)
        turned = f" and turned by {angle:.6g} degrees" if abs(angle) > _SAME else ""
        told.append(f"{name} is moved by {where}{turned}, as the georeferences say")
    placed = [_moved(box, move) for box, move in zip(boxes, moves, strict=True)]
    for name, box in zip(names[1:], placed[1:], strict=True):
        if (gap := _gap(placed[0], box)) is not None and gap > _APART:
            told.append(f"{name} lies {gap:.10g} m from {names[0]}: see whether it may")
    return moves, first, told


def _far(box: Box | None) -> bool:
    return box is not None and float(np.abs(box).min(axis=0)[:2].max()) > _FARTHEST


def _moved(box: Box | None, move: Matrix) -> Box | None:
    if box is None:
        return None
    corners = np.array(np.meshgrid(*box.T)).reshape(3, -1).T
    corners = corners @ move[:3, :3].T + move[:3, 3]
    return np.array([corners.min(axis=0), corners.max(axis=0)])


def _gap(one: Box | None, other: Box | None) -> float | None:
    if one is None or other is None:
        return None
    apart = np.maximum(one[0] - other[1], other[0] - one[1])
    return round(float(np.linalg.norm(np.maximum(apart, 0.0))), 3)


def move_into(scene: Scene, model: Any, name: str) -> tuple[Matrix, list[str]]:
    """Return where a scene lies in a model that it is put into, and what is told.

    Args:
        scene: Came from models, and says where it lies in each.
        model: The model.
        name: Of its file.

    Raises:
        ModelError: Nobody can say.
    """
    from ifcopenshell.util import unit

    project = project_of(model)
    same = [one for one in scene.frames if project and one.project == project]
    same = [one for one in same if one.model == name] or same
    own = [lies_in(scene, one) for one in same]
    there = on_the_map(model, float(unit.calculate_unit_scale(model)))
    charted = on_its_map(scene)
    if there is not None and charted is not None:
        found = np.linalg.inv(there) @ charted[0]
        change = min((float(np.abs(found - one).max()) for one in own), default=None)
        if change is None:
            told = "no model that the scene came from: all goes where the map says"
            return found, [f"{name}: {told}"]
        if _CHANGED < change <= _FARTHEST:
            told = "its georeference is not what it was: all goes where it says now"
            return found, [f"{name}: {told}"]
    if not own:
        known = ", ".join(one.model for one in scene.frames if one.model)
        msg = f"{name}: found a model in which nobody can say where the scene lies, "
        msg += f"right is one that the scene came from ({known})"
        raise ModelError(msg)
    if max(float(np.abs(one - own[0]).max()) for one in own) > _CHANGED:
        known = " or ".join(one.model for one in same if one.model)
        msg = f"{name}: found several models of its project, right is the name {known}"
        raise ModelError(msg)
    return own[0], []


def on_its_map(scene: Scene) -> tuple[Matrix, str] | None:
    """Return where a scene lies on the map, and what that is called, if it says so."""
    maps = [one for one in scene.frames if one.map is not None]
    return (lies_in(scene, maps[0]), str(maps[0].map)) if maps else None


def lies_in(scene: Scene, frame: ModelFrame) -> Matrix:
    """Return what brings a scene's own points into a frame, metres."""
    return matrix_of([scene.metres(one) for one in frame.origin], frame.turn)
