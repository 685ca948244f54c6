"""What is drawn at elements that is no body of theirs: the space that they want clear.

IFC has a representation "Clearance" for it. What must be clear is worked out here, and
taken as a body such a space would be in the way of everything.
"""

from __future__ import annotations

from typing import Any, Final

_ZONE: Final = "clearance"


def leave_zones(model: Any) -> None:
    """Take the clearances out of an open model; it is written to nowhere.

    An element of which no more is drawn than that has no shape afterwards: it is told
    as not read.
    """
    shapes = model.by_type("IfcProductDefinitionShape")
    for shape in shapes:
        every = shape.Representations or ()
        bodies = [one for one in every if not _is_zone(one)]
        if len(bodies) == len(every):
            continue
        if bodies:
            shape.Representations = bodies
        else:
            for product in shape.ShapeOfProduct:
                product.Representation = None


def _is_zone(shape: Any) -> bool:
    return str(shape.RepresentationIdentifier or "").casefold() == _ZONE
