"""A room for a question, in which one size is still to be chosen."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from collections.abc import Callable

    from model3d.lessons.drills.dice import Dice, Ruler

Written = dict[str, Any]

_PLACES: Final = (
    "Amber Quay tannery",
    "Birling Gap signal house",
    "Cold Harbour ropeworks",
    "Dunmallet mill",
    "Eller Brook fish hatchery",
    "Fallow Street laundry",
    "Greystone quarry",
    "Hawkrigg pumping station",
    "Ivy Lane depot",
    "Kestrel Point radio house",
    "Larkbeck cold store",
    "Mossdale paper mill",
)
_WALLS: Final = ("gypsum", "concrete", "brick")
FAR: Final = 0.14
"""Share of the limit that the size which decides is from it, at most."""


@dataclass(frozen=True, slots=True)
class Sketch:
    """A room for a question.

    Attributes:
        scene: The room without what is asked about, as a file has it.
        ruler: Of its drawing.
        item: Id of the item asked about.
        size: The size that decides, as judgements call it.
        changes: What is done to the room for the question, by that size, in the
            drawing's units.
        limit: The size that is required, metres; None where the check says it.
        base: Where the judgement's size begins for people, metres.
        ask: The question; {size} stands for the size.
        needs: What is required, in words; {limit} stands for it.
        learn: What to learn of it, in a line.
        look: Where the viewer stands.
        far: Share of the limit that a size which is too small lacks, at most.
        fine: How many times finer the size is drawn than the rest.
    """

    scene: Written
    ruler: Ruler
    item: str
    size: str
    changes: Callable[[float], list[Written]]
    ask: str
    needs: str
    learn: str
    look: str
    limit: float | None = None
    base: float = 0.0
    far: float = FAR
    fine: float = 1.0


def room(dice: Dice, ruler: Ruler, items: list[Written], **more: object) -> Written:
    """Return a room with a door and a light, all of it drawn by lot.

    Args:
        dice: What is drawn by.
        ruler: Of the drawing.
        items: What stands in it, on the north wall about 2 m from its left end.
        more: Other keys of the room.
    """
    wide = ruler.near(5.5 + dice.number(6) / 5)
    deep = ruler.near(4.0 + dice.number(6) / 5)
    door = {
        "id": "D1",
        "wall": "south",
        "along": ruler.near(0.4 + dice.number(4) / 10),
        "width": ruler.near(0.92),
        "height": ruler.near(2.14),
        "opens": "out",
        "hinge": dice.one(("left", "right")),
        "hardware": "panic",
        "opens_to": 90,
    }
    light = {
        "id": "L1",
        "name": "Light",
        "kind": "luminaire",
        "size": [ruler.near(1.2), ruler.near(0.15), ruler.near(0.1)],
        "place": {
            "at": [ruler.near(0.8), ruler.near(1.5)],
            "facing": "east",
            "bottom": ruler.near(2.6),
        },
    }
    return {
        "title": f"{dice.one(_PLACES)}, electrical room",
        "units": ruler.units,
        "rules": "nec-2023",
        "premises": "new",
        "use": "electrical-room",
        "room": {
            "size": [wide, deep],
            "height": ruler.near(3.2),
            "walls": dice.one(_WALLS),
            "lighting": {"present": True, "control": "manual"},
            "doors": [door],
            **more,
        },
        "items": [*items, light],
    }


def deep_of(scene: Written) -> float:
    """Return how deep a room is from south to north, in its units."""
    return float(scene["room"]["size"][1])
