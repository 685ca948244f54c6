"""The building model that an overlay is written into.

It is a file of its own, or a copy of a model that the scene came from. GlobalIds come
of what is meant, so that a newer overlay takes the place of an older.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

import numpy as np

from model3d.exchange.ifc.element import OWN_TYPES, ModelError
from model3d.exchange.ifc.file.georeference import matrix_of, move_into, on_its_map
from model3d.exchange.ifc.file.opening import opened, says_unit
from model3d.exchange.outgoing_findings import identity, origin_of
from model3d.scene.manuscript import blanked

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path
    from uuid import UUID

    from model3d.exchange.ifc.element import Matrix
    from model3d.judging.report import Report
    from model3d.scene.scene import Scene

_TIME: Final = "1980-01-01T00:00:00"


class TargetModel:
    """A model that is being written.

    Attributes:
        file: What the library holds of it.
        scale: Its units of length in a metre.
        context: Of all shapes.
        frame: What brings the scene's own points into it.
        elements: What is put into it.
    """

    def __init__(
        self,
        report: Report,
        schema: str,
        into: Path | None,
        tell: Callable[[str], None],
    ) -> None:
        """Open or begin it, see ``overlay``."""
        import ifcopenshell

        self._report = report
        self._guid = ifcopenshell.guid
        self._tell = tell
        self._origin = matrix_of(origin_of(report), 0.0)
        self.frame: Matrix = self._origin
        self.elements: list[Any] = []
        if into is None:
            self.file = ifcopenshell.file(schema=schema)
            self._begin()
        else:
            self._open(into)

    @property
    def _scene(self) -> Scene | None:
        return self._report.arrangement.scene if self._report.arrangement else None

    @property
    def _storey(self) -> tuple[str, float | None]:
        """The name of the scene's storey, and its height in the scene's first model."""
        scene = self._scene
        if scene is None:
            return "", None
        for number, one in enumerate(scene.frames):
            if one.storey is not None:
                level = one.elevation if number == 0 else None
                return one.storey, None if level is None else scene.metres(level)
        return "", None

    def make(self, kind: str, *values: Any, **named: Any) -> Any:
        """Return a new entity; texts lose what is no sign, which would end them."""
        said = {key: _text(value) for key, value in named.items()}
        return self.file.create_entity(kind, *map(_text, values), **said)

    def rooted(self, kind: str, key: UUID, name: str, **named: Any) -> Any:
        """Return a new entity with a GlobalId."""
        return self.make(
            kind,
            GlobalId=self._guid.compress(key.hex),
            OwnerHistory=self._owner,
            Name=name,
            **named,
        )

    def key(self, *parts: object) -> UUID:
        """Return what stands for something of this scene, always the same."""
        return identity(self._report, "ifc", *parts)

    def _begin(self) -> None:
        self.scale = 1.0
        self._owner = self._history() if self.file.schema == "IFC2X3" else None
        metre = self.make("IfcSIUnit", None, "LENGTHUNIT", None, "METRE")
        units = self.make("IfcUnitAssignment", [metre])
        self.context = self.make(
            "IfcGeometricRepresentationContext", None, "Model", 3, 1e-6,
            self.axes(), None,
        )  # fmt: skip
        project = self.rooted(
            "IfcProject", self.key("project"), self._report.scene,
            RepresentationContexts=[self.context], UnitsInContext=units,
        )  # fmt: skip
        building = self.rooted("IfcBuilding", self.key("building"), self._report.scene)
        name, level = self._storey
        home = name or self._report.scene
        self._home = self.rooted("IfcBuildingStorey", self.key("storey"), home)
        self._home.Elevation = level
        if self.file.schema == "IFC2X3":
            building.CompositionType = self._home.CompositionType = "ELEMENT"
        for one, other in ((project, building), (building, self._home)):
            self.rooted(
                "IfcRelAggregates", self.key("part", other.is_a()), "",
                RelatingObject=one, RelatedObjects=[other],
            ).Name = None  # fmt: skip

        chart = on_its_map(self._scene) if self._scene else None
        if chart is not None and self.file.schema != "IFC2X3":
            self._put_on_map(chart[0] @ np.linalg.inv(self._origin), chart[1])

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
        if not says_unit(self.file):
            msg = f"{path}: found no unit of length, right is a model that says its own"
            raise ModelError(msg)
        for one in self.file.by_type("IfcBuildingElementProxy"):
            if one.ObjectType in OWN_TYPES:
                api.run("root.remove_product", self.file, product=one)
        self.scale = 1 / unit.calculate_unit_scale(self.file)
        histories = self.file.by_type("IfcOwnerHistory")
        self._owner = histories[0] if histories else None
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
        if self._scene is not None and self._scene.frames:
            self.frame, told = move_into(self._scene, self.file, path.name)
            for one in told:
                self._tell(one)
        level = float(self.frame[2, 3]) * self.scale
        at = [(getattr(one, "Elevation", None) or 0.0, one) for one in homes]
        below = [pair for pair in at if pair[0] <= level + 1e-6] or at
        named = [one for one in homes if one.Name == self._storey[0]]
        highest = max(below, key=lambda pair: pair[0])[1]
        self._home = named[0] if len(named) == 1 else highest

    def axes(self, frame: Matrix | None = None) -> Any:
        """Return a frame as the model writes one; without one its own."""
        frame = np.eye(4) if frame is None else frame
        at = [float(one) * self.scale for one in frame[:3, 3]]
        up, right = (
            self.make("IfcDirection", [float(one) for one in frame[:3, axis]])
            for axis in (2, 0)
        )
        return self.make(
            "IfcAxis2Placement3D", self.make("IfcCartesianPoint", at), up, right
        )

    def bytes(self) -> bytes:
        """Return the file; its header says no time, so that it is the same again."""
        if self.elements:
            self.rooted(
                "IfcRelContainedInSpatialStructure",
                self.key("contents"),
                "standclear",
                RelatedElements=self.elements,
                RelatingStructure=self._home,
            )
        header = self.file.header
        header.file_name.time_stamp = _TIME
        header.file_name.name = "standclear"
        text: str = self.file.to_string()
        return text.encode()


def _text(value: Any) -> Any:
    return blanked(value) if isinstance(value, str) else value
