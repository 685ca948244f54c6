"""Required spaces and what is in their way as elements of a building model.

They stand in a file of their own, or in a copy of the model that the scene came from.
GlobalIds come of what is meant, so that a newer overlay takes the place of an older.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

import numpy as np

from model3d.exchange.findings import (
    WORKING_SPACE,
    Finding,
    Required,
    clear_depth,
    findings,
    guid_of,
    identity,
    name_of,
    origin_of,
    outline_of,
    required_spaces,
)
from model3d.exchange.ifc.element import FINDING, OWN_TYPES, SPACE, ModelError
from model3d.exchange.ifc.georeference import matrix_of, move_into, on_its_map
from model3d.exchange.ifc.reading import opened

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path
    from uuid import UUID

    from model3d.exchange.findings import Faces, Points
    from model3d.exchange.ifc.element import Matrix
    from model3d.judging.report import Report
    from model3d.judging.results import Judgement

_BLUE, _RED = (0.34, 0.71, 0.91), (0.84, 0.37, 0.0)
_CLEAR, _DENSE = 0.7, 0.3
"""Transparency of spaces, and of what is in the way."""
_TIME: Final = "1980-01-01T00:00:00"
_LENGTH, _POSITIVE = "IfcLengthMeasure", "IfcPositiveLengthMeasure"
_LABEL, _TEXT, _NAME = "IfcLabel", "IfcText", "IfcIdentifier"


def overlay(
    report: Report,
    *,
    schema: str = "IFC4",
    into: Path | None = None,
    tell: Callable[[str], None] = lambda _: None,
) -> bytes:
    """Return a building model with the required spaces and the findings of a report.

    Args:
        report: What the check answered.
        schema: Of a file of its own.
        into: A model of which a copy is written, in its own schema, unit and frame.
        tell: Is told what a person must know of its frame.

    Raises:
        ModelError: The model cannot be read, has no building, or nobody can say where
            the scene lies in it.
        ImportError: The extra is not installed.
    """
    model = _Model(report, schema, into, tell)
    for space in required_spaces(report):
        model.space(space)
    for finding in findings(report):
        if finding.intrusion is not None:
            model.finding(finding)
    return model.bytes()


class _Model:
    """A model that is being written."""

    def __init__(
        self,
        report: Report,
        schema: str,
        into: Path | None,
        tell: Callable[[str], None],
    ) -> None:
        import ifcopenshell

        self.report = report
        self.guid = ifcopenshell.guid
        self.elements: list[Any] = []
        self.styles: dict[float, Any] = {}
        self.tell = tell
        self.origin = matrix_of(origin_of(report), 0.0)
        self.frame: Matrix = self.origin
        """Brings the scene's own points into the model."""
        if into is None:
            self.file = ifcopenshell.file(schema=schema)
            self._begin()
        else:
            self._open(into)

    def make(self, kind: str, *values: Any, **named: Any) -> Any:
        return self.file.create_entity(kind, *values, **named)

    def rooted(self, kind: str, key: UUID, name: str, **named: Any) -> Any:
        return self.make(
            kind,
            GlobalId=self.guid.compress(key.hex),
            OwnerHistory=self.history,
            Name=name,
            **named,
        )

    def key(self, *parts: object) -> UUID:
        return identity(self.report, "ifc", *parts)

    def _begin(self) -> None:
        self.scale = 1.0
        self.history = self._history() if self.file.schema == "IFC2X3" else None
        metre = self.make("IfcSIUnit", None, "LENGTHUNIT", None, "METRE")
        units = self.make("IfcUnitAssignment", [metre])
        self.context = self.make(
            "IfcGeometricRepresentationContext", None, "Model", 3, 1e-6,
            self.axes(), None,
        )  # fmt: skip
        project = self.rooted(
            "IfcProject", self.key("project"), self.report.scene,
            RepresentationContexts=[self.context], UnitsInContext=units,
        )  # fmt: skip
        building = self.rooted("IfcBuilding", self.key("building"), self.report.scene)
        self.home = self.rooted(
            "IfcBuildingStorey", self.key("storey"), self.report.scene
        )
        if self.file.schema == "IFC2X3":
            building.CompositionType = self.home.CompositionType = "ELEMENT"
        for one, other in ((project, building), (building, self.home)):
            self.rooted(
                "IfcRelAggregates", self.key("part", other.is_a()), "",
                RelatingObject=one, RelatedObjects=[other],
            ).Name = None  # fmt: skip

        scene = self.report.arrangement.scene if self.report.arrangement else None
        chart = on_its_map(scene) if scene else None
        if chart is not None and self.file.schema != "IFC2X3":
            self._put_on_map(chart[0] @ np.linalg.inv(self.origin), chart[1])

    def _put_on_map(self, at: Matrix, name: str) -> None:
        east, north, high = (float(one) for one in at[:3, 3])
        metre = self.make("IfcSIUnit", None, "LENGTHUNIT", None, "METRE")
        chart = self.make("IfcProjectedCRS", Name=name, MapUnit=metre)
        self.make(
            "IfcMapConversion", self.context, chart, east, north, high,
            float(at[0, 0]), float(at[1, 0]), None,
        )  # fmt: skip

    def _history(self) -> Any:
        organization = self.make("IfcOrganization", None, "standclear")
        person = self.make("IfcPerson", None, "standclear")
        both = self.make("IfcPersonAndOrganization", person, organization)
        application = self.make(
            "IfcApplication", organization, "1", "standclear", "standclear"
        )
        return self.make(
            "IfcOwnerHistory", both, application, None, "NOCHANGE", None, None, None, 0
        )

    def _open(self, path: Path) -> None:
        from ifcopenshell import api
        from ifcopenshell.util import unit

        self.file = opened(path)
        for one in self.file.by_type("IfcBuildingElementProxy"):
            if one.ObjectType in OWN_TYPES:
                api.run("root.remove_product", self.file, product=one)
        self.scale = 1 / unit.calculate_unit_scale(self.file)
        histories = self.file.by_type("IfcOwnerHistory")
        self.history = histories[0] if histories else None
        contexts = self.file.by_type("IfcGeometricRepresentationContext")
        body = [one for one in contexts if one.ContextIdentifier == "Body"]
        model = [one for one in contexts if one.ContextType == "Model"]
        homes = self.file.by_type("IfcBuildingStorey") or self.file.by_type(
            "IfcBuilding"
        )
        if not contexts or not homes:
            msg = f"{path}: found no building with a shape, right is a whole model"
            raise ModelError(msg)
        self.context = (body or model or contexts)[0]
        scene = self.report.arrangement.scene if self.report.arrangement else None
        if scene is not None and scene.frames:
            self.frame, told = move_into(scene, self.file, path.name)
            for one in told:
                self.tell(one)
        level = float(self.frame[2, 3]) * self.scale
        at = [(getattr(one, "Elevation", None) or 0.0, one) for one in homes]
        below = [pair for pair in at if pair[0] <= level + 1e-6] or at
        self.home = max(below, key=lambda pair: pair[0])[1]

    def axes(self, frame: Matrix | None = None) -> Any:
        frame = np.eye(4) if frame is None else frame
        at = [float(one) * self.scale for one in frame[:3, 3]]
        up, right = (
            self.make("IfcDirection", [float(one) for one in frame[:3, axis]])
            for axis in (2, 0)
        )
        return self.make(
            "IfcAxis2Placement3D", self.make("IfcCartesianPoint", at), up, right
        )

    def space(self, space: Required) -> None:
        judgement = space.judgement
        subject = judgement.subject
        own = self.key("space", *name_of(judgement), space.number)
        name = f"{subject} {judgement.requirement}"
        element = self._proxy(own, name, SPACE, space.points, space.faces, _CLEAR)
        said = {
            **self._who("Equipment", subject),
            "Rule": (_LABEL, judgement.requirement),
            "Citation": (_LABEL, judgement.citation),
            "Result": (_LABEL, judgement.verdict),
            "Reason": (_TEXT, judgement.reason),
        }
        if judgement.requirement == WORKING_SPACE:
            said |= self._sizes(judgement, space)
            self._say(own, element, "Standclear_WorkingSpace", said)
        else:
            self._say(own, element, "Standclear_RequiredSpace", said)

    def _sizes(self, judgement: Judgement, space: Required) -> dict[str, Any]:
        from model3d.judging.results import ClearBox

        shape = judgement.shapes[space.number]
        if not isinstance(shape, ClearBox):
            return {}
        sizes = np.subtract(shape.high, shape.low)
        names = ("RequiredWidth", "RequiredDepth", "RequiredHeight")
        said = {
            name: (_POSITIVE, float(size) * self.scale)
            for name, size in zip(names, sizes, strict=True)
        }
        if "depth" in judgement.provided:
            depth = judgement.provided["depth"] * self.scale
            said["ClearDepth"] = (_LENGTH, float(depth))
        return said

    def finding(self, finding: Finding) -> None:
        judgement, intrusion = finding.judgement, finding.intrusion
        if intrusion is None:
            return
        body = outline_of(intrusion)
        points, faces = body.mesh
        own = self.key("finding", *name_of(judgement), intrusion.item, intrusion.part)
        name = f"{intrusion.item} in the way of "
        name += f"{judgement.subject} {judgement.requirement}"
        element = self._proxy(own, name, FINDING, points, faces, _DENSE)
        placed = (
            self.report.arrangement.items.get(intrusion.item)
            if self.report.arrangement
            else None
        )
        said = {
            **self._who("Equipment", judgement.subject),
            **self._who("Obstacle", intrusion.item),
            "ObstacleKind": (_LABEL, placed.kind.name if placed else ""),
            "Rule": (_LABEL, judgement.requirement),
            "Citation": (_LABEL, judgement.citation),
            "HeightFrom": (_LENGTH, float(intrusion.low[2]) * self.scale),
            "HeightTo": (_LENGTH, float(intrusion.high[2]) * self.scale),
        }
        if (depth := clear_depth(finding)) is not None:
            said["ClearDepth"] = (_LENGTH, depth * self.scale)
        self._say(own, element, "Standclear_Finding", said)

    def _proxy(
        self,
        key: UUID,
        name: str,
        kind: str,
        points: Points,
        faces: Faces,
        transparency: float,
    ) -> Any:
        element = self.rooted("IfcBuildingElementProxy", key, name, ObjectType=kind)
        if self.file.schema == "IFC2X3":
            element.CompositionType = "ELEMENT"
        else:
            is_space = kind == SPACE
            element.PredefinedType = "PROVISIONFORSPACE" if is_space else "USERDEFINED"
        # The points stay near zero, where viewers of single precision see them still.
        element.ObjectPlacement = self.make(
            "IfcLocalPlacement", None, self.axes(self.frame)
        )
        shape = self.make(
            "IfcShapeRepresentation", self.context, "Body", "Brep",
            [self._brep(points, faces, transparency)],
        )  # fmt: skip
        element.Representation = self.make(
            "IfcProductDefinitionShape", None, None, [shape]
        )
        self.elements.append(element)
        return element

    def _brep(self, points: Points, faces: Faces, transparency: float) -> Any:
        # The one closed shape that all three schemas have.
        corners = [
            self.make("IfcCartesianPoint", [float(one) * self.scale for one in point])
            for point in points
        ]
        loops = [
            self.make("IfcPolyLoop", [corners[corner] for corner in face])
            for face in faces
        ]
        bounds = [
            self.make("IfcFaceOuterBound", loop, True)  # noqa: FBT003 - its direction
            for loop in loops
        ]
        shell = self.make(
            "IfcClosedShell", [self.make("IfcFace", [bound]) for bound in bounds]
        )
        body = self.make("IfcFacetedBrep", shell)
        self.make("IfcStyledItem", body, [self._style(transparency)], None)
        return body

    def _style(self, transparency: float) -> Any:
        if transparency not in self.styles:
            paint = _BLUE if transparency == _CLEAR else _RED
            colour = self.make("IfcColourRgb", None, *paint)
            rendering = self.make(
                "IfcSurfaceStyleRendering",
                SurfaceColour=colour,
                Transparency=transparency,
                ReflectanceMethod="NOTDEFINED",
            )
            style = self.make("IfcSurfaceStyle", "standclear", "BOTH", [rendering])
            if self.file.schema == "IFC2X3":
                style = self.make("IfcPresentationStyleAssignment", [style])
            self.styles[transparency] = style
        return self.styles[transparency]

    def _who(self, role: str, item: str) -> dict[str, tuple[str, str]]:
        """Return what says who an item is: its GlobalId in the model, where it has one.

        What only the scene knows, a wall of the room say, has its name alone.
        """
        return {
            f"{role}GlobalId": (_NAME, guid_of(self.report, item) or ""),
            f"{role}Name": (_LABEL, item),
        }

    def _say(self, key: UUID, element: Any, name: str, said: dict[str, Any]) -> None:
        properties = [
            self.make("IfcPropertySingleValue", one, None, self.make(*value), None)
            for one, value in said.items()
            if value[1] != ""
        ]
        group = self.rooted(
            "IfcPropertySet", self.key(key, "set"), name, HasProperties=properties
        )
        relation = self.rooted(
            "IfcRelDefinesByProperties", self.key(key, "said"), name,
            RelatedObjects=[element], RelatingPropertyDefinition=group,
        )  # fmt: skip
        relation.Name = None

    def bytes(self) -> bytes:
        """Return the file; its header says no time, so that it is the same again."""
        if self.elements:
            self.rooted(
                "IfcRelContainedInSpatialStructure",
                self.key("contents"),
                "standclear",
                RelatedElements=self.elements,
                RelatingStructure=self.home,
            )
        header = self.file.header
        header.file_name.time_stamp = _TIME
        header.file_name.name = "standclear"
        text: str = self.file.to_string()
        return text.encode()
