"""Where a step of a lesson looks, how near it goes, and which layers it shows."""

from typing import Annotated, Final, Literal, get_args

from pydantic import Field

from model3d.scene.parts.part import Name, Part, PositiveLength

CompassView = Literal[
    "north",
    "north-east",
    "east",
    "south-east",
    "south",
    "south-west",
    "west",
    "north-west",
    "above",
]
"""The directions a viewer may stand in."""

LayerName = Literal[
    "intrusions",
    "spaces",
    "ways-out",
    "working-spaces-met",
    "spaces-met",
    "badges",
    "dimensions",
    "labels",
    "gear",
    "leaves",
    "parts",
    "other",
    "overhead",
    "building",
    "room",
    "head-height",
]
"""The layers that a face lists, shows and hides."""

LAYER_NAMES: Final[tuple[str, ...]] = get_args(LayerName)

NEAREST: Final = 0.01
FARTHEST: Final = 100.0
"""Metres. How little and how much about an item makes a picture that says anything."""


class Look(Part):
    """Where the viewer looks."""

    at: Name
    """The id of the item looked at."""
    from_: Annotated[CompassView | None, Field(alias="from")] = None
    """Compass direction the viewer stands in, for example south-east, or above."""
    near: PositiveLength | None = None
    """How near the eye goes: in the picture is what lies so far about the item on every
    side, within the room, from 10 mm to 100 m. Left out: the item with its spaces and
    what is in them."""
    layers: Annotated[tuple[LayerName, ...], Field(min_length=1)] | None = None
    """The layers shown in this step, and no others. Left out: those that the viewer
    shows; they are back with the next step."""
