"""What a model must say of every piece of gear: asked for in an IDS file, and reported.

One list serves both, so that what the file asks for is what the import looks for.
IDS is the open Information Delivery Specification 1.0 of buildingSMART.
"""

from __future__ import annotations

import math
import re
from typing import TYPE_CHECKING, Any, Final
from xml.etree import ElementTree as ET

from model3d.exchange.ifc.gear.classes import LEFT_OUT, own_table
from model3d.exchange.ifc.gear.rating import rating_of
from model3d.scene.kinds import KINDS
from model3d.scene.parts.placement import BEARING
from model3d.wording import CAUTION

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from model3d.exchange.ifc.element import Element
    from model3d.exchange.ifc.gear.classes import ClassRow

GROUP: Final = "Standclear_Gear"
"""The property set of what no standard property set has."""
FRONT: Final = "Front"
SYSTEM: Final = "Distribution System"
_SCHEMAS: Final = ("IFC2X3", "IFC4", "IFC4X3_ADD2")
_IDS: Final = "http://standards.buildingsmart.org/IDS"
_XS: Final = "http://www.w3.org/2001/XMLSchema"
_SIDES: Final = "|".join(BEARING)
_FRONT_PATTERN: Final = rf"({_SIDES}|[0-9]{{1,3}}(\.[0-9]+)?)"
_SYSTEM_PATTERN: Final = r".*[0-9]{3}Y?/[0-9]{3}.*|.*[0-9] ?k?V.*"
_ASKED: Final = (
    (
        GROUP,
        SYSTEM,
        "IFCLABEL",
        _SYSTEM_PATTERN,
        "Voltages of the supply: 480Y/277 V, 208Y/120 V, 13.8 kV.",
    ),
    (
        "Pset_ElectricalDeviceCommon",
        "{current}",
        "IFCELECTRICCURRENTMEASURE",
        None,
        "Rated current in amperes.",
    ),
    (
        GROUP,
        FRONT,
        "IFCLABEL",
        _FRONT_PATTERN,
        "Where its front points: north (+Y), east, south, west or degrees clockwise.",
    ),
)
_CURRENT: Final = {"IFC2X3": "NominalCurrent"}
"""By schema; later ones call it RatedCurrent."""


def front_said(element: Element) -> float | None:
    """Return the bearing of its front that an element states, or None."""
    for one in element.properties:
        if (one.group, one.name) != (GROUP, FRONT):
            continue
        word = str(one.value).strip().casefold()
        if word in BEARING:
            return BEARING[word]
        if re.fullmatch(_FRONT_PATTERN, word) and math.isfinite(float(word)):
            return float(word) % 360
    return None


def lacking(element: Element, kind: str) -> list[str]:
    """Return what is asked of a piece of gear and not said by the model."""
    lacks = []
    if not element.name:
        lacks.append("name")
    if KINDS[kind].associated:
        supply = rating_of(element).supply
        if not {"system", "to_ground"} & supply.keys():
            lacks.append("voltage")
        if "amps" not in supply:
            lacks.append("current")
    if front_said(element) is None:
        lacks.append("front")
    return lacks


def ids_text(rows: Sequence[ClassRow] = ()) -> bytes:
    """Return an IDS file that says what every piece of gear must carry.

    Args:
        rows: The user's own rows of the table of classes.

    Raises:
        ImportError: ifcopenshell is not here, which knows the classes of each schema.
    """
    ET.register_namespace("ids", _IDS)
    ET.register_namespace("xs", _XS)
    root = ET.Element(_ids("ids"))
    info = _add(root, "info")
    _add(info, "title").text = "What a model says of electrical gear"
    _add(info, "description").text = (
        "For checks of the space to work at electrical gear. Gear that is known by "
        f"its names, or by its type alone, is not asked here. {' '.join(CAUTION)}"
    )
    every = _add(root, "specifications")
    for schema in _SCHEMAS:
        for name, predefined in _gear_classes(schema, (*rows, *own_table())):
            _specify(every, schema, name, predefined)
    ET.indent(root)
    written: bytes = ET.tostring(root, "utf-8", xml_declaration=True)
    return written + b"\n"


def _ids(name: str) -> str:
    return f"{{{_IDS}}}{name}"


def _add(parent: ET.Element, tag: str, **said: str) -> ET.Element:
    return ET.SubElement(parent, _ids(tag), said)


def _specify(
    every: ET.Element, schema: str, name: str, predefined: tuple[str, ...]
) -> None:
    one = _add(every, "specification", name=f"{name}, {schema}", ifcVersion=schema)
    applies = _add(one, "applicability", minOccurs="0", maxOccurs="unbounded")
    entity = _add(applies, "entity")
    _value(entity, "name", name.upper())
    if predefined:
        _choice(_add(entity, "predefinedType"), "enumeration", predefined)
    wanted = _add(one, "requirements")
    said = "What the gear is called on drawings, such as LP-1."
    _value(_add(wanted, "attribute", instructions=said), "name", "Name")
    for group, title, measure, pattern, why in _ASKED:
        current = _CURRENT.get(schema, "RatedCurrent")
        asked = _add(wanted, "property", dataType=measure, instructions=why)
        _value(asked, "propertySet", group)
        _value(asked, "baseName", title.format(current=current))
        if pattern:
            _choice(_add(asked, "value"), "pattern", (pattern,))


def _value(parent: ET.Element, name: str, text: str) -> None:
    _add(_add(parent, name), "simpleValue").text = text


def _choice(parent: ET.Element, facet: str, values: Sequence[str]) -> None:
    limits = ET.SubElement(parent, f"{{{_XS}}}restriction", {"base": "xs:string"})
    for value in values:
        ET.SubElement(limits, f"{{{_XS}}}{facet}", {"value": value})


def _gear_classes(
    schema: str, rows: Sequence[ClassRow]
) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Yield the classes that are gear, with predefined types where only some are."""
    from ifcopenshell import schema_by_name

    plain = [
        row
        for row in rows
        if row.of_class and not (row.of_type or row.words or row.system or row.guid)
    ]
    for declared in sorted(schema_by_name(schema).entities(), key=_name):
        classes = _line(declared)
        if declared.is_abstract() or "IfcElement" not in classes:
            continue
        known = _predefined(declared)
        gear = tuple(one for one in known if _is_gear(classes, one, plain))
        if gear and len(gear) == len(known) and _is_gear(classes, "", plain):
            yield classes[0], ()
        elif gear:
            yield classes[0], gear
        elif not known and _is_gear(classes, "", plain):
            yield classes[0], ()


def _name(declared: Any) -> str:
    return str(declared.name())


def _line(declared: Any) -> tuple[str, ...]:
    names = []
    while declared is not None:
        names.append(_name(declared))
        declared = declared.supertype()
    return tuple(names)


def _predefined(declared: Any) -> tuple[str, ...]:
    for one in declared.all_attributes():
        if one.name() == "PredefinedType":
            listed = one.type_of_attribute().declared_type().enumeration_items()
            return tuple(map(str, listed))
    return ()


def _is_gear(
    classes: tuple[str, ...], predefined: str, rows: Sequence[ClassRow]
) -> bool:
    for row in rows:
        fits = any(one in classes for one in row.of_class)
        if fits and (not row.predefined or predefined in row.predefined):
            return (
                row.kind != LEFT_OUT
                and KINDS[row.kind].needs_working_space
                and KINDS[row.kind].associated
            )
    return False
