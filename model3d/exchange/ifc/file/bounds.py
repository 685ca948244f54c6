"""The most that a body may take up that the library cannot make.

A difference lies within what it is cut from, and faces within their corners: so much is
certain of many bodies that are lost.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any, Final

import numpy as np

from model3d.geometry.bodies.clipping import corners

if TYPE_CHECKING:
    from collections.abc import Iterable

    from model3d.exchange.ifc.element import Matrix, Points

_NO_BODY: Final = frozenset(
    {"Axis", "FootPrint", "Annotation", "Clearance", "CoG", "Lighting", "Reference"}
)
"""Identifiers of representations that are not what an element takes up.

Source: IFC 4.3, IfcShapeRepresentation, the identifiers of representations.
"""
_OF_FACES: Final = (
    *("IfcManifoldSolidBrep", "IfcFaceBasedSurfaceModel", "IfcShellBasedSurfaceModel"),
    *("IfcTessellatedFaceSet", "IfcConnectedFaceSet", "IfcFace"),
)
_CURVED_FACES: Final = ("IfcSweptSurface", "IfcCurveBoundedSurface")
"""Nothing tells simply how far these go beyond their edges."""
_ROUND: Final = ("Radius", "MajorRadius", "MinorRadius", "SemiAxis1", "SemiAxis2")
_THINNEST: Final = 0.01
"""Metres of a side of a box: of a sheet too."""
_FARTHEST: Final = 1e6
"""Metres within a body's own axes."""
_DEEPEST: Final = 24
"""So many wholes of parts within one another."""


def most_of(product: Any, scale: float) -> Points | None:
    """Return the corners of a box that holds an element's body, in the world, metres.

    Args:
        product: The library's own.
        scale: Metres in one unit of the model.

    Returns:
        Shape (8, 3), the sides along the element's own axes; None where nothing that is
        drawn of it tells how large it is.
    """
    from ifcopenshell.util import placement

    shapes = getattr(product.Representation, "Representations", None) or ()
    bodies = [one for one in shapes if _is_body(one)]
    boxed = [one for one in bodies if one.RepresentationIdentifier == "Box"]
    others = [one for one in bodies if one not in boxed]
    found = _of_all([item for one in others for item in one.Items or ()], scale, 0)
    if found is None:
        found = _of_all([item for one in boxed for item in one.Items or ()], scale, 0)
    if found is None or (found[1] - found[0] < _THINNEST).all():
        return None  # of a mere point nothing is known either
    low, high = found
    thin = np.maximum(_THINNEST - (high - low), 0.0) / 2
    matrix = np.eye(4)
    if product.ObjectPlacement is not None:
        matrix = np.array(placement.get_local_placement(product.ObjectPlacement))
        matrix[:3, 3] *= scale
    box = corners(tuple((low - thin).tolist()), tuple((high + thin).tolist()))
    return box @ matrix[:3, :3].T + matrix[:3, 3]


def _is_body(shape: Any) -> bool:
    kind = getattr(shape.ContextOfItems, "ContextType", None)
    return shape.RepresentationIdentifier not in _NO_BODY and kind != "Plan"


def _of_all(
    items: Iterable[Any], scale: float, deep: int
) -> tuple[Points, Points] | None:
    """Return the lowest and highest corner around items; None where one has none."""
    ends = []
    for one in items:
        points = _points_of(one, scale, deep)
        if points is None or not len(points):
            return None
        if not np.isfinite(points).all() or np.abs(points).max() > _FARTHEST:
            return None
        ends += [points.min(axis=0), points.max(axis=0)]
    return (np.min(ends, axis=0), np.max(ends, axis=0)) if ends else None


def _points_of(item: Any, scale: float, deep: int) -> Points | None:
    """Return points around an item, in the axes of its representation."""
    if deep > _DEEPEST:
        return None
    if item.is_a("IfcMappedItem"):
        return _mapped(item, scale, deep)
    if item.is_a("IfcCsgSolid"):
        return _points_of(item.TreeRootExpression, scale, deep + 1)
    if item.is_a("IfcBooleanResult"):
        parts = [item.FirstOperand]
        parts += [item.SecondOperand] if item.Operator == "UNION" else []
        ends = _of_all(parts, scale, deep + 1)
        return None if ends is None else np.array(ends)
    if item.is_a("IfcBoundingBox"):
        low = np.array(item.Corner.Coordinates, dtype=np.float64)
        size = np.array([item.XDim, item.YDim, item.ZDim])
        return np.array([low, low + size]) * scale
    if _is_any(item, _OF_FACES):
        return _of_faces(item, scale)
    return _made(item)


def _is_any(item: Any, names: tuple[str, ...]) -> bool:
    return any(item.is_a(one) for one in _known(item.file.schema_identifier, names))


@cache
def _known(schema: str, names: tuple[str, ...]) -> tuple[str, ...]:
    """Return the classes that a schema has; others cannot be asked about."""
    from ifcopenshell import schema_by_name

    there = {one.name() for one in schema_by_name(schema).entities()}
    return tuple(one for one in names if one in there)


def _mapped(item: Any, scale: float, deep: int) -> Points | None:
    from ifcopenshell.util import placement

    source = item.MappingSource.MappedRepresentation
    ends = _of_all(source.Items or (), scale, deep + 1)
    if ends is None:
        return None
    matrix: Matrix = np.array(placement.get_mappeditem_transformation(item))
    box = corners(tuple(ends[0].tolist()), tuple(ends[1].tolist()))
    return box @ matrix[:3, :3].T + matrix[:3, 3] * scale


def _of_faces(item: Any, scale: float) -> Points | None:
    """Return points around faces: their corners, and how far round ones stand out."""
    points, farther = [], 0.0
    for one in item.file.traverse(item):
        if one.is_a("IfcCartesianPoint") and len(one.Coordinates) == 3:  # noqa: PLR2004
            points.append(one.Coordinates)
        elif one.is_a("IfcCartesianPointList3D"):
            points += one.CoordList
        elif _is_any(one, _CURVED_FACES):
            return None
        else:
            radii = (getattr(one, name, None) or 0.0 for name in _ROUND)
            farther = max(farther, sum(radii))
    if not points:
        return None
    found = np.array(points, dtype=np.float64) * scale
    # No point of a round face is farther from an edge of it than it is wide.
    reach = 2 * farther * scale
    return np.array([found.min(axis=0) - reach, found.max(axis=0) + reach])


def _made(item: Any) -> Points | None:
    """Return the points of an item that the library can make alone."""
    from ifcopenshell import geom

    settings = geom.settings()
    try:
        shape = geom.create_shape(settings, item)
    except RuntimeError:
        return None
    return np.frombuffer(shape.verts_buffer, "d").reshape(-1, 3).copy()
