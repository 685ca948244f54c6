"""The layers of a stage, and which of them a thing belongs to."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from viewer.stage.drawn import Layer

if TYPE_CHECKING:
    from collections.abc import Collection

    from model3d.standing.placed import Placed
    from viewer.stage.parts import Stage

ROOM: Final = "room"
GEAR: Final = "gear"
LEAVES: Final = "leaves"
PARTS: Final = "parts"
BUILDING: Final = "building"
OTHER: Final = "other"
OVERHEAD: Final = "overhead"
SPACES: Final = "spaces"
WORKING_MET: Final = "working-spaces-met"
SPACES_MET: Final = "spaces-met"
INTRUSIONS: Final = "intrusions"
WAYS: Final = "ways-out"
DIMENSIONS: Final = "dimensions"
BADGES: Final = "badges"
LABELS: Final = "labels"
HEAD_HEIGHT: Final = "head-height"

LAYERS: Final = (
    Layer(INTRUSIONS, "In the way", "What stands in a required space."),
    Layer(
        SPACES,
        "Required spaces, not met or open",
        "Space that must be clear, of every requirement that is not met or open.",
    ),
    Layer(
        WAYS,
        "Ways out, not met or open",
        "The way out as wide as it must be, where it is too narrow or in question.",
    ),
    Layer(
        WORKING_MET,
        "Working spaces, met",
        "Space for work at equipment and about batteries that must be clear, and is.",
    ),
    Layer(
        SPACES_MET,
        "Other required spaces, met",
        "Any other space that must be clear, and is.",
        shown=False,
    ),
    Layer(BADGES, "Numbers", "The number of what is not met or open, at its place."),
    Layer(DIMENSIONS, "Sizes", "What is required and what is there."),
    Layer(LABELS, "Names", "The id of each thing."),
    Layer(GEAR, "Equipment", "Equipment that needs a working space."),
    Layer(LEAVES, "Doors of equipment", "Door leaves, as far as they open."),
    Layer(PARTS, "Wireways, boxes, pads", "Other parts of the electrical work."),
    Layer(OTHER, "Everything else", "What does not belong to the electrical work."),
    Layer(OVERHEAD, "Overhead", "What hangs overhead and nothing is asked of: faint."),
    Layer(BUILDING, "Columns, beams, steps", "Parts of the building in the room."),
    Layer(ROOM, "Room", "Floor, walls and doors; walls near the viewer vanish."),
    Layer(HEAD_HEIGHT, "Head height", "How high the working space reaches."),
)
"""In the order of a list for people: what carries the result first."""


def with_layers(stage: Stage, names: Collection[str]) -> Stage:
    """Return a stage that shows these layers and no others; of none as it is."""
    if not names:
        return stage
    layers = tuple(replace(one, shown=one.id in names) for one in stage.layers)
    return replace(stage, layers=layers)


def layer_of(placed: Placed, *, ghost: bool) -> str:
    """Return the layer of an item."""
    if ghost:
        return OVERHEAD
    if placed.live or placed.kind.needs_working_space:
        return GEAR
    if placed.kind.structure:
        return BUILDING
    return PARTS if placed.associated else OTHER
