"""What is taken out of a building model: plain records, lengths in metres."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Points = NDArray[np.float64]
    Faces = NDArray[np.int64]
    Matrix = NDArray[np.float64]
    Box = NDArray[np.float64]


SPACE: Final = "STANDCLEAR_SPACE"
FINDING: Final = "STANDCLEAR_FINDING"
OWN_TYPES: Final = frozenset({SPACE, FINDING})
"""Object types of what this program puts into models: nobody's obstacle when read."""


class ModelError(ValueError):
    """A model that cannot be used, or that does not say enough; one line a mistake.

    Attributes:
        mistakes: All of them.
    """

    def __init__(self, *mistakes: str) -> None:
        self.mistakes = mistakes
        super().__init__("\n".join(mistakes))


@dataclass(frozen=True, slots=True)
class Property:
    """One property of an element or of its type.

    Attributes:
        group: The property set it stands in.
        name: Its name.
        value: Text or a number; of a voltage or a current in volts and amperes.
        measure: The type of the value: "IfcLabel", "IfcElectricVoltageMeasure".
    """

    group: str
    name: str
    value: str | float
    measure: str


@dataclass(frozen=True, slots=True, eq=False)
class Element:
    """One element of a model.

    Attributes:
        key: File and number in it; the only name that is surely its own.
        guid: Its GlobalId; files with doubles exist.
        classes: Its class and those above it, its own first.
        type_classes: Likewise of its type.
        predefined: Its predefined type, or its type's.
        name, long_name, type_name, tag, storey: As the model says; "" for nothing.
        systems: Predefined types and names of the systems it belongs to.
        properties: Its own and its type's.
        overall: Width and height of a door, where they are said.
        operation: Of a door: how it opens, as IFC says.
        points, faces: In the model's own frame; empty without a shape.
        matrix: Its placement, shape (4, 4).
        drawn: The ends of the straight lines by which alone it is drawn, shape
            (n, 2, 3); None where it has a shape, or nothing is drawn.
        level: The elevation that its storey says, metres; None where it says none.
        flat: These lines are drawn in plan: nothing tells how high it is.
        most: Corners of boxes that hold its body where that cannot be read, shape
            (8 n, 3); None where it was read, or nothing tells how large it is.
        unread: It is not in ``points`` as a whole, nor in ``drawn`` or ``most``: what
            may be in somebody's way is not known.
        undrawn: The model draws nothing of it.
    """

    key: tuple[int, int]
    guid: str
    classes: tuple[str, ...]
    type_classes: tuple[str, ...]
    predefined: str
    name: str
    long_name: str
    type_name: str
    tag: str
    storey: str
    systems: tuple[str, ...]
    properties: tuple[Property, ...]
    overall: tuple[float | None, float | None]
    operation: str
    points: Points
    faces: Faces
    matrix: Matrix
    drawn: Points | None = None
    flat: bool = False
    level: float | None = None
    most: Points | None = None
    unread: bool = False
    undrawn: bool = False

    def is_a(self, *names: str) -> bool:
        """Tell whether it is of one of some classes."""
        return any(name in self.classes for name in names)

    @property
    def words(self) -> str:
        """All that it is called, in small letters."""
        titles = (
            str(one.value)
            for one in self.properties
            if one.name.casefold() in {"omniclass title", "model", "panel name"}
        )
        parts = (self.name, self.long_name, self.type_name, *titles)
        return " | ".join(part for part in parts if part).casefold()

    @property
    def called(self) -> str:
        """The part of its name that a person knows it by."""
        said = {one.name.casefold(): str(one.value) for one in self.properties}
        parts = [part.strip() for part in (self.long_name or self.name).split(":")]
        parts = [part for part in parts if part and not part.isdecimal()]
        if len(parts) > 1 and parts[-1] == self.type_name:
            # "Pump:100 mm:100 mm:4711" is family, type, type and a number.
            parts = [parts[0].removeprefix("M_")]
        named = said.get("panel name", "").strip() or (parts[-1] if parts else "")
        return named or self.tag or self.guid

    @property
    def meshed(self) -> bool:
        """Whether it has a shape."""
        return bool(len(self.faces))

    @property
    def at_most(self) -> bool:
        """Whether only the most is known that it may take up."""
        return not self.meshed and (self.drawn is not None or self.most is not None)


@dataclass(frozen=True, slots=True, eq=False)
class Base:
    """A model's own frame, or that of the map.

    Attributes:
        said: What a scene says of it: model and project, or map.
        matrix: What brings the frame of the first model into it.
    """

    said: dict[str, str]
    matrix: Matrix


@dataclass(frozen=True, slots=True)
class Building:
    """One or several models of one building.

    Attributes:
        files: Their names.
        feet: The first of them is in feet or inches.
        elements: All that have a shape or could have one, by file and number.
        notes: What was made of the frames of several files.
        bases: These frames.
    """

    files: tuple[str, ...]
    feet: bool
    elements: tuple[Element, ...]
    notes: tuple[str, ...] = ()
    bases: tuple[Base, ...] = ()

    @property
    def spaces(self) -> tuple[Element, ...]:
        """Its rooms."""
        return tuple(one for one in self.elements if one.is_a("IfcSpace"))

    @property
    def solids(self) -> tuple[Element, ...]:
        """What can be in somebody's way; only what has a shape."""
        no = ("IfcSpace", "IfcSpatialZone", "IfcVirtualElement", "IfcAnnotation")
        return tuple(one for one in self.elements if one.meshed and not one.is_a(*no))


_MOST_NAMES: Final = 6


def few(names: list[str]) -> str:
    """Return some names, and whether there are more."""
    several = [*dict.fromkeys(names)]
    more = ", ..." if len(several) > _MOST_NAMES else ""
    return f"{', '.join(several[:_MOST_NAMES])}{more}"
