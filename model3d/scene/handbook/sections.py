"""What the scene format's page says beside the keys, in the order of the page."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from model3d.scene.parts.stated import Stated
from model3d.scene.words.wall_words import (
    GROUNDED_MATERIALS,
    OPEN_SIDE,
    OTHER_MATERIALS,
)

_FOLDER: Final = Path(__file__).parent
KINDS_TITLE: Final = "Kinds"
"""The section that lists the kinds."""
_STATED: Final = tuple(Stated.model_fields)

GROUPS: Final[dict[str, dict[str, tuple[str, ...]]]] = {
    "Scene": {
        "What it is": (
            *("title", "units", "rules", "measures", "installed", "premises", "use"),
            "survey_tolerance",
        ),
        "What is in it": ("room", "items", "types", "types_from", "lesson", "sheet"),
        "What nobody can see, here or in the room": _STATED,
    },
    "Room": {
        "Its shape": ("size", "outline", "height"),
        "What is around it": ("walls", "doors"),
        "What nobody can see, here or at the scene": _STATED,
    },
    "Item": {
        "What it is": ("id", "kind", "name", "type", "repeat", "guid", "tag"),
        "Its shape": ("size", "from", "to", "diameter", "section"),
        "A mesh or a scan from a file": (
            *("mesh", "points", "scanner", "scale", "units", "turn", "shift"),
            "part",
        ),
        "Where it stands": ("place",),
        "Its supply and its front": (
            *("supply", "door", "doors", "handle", "handle_reach", "draw_out"),
            *("dead_front", "live_parts", "unguarded_live_parts", "line_up", "service"),
        ),
        "What is kept clear": (
            *("working_space", "why", "condition", "rear", "sides", "clearances"),
        ),
        "Other than its kind says": (
            *("associated", "foreign", "grounded", "structural", "protected"),
        ),
        "Batteries": (
            *("open", "tiers", "shelf_thickness", "top_clearance", "terminals"),
            *("free_air", "listed"),
        ),
    },
}
"""Keys of a part that are told in groups, by the group's title."""


NEEDED: Final = {
    ("Scene", "room"): "**needed**, but outdoors",
    ("Room", "size"): "**needed**, or an outline",
    ("Room", "outline"): "**needed**, or a size",
    ("Room", "height"): "**needed**, but outdoors",
    ("Item", "kind"): "**needed**, here or in its type",
    ("Item", "size"): "**needed**, or another shape",
    ("Item", "place"): "no place yet, but for a run, a mesh or a scan",
    ("Step", "say"): "**needed**, or ask",
    ("Scene", "measures"): "`either`",
    ("Item", "doors"): "left and right are tried",
    ("Item", "terminals"): "`top`",
    ("AtWall", "bottom"): "`0`, or by `top`",
    ("At", "bottom"): "`0`, or by `top`",
    ("At", "facing"): "`south`",
    ("Leaf", "height"): "up to the item's top",
    ("Tier", "offset"): "centred",
    ("Tier", "terminals"): "as the rack says",
    ("Step", "ask"): "**needed**, or say",
}
"""What the reader asks for beside other keys: what stands in the column of defaults."""


@dataclass(frozen=True, slots=True)
class PageSection:
    """A section of the page.

    Attributes:
        title: Its heading.
        about: What it says before the keys, Markdown.
        part: The model whose keys it lists; empty where it lists none.
        level: Of the heading.
        figures: Their names.
    """

    title: str
    about: str
    part: str = ""
    level: int = 3
    figures: tuple[str, ...] = ()


def head() -> str:
    """Return what the page begins with."""
    return (_FOLDER / "head.md").read_text(encoding="utf-8").strip()


def sections() -> tuple[PageSection, ...]:
    """Return the sections of the page in their order."""
    text = (_FOLDER / "sections.toml").read_text(encoding="utf-8")
    words = {
        "{grounded}": _listed(GROUNDED_MATERIALS),
        "{other}": _listed(OTHER_MATERIALS),
        "{open}": _listed((OPEN_SIDE,)),
    }
    for word, said in words.items():
        text = text.replace(word, said)
    return tuple(
        PageSection(**{**one, "figures": tuple(one.get("figures", ()))})
        for one in tomllib.loads(text)["section"]
    )


def _listed(words: tuple[str, ...]) -> str:
    return ", ".join(f"`{word}`" for word in words)
