"""What a model must say of every piece of gear: asked for in an IDS file, and reported.

One list serves both, so that what the file asks for is what the import looks for.
IDS is the open Information Delivery Specification 1.0 of buildingSMART.
"""

from __future__ import annotations

import math
import re
from typing import TYPE_CHECKING, Final
from xml.etree import ElementTree as ET

from model3d.exchange.ifc.gear.asked import asked_of
from model3d.exchange.ifc.gear.classes import own_table
from model3d.exchange.ifc.gear.rating import rating_of
from model3d.scene.kinds import KINDS
from model3d.scene.parts.placement import BEARING
from model3d.wording import CAUTION

if TYPE_CHECKING:
    from collections.abc import Sequence

    from model3d.exchange.ifc.element import Element
    from model3d.exchange.ifc.gear.asked import Asked
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
_OBEYED: Final = r"\|.?*+(){}[]^-"
"""Signs that mean something in a pattern of XML Schema, but for letters."""
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
        "its class, by the class of its type or by its own name is asked; what is "
        "known by a name of its type alone, or a transformer by its name, is not: "
        f"each import lists it. {' '.join(CAUTION)}"
    )
    every = _add(root, "specifications")
    for schema in _SCHEMAS:
        for asked in asked_of(schema, (*rows, *own_table())):
            _specify(every, schema, asked)
    ET.indent(root)
    written: bytes = ET.tostring(root, "utf-8", xml_declaration=True)
    return written + b"\n"


def _ids(name: str) -> str:
    return f"{{{_IDS}}}{name}"


def _add(parent: ET.Element, tag: str, **said: str) -> ET.Element:
    return ET.SubElement(parent, _ids(tag), said)


def _specify(every: ET.Element, schema: str, asked: Asked) -> None:
    title = f"{asked.title}, {schema}"
    one = _add(every, "specification", name=title, ifcVersion=schema)
    applies = _add(one, "applicability", minOccurs="0", maxOccurs="unbounded")
    entity = _add(applies, "entity")
    if len(asked.classes) == 1:
        _value(entity, "name", asked.classes[0])
    else:
        _choice(_add(entity, "name"), "enumeration", asked.classes)
    if asked.predefined:
        _choice(_add(entity, "predefinedType"), "enumeration", asked.predefined)
    if asked.words:
        named = _add(applies, "attribute")
        _value(named, "name", "Name")
        # One pattern: of several some readers want all.
        _choice(_add(named, "value"), "pattern", (_anywhere(asked.words),))
    wanted = _add(one, "requirements")
    said = "What the gear is called on drawings, such as LP-1."
    _value(_add(wanted, "attribute", instructions=said), "name", "Name")
    for group, title, measure, pattern, why in _ASKED:
        current = _CURRENT.get(schema, "RatedCurrent")
        stated = _add(wanted, "property", dataType=measure, instructions=why)
        _value(stated, "propertySet", group)
        _value(stated, "baseName", title.format(current=current))
        if pattern:
            _choice(_add(stated, "value"), "pattern", (pattern,))


def _anywhere(words: Sequence[str]) -> str:
    """Return the pattern of a name with one of these in it, in any letters."""
    found = ("".join(map(_sign, word)) for word in words)
    return f".*({'|'.join(found)}).*"


def _sign(sign: str) -> str:
    if sign.isalpha():
        return f"[{sign.upper()}{sign}]"
    return f"\\{sign}" if sign in _OBEYED else sign.replace("$", "[$]")


def _value(parent: ET.Element, name: str, text: str) -> None:
    _add(_add(parent, name), "simpleValue").text = text


def _choice(parent: ET.Element, facet: str, values: Sequence[str]) -> None:
    limits = ET.SubElement(parent, f"{{{_XS}}}restriction", {"base": "xs:string"})
    for value in values:
        ET.SubElement(limits, f"{{{_XS}}}{facet}", {"value": value})
