"""Elements that a model draws by lines alone: an axis, a footprint, a symbol."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any, Final

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from model3d.exchange.ifc.element import Element, Points

_IN_PLAN: Final = ("FootPrint", "Annotation")
"""Identifiers of representations that tell of no height.

Source: IFC 4, IfcShapeRepresentation.RepresentationIdentifier.
"""


def drawn_by_lines(element: Element, products: Iterable[Any]) -> Element:
    """Return an element without a body with the lines that it is drawn by, if any.

    Args:
        element: What is said of it.
        products: The library's own: the element, and its parts.
    """
    found = [
        one
        for product in products
        if product.is_a("IfcElement")
        for one in _of(product)
    ]
    if not found:
        return element
    pieces = np.concatenate([piece for piece, _ in found])
    return replace(element, drawn=pieces, flat=any(flat for _, flat in found))


def _of(product: Any) -> Iterator[tuple[Points, bool]]:
    """Yield the straight pieces of each representation, and whether it is a plan."""
    from ifcopenshell import geom, ifcopenshell_wrapper

    settings = geom.settings()
    every = ifcopenshell_wrapper.CURVES_SURFACES_AND_SOLIDS
    settings.set("dimensionality", every)
    shapes = getattr(product.Representation, "Representations", None) or ()
    for one in shapes:
        if not one.Items:
            continue
        try:
            shape = geom.create_shape(settings, product, one)
        except RuntimeError:
            continue  # it is lost, as its body is
        points = np.frombuffer(shape.geometry.verts_buffer, "d").reshape(-1, 3)
        edges = np.array(shape.geometry.edges, dtype=np.int64).reshape(-1, 2)
        matrix = np.array(shape.transformation.matrix).reshape(4, 4, order="F")
        world = points @ matrix[:3, :3].T + matrix[:3, 3]
        if len(edges):
            yield world[edges], _is_plan(one)


def _is_plan(shape: Any) -> bool:
    context = getattr(shape.ContextOfItems, "ContextType", None)
    in_plan = shape.RepresentationIdentifier in _IN_PLAN or context == "Plan"
    return in_plan or str(shape.RepresentationType or "").endswith("2D")
