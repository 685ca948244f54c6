"""What one product of a building model says of itself, and where its shape lies."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

import numpy as np

from model3d.exchange.ifc.element import Element, Property
from model3d.geometry.files.announced import MeshFileError
from model3d.geometry.files.mesh import mended
from model3d.scene.manuscript import blanked

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.exchange.ifc.element import Faces, Points


def element_of(
    product: Any,
    number: int,
    parts: list[Any],
    scales: dict[str, float],
    *,
    has_own: bool,
) -> Element:
    """Return a product with its shape in metres, in the world of its model.

    Args:
        product: The library's own.
        number: Of the model.
        parts: Points, faces and placement of each of its bodies.
        scales: Metres, volts and amperes in the model's own units, see ``scales_of``.
        has_own: The first of the parts is its own, not that of a part of it.
    """
    from ifcopenshell.util import element as util
    from ifcopenshell.util import placement

    kind = util.get_type(product)
    storey = _storey_of(product)
    points, faces = _world(parts)
    length = scales["length"]
    matrix = np.eye(4)
    if has_own:
        matrix = parts[0][2]
    elif product.ObjectPlacement:
        matrix = np.array(placement.get_local_placement(product.ObjectPlacement))
        matrix[:3, 3] *= length
    return Element(
        key=(number, product.id()),
        guid=product.GlobalId,
        classes=_ancestors(product),
        type_classes=_ancestors(kind) if kind is not None else (),
        predefined=str(util.get_predefined_type(product) or "")
        or _text(product, "DistributionPointFunction"),
        name=_text(product, "Name"),
        long_name=_text(product, "LongName"),
        type_name=_text(kind, "Name") or _text(product, "ObjectType"),
        tag=_text(product, "Tag"),
        storey=_text(storey, "Name"),
        systems=tuple(_systems(product)),
        properties=tuple(_properties(util.get_psets(product, verbose=True), scales)),
        overall=(
            _scaled(product, "OverallWidth", length),
            _scaled(product, "OverallHeight", length),
        ),
        operation=_operation(product) or _operation(kind),
        points=points,
        faces=faces,
        matrix=matrix,
        level=_elevation(storey, length),
    )


def _storey_of(product: Any) -> Any:
    """Return the storey that a product is in, also in a space of it; or what else."""
    from ifcopenshell.util import element as util

    first = here = util.get_container(product) or util.get_aggregate(product)
    seen = set()
    while here is not None and here.id() not in seen:
        if here.is_a("IfcBuildingStorey"):
            return here
        seen.add(here.id())
        here = util.get_container(here) or util.get_aggregate(here)
    return first


def _elevation(storey: Any, scale: float) -> float | None:
    value = getattr(storey, "Elevation", None)
    return value * scale if isinstance(value, float) else None


def _world(parts: list[Any]) -> tuple[Points, Faces]:
    empty = np.empty((0, 3)), np.empty((0, 3), dtype=np.int64)
    found_points, found_faces, first = [empty[0]], [empty[1]], 0
    for points, faces, matrix in parts:
        found_points.append(points @ matrix[:3, :3].T + matrix[:3, 3])
        found_faces.append(faces + first)
        first += len(points)
    points, faces = np.concatenate(found_points), np.concatenate(found_faces)
    try:
        return mended(points, faces) if len(faces) else empty
    except MeshFileError:  # a flat symbol
        return empty


def _ancestors(entity: Any) -> tuple[str, ...]:
    from ifcopenshell import schema_by_name

    schema = schema_by_name(entity.file.schema_identifier)
    declared = schema.declaration_by_name(entity.is_a()).as_entity()
    names = []
    while declared is not None:
        names.append(declared.name())
        declared = declared.supertype()
    return tuple(names)


def _text(entity: Any, name: str) -> str:
    value = getattr(entity, name, None) if entity is not None else None
    text = "" if value is None else str(value)
    return blanked(text).strip()


def _operation(door: Any) -> str:
    """Return how a door opens; a door that does not say may have a type that does."""
    said = _text(door, "OperationType")
    if said == "USERDEFINED":
        return _text(door, "UserDefinedOperationType") or said
    return "" if said == "NOTDEFINED" else said


def _scaled(entity: Any, name: str, scale: float) -> float | None:
    value = getattr(entity, name, None)
    return value * scale if isinstance(value, float) and value > 0 else None


def _systems(product: Any) -> Iterator[str]:
    for relation in getattr(product, "HasAssignments", ()) or ():
        group = getattr(relation, "RelatingGroup", None)
        if group is not None and group.is_a("IfcSystem"):
            yield _text(group, "PredefinedType") or _text(group, "Name")


_UNITS: Final = {
    "length": "LENGTHUNIT",
    "IfcElectricVoltageMeasure": "ELECTRICVOLTAGEUNIT",
    "IfcElectricCurrentMeasure": "ELECTRICCURRENTUNIT",
}


def scales_of(model: Any) -> dict[str, float]:
    """Return what a length, a voltage and a current are in SI, by their names."""
    from ifcopenshell.util import unit

    return {
        name: float(unit.calculate_unit_scale(model, kind))
        for name, kind in _UNITS.items()
    }


def _properties(sets: dict[str, Any], scales: dict[str, float]) -> Iterator[Property]:
    for group, members in sorted(sets.items()):
        for name, said in sorted(members.items(), key=lambda one: one[0]):
            if not isinstance(said, dict):
                continue
            measure = str(said.get("value_type") or "")
            values = [said.get("value")]
            values += [said.get("UpperBoundValue"), said.get("SetPointValue")]
            for value in values:
                several = value if isinstance(value, list | tuple) else [value]
                for one in several:
                    if isinstance(one, bool) or not isinstance(one, str | int | float):
                        continue
                    scale = scales.get(measure, 1.0)
                    plain = one.strip() if isinstance(one, str) else one * scale
                    yield Property(group, name, plain, measure)
