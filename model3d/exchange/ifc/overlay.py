"""Required spaces and what is in their way as elements of a building model.

They stand in a file of their own, or in a copy of a model that the scene came from.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any

import numpy as np

from model3d.exchange.ifc.element import FINDING, SPACE
from model3d.exchange.ifc.file.overlaid_model import TargetModel
from model3d.exchange.ifc.file.worker import MEMORY, SECONDS, read_apart
from model3d.exchange.outgoing_findings import (
    WORKING_SPACE,
    Finding,
    Required,
    asked_of,
    clear_depth,
    findings,
    guid_of,
    name_of,
    outline_of,
    required_spaces,
)

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path
    from uuid import UUID

    from model3d.exchange.outgoing_findings import Faces, Points
    from model3d.judging.report import Report
    from model3d.judging.results import Judgement

_BLUE, _RED = (0.34, 0.71, 0.91), (0.84, 0.37, 0.0)
_CLEAR, _DENSE = 0.7, 0.3
"""Transparency of spaces, and of what is in the way."""
_LENGTH, _POSITIVE = "IfcLengthMeasure", "IfcPositiveLengthMeasure"
_LABEL, _TEXT, _NAME = "IfcLabel", "IfcText", "IfcIdentifier"


def overlay(
    report: Report,
    *,
    schema: str = "IFC4",
    into: Path | None = None,
    clearance: bool = False,
    tell: Callable[[str], None] = lambda _: None,
) -> bytes:
    """Return a building model with the required spaces and the findings of a report.

    Args:
        report: What the check answered.
        schema: Of a file of its own.
        into: A model of which a copy is written, in its own schema, unit and frame.
        clearance: Spaces are virtual elements, which IFC4X3 has a type for, and no
            proxies, which more viewers show.
        tell: Is told what a person must know of its frame.

    Raises:
        ModelError: The model cannot be read, has no building, or nobody can say where
            the scene lies in it.
        ImportError: The extra is not installed.
    """
    target = TargetModel(report, schema, into, tell)
    whole = _Overlay(report, target, clearance=clearance)
    for space in required_spaces(report):
        whole.space(space)
    for finding in findings(report):
        if finding.intrusion is not None:
            whole.finding(finding)
    return whole.model.bytes()


def overlay_into(
    report: Report,
    into: Path,
    tell: Callable[[str], None],
    *,
    clearance: bool = False,
    seconds: float = SECONDS,
    memory: int = MEMORY,
) -> bytes:
    """Return a copy of a model with the spaces of a report, made by another process.

    Args:
        report: What the check answered.
        into: The model.
        tell: Is told what a person must know of its frame.
        clearance: As ``overlay`` takes it.
        seconds: After which it is ended.
        memory: Bytes of address space that it may have; Windows has no such limit.

    Raises:
        ModelError: It cannot be read, see ``overlay``; or reading had to be ended.
    """
    work = partial(_copy, report, into, clearance)
    return read_apart(work, str(into), tell, seconds=seconds, memory=memory)


def _copy(
    report: Report,
    into: Path,
    clearance: bool,  # noqa: FBT001 - as overlay has it
    tell: Callable[[str], None],
) -> bytes:
    return overlay(report, into=into, clearance=clearance, tell=tell)


class _Overlay:
    """What is put into a model.

    Attributes:
        report: What the check answered.
        model: The model.
        clearance: Spaces are virtual elements.
        styles: How surfaces look, by how much one sees through them.
    """

    def __init__(
        self, report: Report, model: TargetModel, *, clearance: bool = False
    ) -> None:
        self.report, self.model, self.clearance = report, model, clearance
        self.styles: dict[float, Any] = {}

    def space(self, space: Required) -> None:
        judgement = space.judgement
        subject = judgement.subject
        own = self.model.key("space", *name_of(judgement), space.number)
        name = f"{subject} {asked_of(judgement)}"
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
            name: (_POSITIVE, float(size) * self.model.scale)
            for name, size in zip(names, sizes, strict=True)
        }
        if "depth" in judgement.provided:
            depth = judgement.provided["depth"] * self.model.scale
            said["ClearDepth"] = (_LENGTH, float(depth))
        return said

    def finding(self, finding: Finding) -> None:
        judgement, intrusion = finding.judgement, finding.intrusion
        body = outline_of(self.report, finding)
        if intrusion is None or body is None:
            return
        points, faces = body.mesh
        own = self.model.key(
            "finding", *name_of(judgement), intrusion.item, intrusion.part
        )
        part = f" ({intrusion.part})" if intrusion.part else ""
        what = f"{judgement.subject} {asked_of(judgement)}"
        name = f"{intrusion.item}{part} in the way of {what}"
        element = self._proxy(own, name, FINDING, points, faces, _DENSE)
        said = {
            **self._who("Equipment", judgement.subject),
            **self._who("Obstacle", intrusion.item),
            "ObstaclePart": (_LABEL, intrusion.part),
            "ObstacleClass": (_LABEL, self._class_of(intrusion.item)),
            "Rule": (_LABEL, judgement.requirement),
            "Citation": (_LABEL, judgement.citation),
            "HeightFrom": (_LENGTH, float(intrusion.low[2]) * self.model.scale),
            "HeightTo": (_LENGTH, float(intrusion.high[2]) * self.model.scale),
        }
        if (depth := clear_depth(finding)) is not None:
            said["ClearDepth"] = (_LENGTH, depth * self.model.scale)
        self._say(own, element, "Standclear_Finding", said)

    def _class_of(self, item: str) -> str:
        """Return the class of an item in the model it is put into, else its kind."""
        guid = guid_of(self.report, item)
        if guid is not None:
            for one in self.model.file.by_type("IfcProduct"):
                if one.GlobalId == guid:
                    return str(one.is_a())
        arrangement = self.report.arrangement
        placed = arrangement.items.get(item) if arrangement else None
        return placed.kind.name if placed else ""

    def _proxy(
        self,
        key: UUID,
        name: str,
        kind: str,
        points: Points,
        faces: Faces,
        transparency: float,
    ) -> Any:
        is_space, schema = kind == SPACE, self.model.file.schema
        is_virtual = is_space and self.clearance
        shown = "IfcVirtualElement" if is_virtual else "IfcBuildingElementProxy"
        element = self.model.rooted(shown, key, name, ObjectType=kind)
        if is_virtual:
            if schema.startswith("IFC4X3"):  # those before have no such type
                element.PredefinedType = "CLEARANCE"
        elif schema == "IFC2X3":
            element.CompositionType = "ELEMENT"
        else:
            element.PredefinedType = "PROVISIONFORSPACE" if is_space else "USERDEFINED"
        # The points stay near zero, where viewers of single precision see them still.
        element.ObjectPlacement = self.model.make(
            "IfcLocalPlacement", None, self.model.axes(self.model.frame)
        )
        shape = self.model.make(
            "IfcShapeRepresentation", self.model.context, "Body", "Brep",
            [self._brep(points, faces, transparency)],
        )  # fmt: skip
        element.Representation = self.model.make(
            "IfcProductDefinitionShape", None, None, [shape]
        )
        self.model.elements.append(element)
        return element

    def _brep(self, points: Points, faces: Faces, transparency: float) -> Any:
        # The one closed shape that all three schemas have.
        corners = [
            self.model.make(
                "IfcCartesianPoint", [float(one) * self.model.scale for one in point]
            )
            for point in points
        ]
        loops = [
            self.model.make("IfcPolyLoop", [corners[corner] for corner in face])
            for face in faces
        ]
        bounds = [
            self.model.make("IfcFaceOuterBound", loop, True)  # noqa: FBT003 - its direction
            for loop in loops
        ]
        shell = self.model.make(
            "IfcClosedShell", [self.model.make("IfcFace", [bound]) for bound in bounds]
        )
        body = self.model.make("IfcFacetedBrep", shell)
        self.model.make("IfcStyledItem", body, [self._style(transparency)], None)
        return body

    def _style(self, transparency: float) -> Any:
        if transparency not in self.styles:
            paint = _BLUE if transparency == _CLEAR else _RED
            colour = self.model.make("IfcColourRgb", None, *paint)
            rendering = self.model.make(
                "IfcSurfaceStyleRendering",
                SurfaceColour=colour,
                Transparency=transparency,
                ReflectanceMethod="NOTDEFINED",
            )
            style = self.model.make(
                "IfcSurfaceStyle", "standclear", "BOTH", [rendering]
            )
            if self.model.file.schema == "IFC2X3":
                style = self.model.make("IfcPresentationStyleAssignment", [style])
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
            self.model.make(
                "IfcPropertySingleValue", one, None, self.model.make(*value), None
            )
            for one, value in said.items()
            if value[1] != ""
        ]
        group = self.model.rooted(
            "IfcPropertySet", self.model.key(key, "set"), name, HasProperties=properties
        )
        relation = self.model.rooted(
            "IfcRelDefinesByProperties", self.model.key(key, "said"), name,
            RelatedObjects=[element], RelatingPropertyDefinition=group,
        )  # fmt: skip
        relation.Name = None
