"""An item of a room, as a person writes it."""

from typing import Annotated, Any, Final, Literal

from pydantic import (
    AfterValidator,
    BeforeValidator,
    Discriminator,
    Field,
    Tag,
    WithJsonSchema,
)

from model3d.scene.kinds import KINDS
from model3d.scene.parts.part import (
    Angle,
    Distance,
    Flag,
    Id,
    Name,
    Number,
    Part,
    Point3,
    PositiveLength,
    Size3,
    Words,
)
from model3d.scene.parts.placement import Place
from model3d.scene.parts.supply import Supply
from model3d.scene.words.nearest import hint, listed
from model3d.scene.words.trade import kinds_called

RUN_KEYS: Final = ("from", "to", "diameter", "section")
"""The keys of which a run has some, and no other shape has any."""
Count = Annotated[int, Field(strict=True, gt=0, le=10_000)]


def _known_kind(kind: str) -> str:
    if kind not in KINDS:
        called = listed(kinds_called(kind))
        near = hint(kind, KINDS) or " (standclear kinds lists them)"
        other = f"a kind such as panelboard, pipe or obstacle{near}"
        raise ValueError(called or other)
    return kind


def _strict_condition(value: Any) -> Any:  # noqa: ANN401 - whatever is written
    # To Python true equals 1 and 2.0 equals 2; to a reader they are no condition.
    if type(value) is not int or value not in (1, 2, 3):
        msg = "1, 2 or 3"
        raise ValueError(msg)
    return value


def _which_turn(value: Any) -> str:  # noqa: ANN401 - whatever is written
    return "three" if isinstance(value, list | tuple) else "one"


def _which_space(value: Any) -> str | None:  # noqa: ANN401 - whatever is written
    if isinstance(value, dict | Part):
        return "figures"
    return "word" if isinstance(value, str) else None


Turn = Annotated[
    Annotated[Angle, Tag("one")] | Annotated[tuple[Angle, Angle, Angle], Tag("three")],
    Discriminator(_which_turn),
]


class Leaf(Part):
    """One hinged leaf on an item's front."""

    hinge: Literal["left", "right"]
    """The side of the hinge, as seen by a person in front."""
    width: PositiveLength
    """Width of the leaf."""
    height: PositiveLength | None = None
    """Height of the leaf; up to the item's top if nothing is said."""
    offset: Distance = 0.0
    """From the item's left side to the leaf's left side."""
    sill: Distance = 0.0
    """From the item's underside to the leaf's underside."""


class Tier(Part):
    """One tier of cells on a battery rack."""

    shelf: Distance
    """Height of the shelf's upper face above the rack's underside."""
    cells: Count
    """How many cells stand side by side."""
    cell: Size3
    """Width, depth and height of one cell."""
    post: Distance = 0.0
    """How far a terminal stands above the cell."""
    offset: Distance | None = None
    """How far the front of its cells stands behind the rack's front; centred if left
    out."""
    rows: Annotated[int, Field(strict=True, ge=1, le=100)] = 1
    """How many rows of cells stand behind one another."""
    terminals: Literal["top", "front"] | None = None
    """Where the cells' terminals are; as the rack says if left out."""


SideWord = Literal["bolted", "renewable-parts", "nonelectrical-access"]
"""What is reached from a side: nothing, parts to work at, or parts that carry none."""


class Sides(Part):
    """What is reached from an item's left and right side, as seen in front of it."""

    left: SideWord | None = None
    """What is reached from its left side."""
    right: SideWord | None = None
    """What is reached from its right side."""


class Clearances(Part):
    """What the maker wants clear around an item."""

    left: Distance | None = None
    """Beside its left side, as seen in front of it."""
    right: Distance | None = None
    """Beside its right side."""
    rear: Distance | None = None
    """Behind it."""
    front: Distance | None = None
    """Ahead of its front."""
    above: Distance | None = None
    """Above it."""


class AskedSpace(Part):
    """A working space asked for by the user in place of the rule's own figures."""

    depth: PositiveLength | None = None
    """Depth from the front."""
    width: PositiveLength | None = None
    """Width."""
    height: PositiveLength | None = None
    """Height above the floor in front."""


Space = Annotated[
    Annotated[Literal["auto", "none"], Tag("word")]
    | Annotated[AskedSpace, Tag("figures")],
    Discriminator(
        _which_space,
        custom_error_type="working_space",
        custom_error_message="auto, none, or a mapping with depth, width and height",
    ),
]


class Item(Part):
    """One thing that stands, hangs or runs in the room."""

    id: Id
    """Unique name in the file."""
    kind: Annotated[
        str,
        AfterValidator(_known_kind),
        WithJsonSchema({"type": "string", "enum": [*KINDS]}),
    ]
    """What it is; one of the kinds of the format."""
    name: Words | None = None
    """Text for people."""

    size: Size3 | None = None
    """Width, depth and height."""
    from_: Annotated[Point3 | None, Field(alias="from")] = None
    """One end of a run's middle line."""
    to: Point3 | None = None
    """The other end of a run's middle line."""
    diameter: PositiveLength | None = None
    """Diameter of a round run."""
    section: tuple[PositiveLength, PositiveLength] | None = None
    """Width and height of a rectangular run."""
    mesh: Words | None = None
    """A GLB, STL, OBJ, PLY or STEP file, relative to the scene file, in its folder.
    Beside a size it is only drawn: the box is what is judged."""
    part: Words | None = None
    """Of a GLB file: only what has this name in it."""
    points: Words | None = None
    """A PLY, PCD, XYZ, TXT, CSV, LAS, LAZ or E57 file of a scan, relative to the scene
    file, inside its folder. Beside a size it is only drawn: the box is what is judged.
    Without one it is an obstacle; while that is there nothing that needs room is met:
    what the scanner did not see is not known to be free."""
    scanner: tuple[Number, Number] | None = None
    """Of a scan: where the scanner stood in plan, in the scan's own numbers. Points
    within 600 mm of it are left out."""
    scale: Annotated[Number, Field(gt=0, le=1e9)] = 1.0
    """Factor on the mesh's or the scan's own numbers."""
    units: Literal["mm", "m", "in", "ft"] | None = None
    """What the mesh's or the scan's numbers mean; metres for GLB and E57, else the
    scene's units. A STEP file says its own."""
    turn: Turn | None = None
    """Degrees clockwise seen from above, or degrees about x, y and z, in that order."""
    shift: Point3 | None = None
    """Of a scan or a mesh without a place: moves it from its own coordinates, east,
    north, up."""

    place: Place | None = None
    """Where it stands; without it, it has no place yet and is not judged."""
    supply: Supply | None = None
    """Its supply: system or voltage to ground, amperes."""
    doors: tuple[Leaf, ...] | None = None
    """The leaves on the front."""
    door: Literal["left", "right", "pair", "bolted", "none"] | None = None
    """Short form: one leaf hinged left or right, a pair, a bolted cover, or none."""
    rear: SideWord | None = None
    """What is reached from behind."""
    sides: Sides | None = None
    """What is reached from the left and from the right."""
    draw_out: PositiveLength | None = None
    """How far a unit comes out past the front when it is drawn out."""
    working_space: Space = "auto"
    """auto follows the kind; none needs a why; or figures of your own (less than the
    rule book's is left open)."""
    why: Words | None = None
    """The reason for an override."""
    condition: (
        Annotated[Literal[1, 2, 3], BeforeValidator(_strict_condition)] | None
    ) = None
    """Overrides the condition found from what stands opposite; needs a why."""
    live_parts: Distance | None = None
    """Exposed live parts stand this far behind the front: the depth starts there."""
    unguarded_live_parts: Distance | None = None
    """Height above the room's floor of its lowest live part that has no guard."""
    service: Flag | None = None
    """Whether it is service equipment."""
    line_up: Name | None = None
    """Sections that touch and carry one name are one piece of gear."""
    handle: Distance | None = None
    """Height of the middle of the highest handle's grip above the item's underside."""
    handle_reach: Literal["portable", "hookstick"] | None = None
    """How a higher handle is reached: by portable means, beside the equipment that it
    supplies, or with a hookstick."""
    clearances: Clearances | None = None
    """What the maker wants clear around it."""

    associated: Flag | None = None
    """Whether it belongs to the electrical installation."""
    grounded: Flag | None = None
    """Whether its surface counts as grounded."""
    foreign: Flag | None = None
    """Whether it is foreign to the electrical installation."""
    dead_front: Flag | None = None
    """Whether no live part is exposed on the operating side."""
    structural: Flag | None = None
    """Of a ceiling: whether it is the structural one."""
    protected: Flag | None = None
    """Whether the equipment below is protected against its leaks and breaks."""

    uncertain: Flag | None = None
    """Whether its shape is only the most that it can take up: something is there, and
    how large is not known. What it would break is open, never met."""

    open: Flag | None = None
    """Of a battery rack: open, or with an enclosure."""
    tiers: tuple[Tier, ...] | None = None
    """The tiers of a battery rack, the lowest first."""
    shelf_thickness: PositiveLength | None = None
    """Thickness of a rack's shelves."""
    top_clearance: Distance | None = None
    """The battery maker's clearance above the cells."""
    terminals: Literal["top", "front"] | None = None
    """Where the terminals of a rack's cells are; top if nothing is said."""
    free_air: Annotated[Number, Field(ge=0, le=1)] | None = None
    """Share of a shelf's length that stands in free air where a rack touches a wall."""
    listed: Flag | None = None
    """Of a battery cabinet: whether it is listed as a whole, with its batteries."""
    guid: Words | None = None
    """The identity it has in a model it came from."""
    tag: Name | None = None
    """The tag it has in a model it came from."""

    @property
    def stands(self) -> bool:
        """Whether it is said where it is; a run and a mesh of its own may say so."""
        return self.place is not None or self.size is None

    def __repr__(self) -> str:
        size = " x ".join(
            f"{one:.10g}" if isinstance(one, float) else str(one)
            for one in self.size or ()
        )
        return f"<Item {self.id}: {self.kind}{f' {size}' if size else ''}>"

    __str__ = __repr__
