"""Read building models by ifcopenshell; to be done in a process of its own.

The default kernel alone is used: others were seen to crash, or to drop elements.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from typing import TYPE_CHECKING, Any, Final

import numpy as np

from model3d.exchange.ifc.element import (
    OWN_TYPES,
    Base,
    Building,
    Element,
    ModelError,
    few,
)
from model3d.exchange.ifc.file.bounds import most_of
from model3d.exchange.ifc.file.georeference import (
    map_of,
    moves_of,
    on_the_map,
    project_of,
)
from model3d.exchange.ifc.file.lines import drawn_by_lines
from model3d.exchange.ifc.file.lost_parts import in_faults
from model3d.exchange.ifc.file.opening import METRES, opened, with_unit
from model3d.exchange.ifc.file.product import element_of, scales_of
from model3d.exchange.ifc.file.wholes import is_part_or_whole, undrawn_in, wholes_of
from model3d.exchange.ifc.file.zones import leave_zones
from model3d.geometry.bodies.clipping import BOX_FACES, corners

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from pathlib import Path

    from model3d.exchange.ifc.element import Box, Faces, Matrix, Points

    Tell = Callable[[str], None]
    Shapes = dict[str, list[tuple[Points, Faces, Matrix]]]

_NO_SHAPE: Final = (
    "IfcOpeningElement",
    "IfcVirtualElement",
    "IfcAnnotation",
    "IfcGrid",
    "IfcSite",
    "IfcSpatialZone",
)
ANGLE: Final = 0.2
"""Radians between the pieces of a curve: a pipe lies half a percent too far in."""
_SETTINGS: Final = {
    "use-world-coords": False,  # a front is looked for in the element's own axes
    "weld-vertices": True,
    "no-normals": True,
    "mesher-linear-deflection": 0.001,
    "mesher-angular-deflection": ANGLE,
}
_STEP: Final = 25


def read_building(
    files: Sequence[Path], tell: Tell, drawn_in: str | None = None
) -> Building:
    """Return what is in models of one building.

    Args:
        files: Whole files; of one building, in one frame.
        tell: Is told what is worked on.
        drawn_in: The unit of those that say none, where the user says one.

    Raises:
        ModelError: One is no model, or of a schema that is not known.
    """
    elements: list[list[Element]] = []
    feet: list[bool] = []
    maps: list[Matrix | None] = []
    words: list[dict[str, str]] = []
    map_names: list[str] = []
    notes: list[str] = []
    for number, path in enumerate(files):
        tell(f"opening {path.name}")
        model = opened(path)
        notes += [f"{path.name}: {one}" for one in with_unit(model, drawn_in)]
        leave_zones(model)
        import ifcopenshell.util.unit as units

        scale = float(units.calculate_unit_scale(model))
        feet.append(scale in _FEET)
        maps.append(on_the_map(model, scale))
        words.append({"model": path.name, "project": project_of(model)})
        map_names += [map_of(model)] if maps[-1] is not None else []
        some = _elements(model, number, path.name, tell)
        elements.append(some)
        dropped = [one for one in some if one.unread]
        if dropped:
            called = few([one.called for one in dropped])
            lost = "no shape that can be read, or a part of it lost"
            notes.append(f"{path.name}: {lost}, so kept as not read: {called}")
    names = tuple(path.name for path in files)
    moves, chart, told = moves_of(names, maps, [_box(some) for some in elements])
    every = (
        one if (move == np.eye(4)).all() else _moved(one, move)
        for move, some in zip(moves, elements, strict=True)
        for one in some
    )
    bases = [
        Base({k: v for k, v in said.items() if v}, np.asarray(np.linalg.inv(move)))
        for said, move in zip(words, moves, strict=True)
    ]
    if chart is not None:
        bases.append(Base({"map": map_names[0]}, chart))
    return Building(names, feet[0], tuple(every), (*notes, *told), tuple(bases))


def _box(elements: list[Element]) -> Box | None:
    ends = [
        end(one.points, axis=0)
        for one in elements
        if one.meshed
        for end in (np.min, np.max)
    ]
    return np.array([np.min(ends, axis=0), np.max(ends, axis=0)]) if ends else None


def _moved(element: Element, move: Matrix) -> Element:
    def moved(points: Points) -> Points:
        return points @ move[:3, :3].T + move[:3, 3]

    return replace(
        element,
        points=moved(element.points),
        matrix=move @ element.matrix,
        drawn=None if element.drawn is None else moved(element.drawn),
        most=None if element.most is None else moved(element.most),
    )


_FARTHEST: Final = 1e8
"""Metres. Maps of a country end long before; what is no number is not nearer either."""
_FEET: Final = frozenset({METRES["ft"], METRES["in"]})


def _elements(model: Any, number: int, name: str, tell: Tell) -> list[Element]:
    """Return what is in a model, also what of it has lost its shape."""
    from ifcopenshell import schema_by_name

    known = {one.name() for one in schema_by_name(model.schema_identifier).entities()}
    no_shape = [one for one in _NO_SHAPE if one in known]
    products = [
        one
        for one in model.by_type("IfcProduct")
        if one.Representation
        and not any(one.is_a(other) for other in no_shape)
        and (getattr(one, "ObjectType", None) not in OWN_TYPES)
    ]
    wholes, flat = wholes_of(model)
    parts = {part.id() for some in wholes.values() for part in some}
    shapes, lost = _shapes(model, products, name, tell)
    scales = scales_of(model)
    alone = {one.id() for one in products}
    products += [model.by_id(one) for one in wholes if one not in alone]
    flat += [one for one in model.by_type("IfcSpace") if not one.Representation]
    flat += undrawn_in(model)
    found = []
    # A file may write one number twice: it is one thing.
    for product in {one.id(): one for one in (*products, *flat)}.values():
        if product.id() in parts:
            continue
        several = (product, *wholes.get(product.id(), ()))
        own = [shape for one in several for shape in shapes.get(one.id(), ())]
        if not all(_is_somewhere(part) for part in own):
            what = f"{product.is_a()} #{product.id()}"
            msg = f"{name}: found no place for {what}, right are numbers of a building"
            raise ModelError(msg)
        has_own = product.id() in shapes
        element = element_of(product, number, own, scales, has_own=has_own)
        if any(one.id() in lost for one in several) or (own and not element.meshed):
            element = _at_most(element, several, scales["length"])
        elif not element.meshed and _counts(product):
            element = replace(element, unread=True, undrawn=True)
        found.append(element)
    return found


def _counts(product: Any) -> bool:
    return product.is_a("IfcElement") and not is_part_or_whole(product)


def _at_most(element: Element, products: Sequence[Any], scale: float) -> Element:
    """Return an element that was not read as the most that it may be."""
    if not element.meshed and element.is_a("IfcElement"):
        drawn = [one for one in products if one.Representation]
        boxes = [most_of(one, scale) for one in drawn]
        known = [one for one in boxes if one is not None]
        if known and len(known) == len(drawn):
            return replace(element, most=np.concatenate(known))
        element = drawn_by_lines(element, products)
    return element if element.drawn is not None else replace(element, unread=True)


def _is_somewhere(part: tuple[Points, Faces, Matrix]) -> bool:
    points, _, matrix = part
    farthest = np.abs(points).max(initial=np.abs(matrix).max())
    return bool(farthest < _FARTHEST)


def _shapes(
    model: Any, products: list[Any], name: str, tell: Tell
) -> tuple[dict[int, Any], set[int]]:
    """Return points, faces and placement of each product; in metres.

    And the numbers of those of which the library could not make a part, or all.
    """
    import ifcopenshell
    from ifcopenshell import geom

    if not products:
        return {}, set()
    ifcopenshell.get_log()
    settings = geom.settings()
    for setting, value in _SETTINGS.items():
        settings.set(setting, value)
    iterator = geom.iterator(settings, model, 1, include=products)
    found: dict[int, Any] = defaultdict(list)
    done = 0
    if iterator.initialize():
        while True:
            shape = iterator.get()
            geometry = shape.geometry
            points = np.frombuffer(geometry.verts_buffer, "d").reshape(-1, 3).copy()
            faces = np.frombuffer(geometry.faces_buffer, "i4").reshape(-1, 3).copy()
            matrix = np.array(shape.transformation.matrix).reshape(4, 4, order="F")
            found[shape.id].append((points, faces.astype(np.int64), matrix))
            done += 1
            if done % _STEP == 0:
                tell(f"{name}: {done} of {len(products)} shapes")
            if not iterator.next():
                break
    scale = scales_of(model)["length"]
    for one in products:
        if one.id() not in found and (box := _bounding_box(one, scale)) is not None:
            found[one.id()].append(box)
    faulty = in_faults(model, ifcopenshell.get_log())
    lost = {
        one.id()
        for one in products
        if one.id() in faulty or (one.id() not in found and _is_drawn(one))
    }
    return found, lost


def _is_drawn(product: Any) -> bool:
    """Tell whether anything of an element is drawn: a box, an axis, a symbol or a body.

    It stands in the building, then, though nobody can say what it bars.
    """
    shapes = getattr(product.Representation, "Representations", None) or ()
    return any(one.Items for one in shapes)


def _bounding_box(product: Any, scale: float) -> tuple[Points, Faces, Matrix] | None:
    """Return the box of an element of which no more is drawn; None where none is.

    It bars what the element bars, and more: never less.
    """
    from ifcopenshell.util import placement

    if not product.is_a("IfcElement") or product.IsDecomposedBy:
        return None  # of a whole its parts are drawn
    shapes = getattr(product.Representation, "Representations", None) or ()
    boxes = [one for shape in shapes for one in shape.Items or ()]
    box = next((one for one in boxes if one.is_a("IfcBoundingBox")), None)
    if box is None:
        return None
    low = np.array(box.Corner.Coordinates, dtype=np.float64)
    size = np.array([box.XDim, box.YDim, box.ZDim])
    matrix = np.eye(4)
    if product.ObjectPlacement is not None:
        matrix = np.array(placement.get_local_placement(product.ObjectPlacement))
    matrix[:3, 3] *= scale
    ends = (low * scale).tolist(), ((low + size) * scale).tolist()
    return corners(tuple(ends[0]), tuple(ends[1])), BOX_FACES.copy(), matrix
