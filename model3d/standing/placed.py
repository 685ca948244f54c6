"""What an item is once it stands in the room: a body in metres, and its front."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from model3d.geometry.bodies.solid import Box, Mesh
from model3d.geometry.bodies.thinned import MOST_FACES

if TYPE_CHECKING:
    from model3d.geometry.bodies.solid import Solid
    from model3d.geometry.clouds.body import Cloud
    from model3d.geometry.frame import Frame
    from model3d.scene.kinds import Kind
    from model3d.scene.parts.item import Item


@dataclass(frozen=True, slots=True)
class Front:
    """The front of an item, where a person stands to work at it.

    Attributes:
        frame: Origin at the left end of the front plane, seen by that person;
            ``right`` along the front, ``out`` towards the person.
        width, depth: Of the item, metres.
        bottom, top: World heights of the item, metres.
    """

    frame: Frame
    width: float
    depth: float
    bottom: float
    top: float

    def box(self) -> Box:
        """Return the box behind the front."""
        back = self.frame.moved(0.0, -self.depth)
        return Box(back, self.width, self.depth, self.bottom, self.top)


@dataclass(frozen=True, slots=True, eq=False)
class Placed:
    """An item in its place; walls, floor and ceiling are items too.

    Attributes:
        id: The item's name in the scene.
        kind: What its kind implies.
        item: The item as written; None for a wall, the floor and the ceiling.
        solid: Its body in the world, metres.
        front: None for runs, for meshes without a place, and for the room itself.
        associated: It belongs to the electrical installation.
        foreign: It does not; None where nothing tells.
        grounded: Its surface counts as grounded; None where nothing tells.
        live: People work at it while it is energised: it needs a working space.
        of_room: It is a wall, the floor or the ceiling of the room.
        material: What a wall of the room is made of, where that was said.
        part: Which part of another item it is, in words, where it is one.
        unread: What it is called, where it could not be read: its body is where it may
            reach to.
        looks: The mesh that it has beside its size.
        surveyed: The scan that it is, or that it has beside its size.
    """

    id: str
    kind: Kind
    item: Item | None
    solid: Solid
    front: Front | None = None
    associated: bool = False
    foreign: bool | None = False
    grounded: bool | None = False
    live: bool = False
    of_room: bool = False
    material: str | None = None
    part: str = ""
    unread: str = ""
    looks: Solid | None = None
    surveyed: Cloud | None = None

    @property
    def drawn(self) -> Solid | None:
        """What is drawn in place of its body: its mesh, or some of its scan."""
        if self.surveyed is not None:
            return Mesh(*self.surveyed.dots)
        shown = self.looks or self.solid
        if isinstance(shown, Mesh) and len(shown.faces) > MOST_FACES:
            return shown.thinned
        return self.looks

    @property
    def uncertain(self) -> bool:
        """Whether its body is only the most that it can take up."""
        if self.unread:
            return True
        return self.item is not None and self.item.uncertain is True

    @property
    def bottom(self) -> float:
        """World height of its lowest point, metres."""
        return self.solid.bounds[0][2]

    @property
    def top(self) -> float:
        """World height of its highest point, metres."""
        return self.solid.bounds[1][2]

    @property
    def volts(self) -> float | None:
        """Voltage to ground, or None where nothing was said."""
        supply = self.item.supply if self.item else None
        return supply.volts if supply else None

    @property
    def amps(self) -> float | None:
        """Rating in amperes, or None where nothing was said."""
        supply = self.item.supply if self.item else None
        return supply.amps if supply else None

    @property
    def structural(self) -> bool:
        """Whether it is a structural ceiling: the room's own, or one said to be."""
        if not self.kind.ceiling:
            return False
        return self.item is None or bool(self.item.structural)
