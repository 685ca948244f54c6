"""What is drawn, as plain data: shapes and their layers, signs, sizes, cameras.

All points are world points in metres: x east, y north, z up.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from model3d.judging.results import Verdict

    Points = NDArray[np.float64]
    Faces = NDArray[np.int64]

Point = tuple[float, float, float]

Role = Literal[
    "solid",  # an item, or a part of one
    "leaf",  # a door leaf of equipment, or of the room
    "surface",  # wall, floor or ceiling
    "cut",  # where a wall is cut away: the dark band on the floor
    "mark",  # lines only: grid, head height, the round of a door
    "space",  # a required space
    "footprint",  # where a required space stands on the floor
    "intrusion",  # the part of a solid that is in a required space
]
"""What a shape stands for; decides its colour together with the kind."""


@dataclass(frozen=True, slots=True)
class Layer:
    """A group of shapes that is shown or hidden as one.

    Attributes:
        id: The name shapes, labels and dimensions refer to.
        name: For people.
        about: What it means, in a sentence.
        shown: Whether it is shown at first.
    """

    id: str
    name: str
    about: str
    shown: bool = True


@dataclass(frozen=True, slots=True)
class Pivot:
    """How a leaf turns. Its vertices and edges are those of the closed leaf.

    Attributes:
        hinge: A point on the axis.
        axis: Unit vector; the right-hand rule about it opens the leaf.
        shown: The angle to draw it at, in degrees from closed.
        reached: How far it opens before something stops it, in degrees.
        required: How far it must open, in degrees; None where nothing is asked.
    """

    hinge: Point
    axis: Point
    shown: float
    reached: float
    required: float | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Shape:
    """A surface and its edges in one colour.

    Attributes:
        id: Unique in the stage, the same from one step of a lesson to the next.
        item: Id of the item it belongs to; "" for lines that belong to none.
        layer: Id of its layer.
        role: What it stands for.
        kind: Of its item, in the words of the scene format.
        about: What it is, in words beside the item's id; "" where the id says it.
        vertices: Shape (n, 3), metres.
        faces: Corners of triangles, shape (m, 3); counter-clockwise from outside.
        edges: Lines to draw, shape (k, 2, 3), metres.
        colour, edge_colour: As #RRGGBB.
        edge_width: Pixels in a picture 1000 pixels high.
        opacity: Of the faces; 0 where only the edges are drawn.
        edge_opacity: Of the edges.
        ghost: Drawn faintly, for it is overhead and all is well with it.
        one_sided: Seen only where its front looks at the viewer, its edges too.
        through: Its edges shine through what stands in front of it.
        lift: Steps towards the viewer, so that it wins where faces coincide.
        pickable: Whether a click on it means its item.
        pivot: How it turns, of a door leaf.
        judgements: Indices of the judgements it belongs to.
        ahead: Unit vector in plan: where the item's front points, or the inner face
            of a wall and the lines on it; None where there is neither.
    """

    id: str
    item: str
    layer: str
    role: Role
    kind: str
    about: str
    vertices: Points
    faces: Faces
    edges: Points
    colour: str
    edge_colour: str
    edge_width: float = 1.4
    opacity: float = 1.0
    edge_opacity: float = 1.0
    ghost: bool = False
    one_sided: bool = False
    through: bool = False
    lift: int = 0
    pickable: bool = True
    pivot: Pivot | None = None
    judgements: tuple[int, ...] = ()
    ahead: tuple[float, float] | None = None

    @property
    def label(self) -> str:
        """The item and what it is: text for people."""
        return ", ".join(filter(None, (self.item, self.about)))


@dataclass(frozen=True, slots=True)
class Badge:
    """A numbered sign at the place of a judgement.

    Attributes:
        number: Of the judgement.
        verdict: not-met or open.
        item: Id of the judgement's subject.
        judgement: Index of the judgement.
        anchor: The point it points at.
    """

    number: int
    verdict: Verdict
    item: str
    judgement: int
    anchor: Point


@dataclass(frozen=True, slots=True)
class Label:
    """The name of a thing, beside it.

    Attributes:
        item: Id of the item.
        text: What is written.
        anchor: The point it names.
        rank: Lower goes first where there is no room for all.
        ghost: The thing it names is drawn faintly.
    """

    item: str
    text: str
    anchor: Point
    rank: int
    ghost: bool = False


@dataclass(frozen=True, slots=True)
class Dimension:
    """A size that is required and what is there, as a line with two ends.

    Attributes:
        judgement: Index of the judgement; None of a dimension that the author of a
            lesson has drawn.
        item: Id of the judgement's subject, or "".
        name: depth, width, height, reach, clearance, spacing or gap; or what the
            author calls it, or "".
        start, end: The ends of the required size, on the space itself.
        reached_start, reached_end: The ends of what is there; the same where enough is.
        aside: Unit vector: the way the line is moved off the space.
        required, provided: In both systems of units, see ``Size``.
        brief, brief_other: In the scene's own system and in the other, or "": what is
            required, and before it what is there where the size is short.
        short: Whether this size decides that the judgement is not met.
        most: Whether what is required is a greatest figure, not a least one.
    """

    judgement: int | None
    item: str
    name: str
    start: Point
    end: Point
    reached_start: Point
    reached_end: Point
    aside: Point
    required: str
    provided: str
    brief: str
    brief_other: str
    short: bool
    most: bool


@dataclass(frozen=True, slots=True)
class View:
    """Where a camera stands.

    Attributes:
        name: south-east, above, ..., or "" for a view of one judgement.
        eye: Where the camera is.
        target: What it looks at, in the middle of the picture.
        up: Which way is up in the picture.
        angle: Of the picture from bottom to top, in degrees.
        width: Of the picture at the target, metres; for a parallel view.
        parallel: Whether parallel lines stay parallel.
    """

    name: str
    eye: Point
    target: Point
    up: Point
    angle: float
    width: float
    parallel: bool = False
