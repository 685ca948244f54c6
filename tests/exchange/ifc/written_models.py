"""Building models that the tests write themselves, in three schemas and three units."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import ifcopenshell
import ifcopenshell.guid
from ifcopenshell.util import unit as units

if TYPE_CHECKING:
    from pathlib import Path

METRES = {"mm": 0.001, "m": 1.0, "ft": 0.3048}
ROOM = (4.0, 3.0, 2.6)
"""Metres between the walls of the room, and of its height."""


@dataclass
class Model:
    """A room of 4 by 3 by 2.6 m at (10, 20), the floor 0.05 m over the storey.

    Attributes:
        schema: IFC2X3, IFC4 or IFC4X3_ADD2.
        unit: mm, m or ft.
        guids: GlobalIds by the names given here.
    """

    schema: str = "IFC4"
    unit: str = "mm"
    guids: dict[str, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.file: Any = ifcopenshell.file(schema=self.schema)
        make = self.file.create_entity
        self.scale = 1 / METRES[self.unit]
        if self.unit == "ft":
            metre = make("IfcSIUnit", None, "LENGTHUNIT", None, "METRE")
            none = make("IfcDimensionalExponents", 1, 0, 0, 0, 0, 0, 0)
            factor = make("IfcRatioMeasure", METRES["ft"])
            length = make("IfcConversionBasedUnit", none, "LENGTHUNIT", "FOOT",
                          make("IfcMeasureWithUnit", factor, metre))  # fmt: skip
        else:
            prefix = "MILLI" if self.unit == "mm" else None
            length = make("IfcSIUnit", None, "LENGTHUNIT", prefix, "METRE")
        volt = make("IfcSIUnit", None, "ELECTRICVOLTAGEUNIT", None, "VOLT")
        both = make("IfcUnitAssignment", [length, volt])
        origin = self.axes((0, 0, 0))
        self.context = make(
            "IfcGeometricRepresentationContext", None, "Model", 3, 1e-6, origin, None
        )
        self.history = self._history() if self.schema == "IFC2X3" else None
        project = self.rooted("IfcProject", "Harbour works")
        project.RepresentationContexts, project.UnitsInContext = [self.context], both
        self.building = self.rooted("IfcBuilding", "Pump house")
        self.storey = self.rooted("IfcBuildingStorey", "Ground floor")
        self.relate("IfcRelAggregates", project, [self.building])
        self.relate("IfcRelAggregates", self.building, [self.storey])
        self.inside: list[Any] = []

    def _history(self) -> Any:
        make = self.file.create_entity
        person = make("IfcPersonAndOrganization",
                      make("IfcPerson"),
                      make("IfcOrganization", None, "Works"))  # fmt: skip
        application = make("IfcApplication", person.TheOrganization, "1", "Test", "t")
        return make("IfcOwnerHistory", person, application, None, "ADDED", None, None,
                    None, 0)  # fmt: skip

    def rooted(self, kind: str, name: str, **more: Any) -> Any:
        """Return a new entity that has a GlobalId."""
        guid = ifcopenshell.guid.new()
        self.guids[name] = guid
        return self.file.create_entity(
            kind, GlobalId=guid, OwnerHistory=self.history, Name=name, **more
        )

    def relate(self, kind: str, one: Any, others: list[Any]) -> None:
        """Relate one entity to others."""
        keys = {
            "IfcRelAggregates": ("RelatingObject", "RelatedObjects"),
            "IfcRelNests": ("RelatingObject", "RelatedObjects"),
            "IfcRelDefinesByType": ("RelatingType", "RelatedObjects"),
            "IfcRelDefinesByProperties": (
                "RelatingPropertyDefinition",
                "RelatedObjects",
            ),
        }[kind]
        self.file.create_entity(
            kind,
            GlobalId=ifcopenshell.guid.new(),
            OwnerHistory=self.history,
            **{keys[0]: one, keys[1]: others},
        )

    def axes(self, at: Any, x: Any = (1, 0)) -> Any:
        """Return a placement at a point in metres, its x turned."""
        make = self.file.create_entity
        point = make("IfcCartesianPoint", [float(one) * self.scale for one in at])
        up = make("IfcDirection", (0.0, 0.0, 1.0))
        right = make("IfcDirection", (float(x[0]), float(x[1]), 0.0))
        return make("IfcAxis2Placement3D", point, up, right)

    def box(self, size: Any, from_: Any = (0, 0, 0)) -> Any:
        """Return the shape of a box from a corner, in the element's own axes."""
        make, scale = self.file.create_entity, self.scale
        wide, deep, high = (one * scale for one in size)
        middle = make("IfcCartesianPoint", (wide / 2, deep / 2))
        flat = make("IfcAxis2Placement2D", middle, None)
        profile = make("IfcRectangleProfileDef", "AREA", None, flat, wide, deep)
        up = make("IfcDirection", (0.0, 0.0, 1.0))
        solid = make("IfcExtrudedAreaSolid", profile, self.axes(from_), up, high)
        shape = make(
            "IfcShapeRepresentation", self.context, "Body", "SweptSolid", [solid]
        )
        return make("IfcProductDefinitionShape", None, None, [shape])

    def put(self, kind: str, name: str, at: Any, size: Any, **more: Any) -> Any:
        """Put a box into the storey: its left back lower corner, along x and y."""
        from_ = more.pop("from_", (0, 0, 0))
        place = self.axes(at, more.pop("x", (1, 0)))
        element = self.rooted(kind, name, **more)
        element.ObjectPlacement = self.file.create_entity(
            "IfcLocalPlacement", None, place
        )
        element.Representation = self.box(size, from_)
        self.inside.append(element)
        return element

    def draw(
        self,
        kind: str,
        name: str,
        ends: Any,
        sort: tuple[str, str] = ("Axis", "Curve3D"),
    ) -> Any:
        """Put something into the storey that is drawn by a line alone, in metres."""
        make = self.file.create_entity
        element = self.put(kind, name, ends[0], (0.1, 0.1, 0.1))
        line = [
            make("IfcCartesianPoint", [float(b - a) * self.scale for a, b in pairs])
            for pairs in (zip(ends[0], end, strict=True) for end in ends)
        ]
        (shape,) = element.Representation.Representations
        shape.RepresentationIdentifier, shape.RepresentationType = sort
        shape.Items = [make("IfcPolyline", line)]
        return element

    def say(self, element: Any, group: str, **values: Any) -> None:
        """Give an element properties; a pair is a type of measure and its value."""
        make = self.file.create_entity
        properties = [
            make("IfcPropertySingleValue", name, None, make(*value), None)
            for name, value in values.items()
        ]
        group_ = self.rooted("IfcPropertySet", group, HasProperties=properties)
        self.relate("IfcRelDefinesByProperties", group_, [element])

    def room(self, name: str = "E1", long_name: str = "ELEC RM") -> None:
        """Put up a space, four walls, a floor and a slab overhead."""
        wide, deep, high = ROOM
        space = self.put("IfcSpace", name, (10, 20, 0), ROOM, LongName=long_name)
        self.inside.remove(space)
        self.relate("IfcRelAggregates", self.storey, [space])
        self.put("IfcSlab", "floor", (9, 19, -0.15), (wide + 2, deep + 2, 0.2))
        self.put("IfcSlab", "over", (9, 19, high + 0.4), (wide + 2, deep + 2, 0.2))
        self.put("IfcWall", "south", (10, 19.8, 0), (wide, 0.2, 3))
        self.put("IfcWall", "north", (10, 20 + deep, 0), (wide, 0.2, 3))
        self.put("IfcWall", "west", (9.8, 20, 0), (0.2, deep, 3))
        self.put("IfcWall", "east", (10 + wide, 20, 0), (0.2, deep, 3))

    def write(self, path: Path) -> Path:
        """Write it and return its path."""
        spatial = self.rooted(
            "IfcRelContainedInSpatialStructure",
            "contents",
            RelatedElements=self.inside,
            RelatingStructure=self.storey,
        )
        assert spatial is not None
        self.file.write(str(path))
        assert units.calculate_unit_scale(self.file) == METRES[self.unit]
        return path
