"""Building models as files: of a known schema, whole, in no circle, in a known unit."""

from __future__ import annotations

import re
import shutil
import zipfile
from graphlib import CycleError, TopologicalSorter
from typing import TYPE_CHECKING, Any, Final

from model3d.disk.scratch import scratch
from model3d.exchange.ifc.element import ModelError

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

SCHEMAS: Final = ("IFC2X3", "IFC4", "IFC4X3_ADD2")
METRES: Final = {"mm": 0.001, "cm": 0.01, "m": 1.0, "in": 0.0254, "ft": 0.3048}
"""In each unit that a person may say a model is in."""
_PREFIX: Final = {"mm": "MILLI", "cm": "CENTI", "m": None}
_INCHES: Final = {"in": "inch", "ft": "foot"}
_LOST: Final = re.compile(r"Instance reference #(\d+) used by .* not found")
"""How the library tells of what others name and the file does not hold."""
_UNKNOWN: Final = re.compile(r"Unsupported schema: ([\w,]{1,80})")
_EARLIER: Final = re.compile(
    rb"FILE_SCHEMA\s*\(\s*\(\s*'(IFC4X3(?:_TC1|_ADD1)?)'", re.IGNORECASE
)
"""Names that IFC 4.3 had in files before its second addendum; no entity that is read
here differs (from memory), and what is not of the schema is told as lost."""
_HEADER: Final = 65_536
_PACKED: Final = ".ifczip"
_IN: Final = (
    ("IfcLocalPlacement", "", "PlacementRelTo"),
    ("IfcBooleanResult", "", "FirstOperand"),
    ("IfcBooleanResult", "", "SecondOperand"),
    ("IfcRelDecomposes", "RelatingObject", "RelatedObjects"),
    ("IfcRelNests", "RelatingObject", "RelatedObjects"),
    ("IfcRelContainedInSpatialStructure", "RelatingStructure", "RelatedElements"),
    ("IfcRelVoidsElement", "RelatingBuildingElement", "RelatedOpeningElement"),
    ("IfcRelFillsElement", "RelatingOpeningElement", "RelatedBuildingElement"),
)
"""What says which thing holds others, in which of its attributes; "" for itself.

Readers follow these to their ends, and would follow a circle for ever.
"""
_FEW: Final = 4


def opened(path: Path) -> Any:
    """Return a model of a schema that is known.

    Raises:
        ModelError: It is none.
    """
    import ifcopenshell

    ifcopenshell.get_log()
    try:
        model = _read(path)
        schema = model.schema_identifier
    except Exception as error:
        if unknown := _UNKNOWN.search(str(error)):
            raise _unknown(path, unknown[1]) from error
        msg = f"{path}: found no building model that can be read, right is IFC"
        raise ModelError(msg) from error
    if schema not in SCHEMAS:
        raise _unknown(path, schema)
    lost = sorted({int(one) for one in _LOST.findall(ifcopenshell.get_log())})
    if lost:
        names = f"#{lost[0]}" + (f" and {len(lost) - 1} more" if lost[1:] else "")
        msg = (
            f"{path}: found nothing at {names}, named by others, right is a whole model"
        )
        raise ModelError(msg)
    if circle := _circle(model):
        names = " in ".join(f"#{one}" for one in circle[:_FEW])
        more = " in others" if circle[_FEW:] else ""
        msg = f"{path}: found {names}{more}, right is nothing that is in itself"
        raise ModelError(msg)
    return model


def _read(path: Path) -> Any:
    """Return a model; one of an earlier name of IFC 4.3 as if it had the last one."""
    import ifcopenshell

    if path.suffix.lower() == _PACKED:
        # Unpacked here, for the library would not see which name is an earlier one.
        with scratch() as folder:
            return _read(_unpacked(path, folder / "unpacked.ifc"))
    with path.open("rb") as stream:
        earlier = _EARLIER.search(stream.read(_HEADER))
    if earlier is None:
        return ifcopenshell.open(str(path))
    whole = path.read_bytes()
    with scratch() as folder:
        copy = folder / "model.ifc"
        name = SCHEMAS[-1].encode()
        copy.write_bytes(whole[: earlier.start(1)] + name + whole[earlier.end(1) :])
        return ifcopenshell.open(str(copy))


def _unpacked(path: Path, target: Path) -> Path:
    """Write the one model of a zip file into a file, and return that."""
    with zipfile.ZipFile(path) as archive, target.open("wb") as copy:
        names = (one.filename for one in archive.infolist())
        (name,) = (one for one in names if one.lower().endswith(".ifc"))
        with archive.open(name) as stream:
            shutil.copyfileobj(stream, copy)
    return target


def _unknown(path: Path, schema: str) -> ModelError:
    known = f"{', '.join(SCHEMAS[:-1])} or {SCHEMAS[-1]}"
    several = [one for one in schema.split(",") if one]
    if several[1:]:  # the standard has a list there, and wants one name in it
        what = f"{len(several)} schemas ({', '.join(several)}), right is one: {known}"
        return ModelError(f"{path}: found {what}")
    return ModelError(f"{path}: found the schema {schema}, right is {known}")


def _circle(model: Any) -> list[int]:
    """Return numbers of which each is held by the next, the last by itself; or none."""
    held: dict[int, set[int]] = {}
    for one, other in _pairs(model):
        held.setdefault(one.id(), set()).add(other.id())
    try:
        TopologicalSorter(held).prepare()
    except CycleError as error:
        found: list[int] = error.args[1]
        return found
    return []


def _pairs(model: Any) -> Iterator[tuple[Any, Any]]:
    """Yield what holds something, with that."""
    for kind, holder, inner in _IN:
        for one in model.by_type(kind):
            holds = getattr(one, holder, None) if holder else one
            others = getattr(one, inner, None)
            if holds is None or others is None:
                continue
            for other in others if isinstance(others, tuple) else (others,):
                yield holds, other


def says_unit(model: Any) -> bool:
    """Tell whether a model says its unit of length; what has no project needs none."""
    from ifcopenshell.util import unit as units

    if not model.by_type("IfcProject"):
        return True
    return units.get_project_unit(model, "LENGTHUNIT") is not None


def with_unit(model: Any, drawn_in: str | None) -> list[str]:
    """Let a model that says no unit of length be in one, and return what to tell.

    Metres, where nobody says: what the standard's measures are usually in (IFC 4.3,
    IfcLengthMeasure: "usually measured in metres").

    Args:
        model: It gets the unit.
        drawn_in: The unit, where the user says one.
    """
    from ifcopenshell import api

    if says_unit(model):
        said = "says its unit of length itself, --drawn-in is for models that say none"
        return [said] if drawn_in else []
    name = drawn_in or "m"
    unit = (
        api.run("unit.add_conversion_based_unit", model, name=_INCHES[name])
        if name in _INCHES
        else api.run(
            "unit.add_si_unit", model, unit_type="LENGTHUNIT", prefix=_PREFIX[name]
        )
    )
    api.run("unit.assign_unit", model, units=[unit])
    if drawn_in is not None:
        return []
    return ["found no unit of length, taken as m; --drawn-in may say another"]
