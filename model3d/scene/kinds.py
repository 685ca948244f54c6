"""One row a kind of item: what its kind alone implies."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class Kind:
    """What follows from the kind of an item unless the item says otherwise.

    Attributes:
        name: The word written in the scene file.
        about: One line for people: what falls under it.
        needs_working_space: People work at it while it is energised.
        associated: It belongs to the electrical installation.
        dedicated: The space above it is kept for electrical equipment.
        foreign: It does not belong to the electrical installation.
        structure: It is part of the building.
        grounded: Its surface counts as grounded; None where the kind does not tell.
        hole: It is no solid but a hole in the floor.
    """

    name: str
    about: str
    needs_working_space: bool = False
    associated: bool = False
    dedicated: bool = False
    foreign: bool = False
    structure: bool = False
    grounded: bool | None = False
    hole: bool = False


def _gear(name: str, about: str, *, dedicated: bool = False) -> Kind:
    return Kind(
        name,
        about,
        needs_working_space=True,
        associated=True,
        dedicated=dedicated,
        grounded=True,
    )


def _part(name: str, about: str) -> Kind:
    return Kind(name, about, associated=True, grounded=True)


_ROWS: Final = (
    _gear("panelboard", "Panelboard in its cabinet", dedicated=True),
    _gear("switchboard", "Free-standing switchboard", dedicated=True),
    _gear("switchgear", "Metal-enclosed switchgear", dedicated=True),
    _gear("motor-control-center", "Motor control center", dedicated=True),
    _gear("disconnect", "Disconnect or safety switch"),
    _gear("transfer-switch", "Transfer switch"),
    _gear("control-panel", "Industrial control panel"),
    _gear("ups", "Uninterruptible power supply"),
    _gear("meter-socket", "Enclosure that carries a meter"),
    _gear("transformer", "Transformer"),
    _gear("battery-rack", "Rack with battery cells"),
    _gear("battery-cabinet", "Closed cabinet with battery cells"),
    _gear("drive", "Adjustable-speed drive"),
    _gear("generator", "Generator"),
    _gear("current-transformer-cabinet", "Cabinet with current transformers"),
    _gear("energy-storage-unit", "Lithium or other listed energy storage unit"),
    _part("meter", "Meter in a meter socket"),
    _part("wireway", "Wireway or trough"),
    _part("pull-box", "Pull box"),
    _part("junction-box", "Junction box"),
    _part("tap-box", "Tap box"),
    _part("cable-tray", "Cable tray"),
    _part("conduit", "Conduit"),
    _part("busway", "Busway"),
    _part("pad", "Pad that equipment stands on"),
    _part("support", "Strut, stand or frame that carries equipment"),
    _part("spill-tray", "Tray below battery cells that holds what leaks"),
    Kind("pipe", "Water, steam or other pipe", foreign=True, grounded=True),
    Kind("gas-pipe", "Gas pipe", foreign=True, grounded=True),
    Kind("duct", "Air duct", foreign=True, grounded=True),
    Kind("leak-guard", "Drip pan or other guard against leaks", foreign=True),
    Kind("shelf", "Shelf", foreign=True),
    Kind("storage", "Stored goods", foreign=True),
    Kind("furniture", "Furniture", foreign=True),
    Kind("machine", "Machine", foreign=True, grounded=True),
    Kind("sprinkler", "Sprinkler or its piping"),
    Kind("luminaire", "Luminaire"),
    Kind("column", "Column", structure=True, grounded=True),
    Kind("beam", "Beam or joist", structure=True, grounded=True),
    Kind("wall", "Partition or other wall", structure=True, grounded=None),
    Kind("platform", "Platform, step or raised floor", structure=True),
    Kind("stair", "Stair of several steps", structure=True),
    Kind("ceiling", "Ceiling below the room's own", structure=True),
    Kind("pit", "Pit, trench or other open hole in the floor", hole=True),
    Kind("obstacle", "Anything else, a scanned mesh too", grounded=None),
)

KINDS: Final = {row.name: row for row in _ROWS}
"""Every kind by its name, in the order of the scene format's table."""

_OTHER_WORDS: Final = {
    "panelboard": ("load-center", "load-centre", "breaker-panel", "lighting-panel"),
    "switchboard": ("distribution-board", "main-switchboard"),
    "switchgear": ("metal-clad", "ring-main-unit", "rmu"),
    "motor-control-center": ("mcc", "motor-control-centre"),
    "disconnect": ("safety-switch", "isolator", "disconnector", "disconnect-switch"),
    "transfer-switch": ("ats", "mts", "automatic-transfer-switch"),
    "control-panel": ("control-cabinet", "plc-panel"),
    "ups": ("uninterruptible-power-supply",),
    "transformer": ("xfmr",),
    "battery-rack": ("battery-stand",),
    "drive": ("inverter", "vfd", "vsd", "asd", "variable-frequency-drive"),
    "generator": ("genset", "generator-set"),
    "current-transformer-cabinet": ("ct-cabinet", "ct-enclosure", "ct-can"),
    "energy-storage-unit": ("ess", "bess", "energy-storage-system", "lithium-battery"),
    "meter-socket": ("meter-base", "meter-can"),
    "wireway": ("gutter", "auxiliary-gutter", "trough", "wire-trough", "raceway"),
    "junction-box": ("splice-box", "j-box"),
    "cable-tray": ("cable-ladder", "cable-basket"),
    "conduit": ("emt", "raceway", "conduit-run"),
    "busway": ("bus-duct", "busduct", "busbar-trunking"),
    "pad": ("housekeeping-pad", "equipment-pad", "plinth"),
    "support": ("strut", "stand"),
    "spill-tray": ("spill-containment", "spill-pan", "acid-tray"),
    "pipe": ("water-pipe", "steam-pipe", "drain-pipe", "piping"),
    "gas-pipe": ("gas-line", "gas-piping"),
    "duct": ("air-duct", "ductwork"),
    "leak-guard": ("drip-pan", "drip-tray", "drip-shield"),
    "shelf": ("shelving", "shelves"),
    "storage": ("goods", "stored-goods", "boxes"),
    "machine": ("pump", "fan", "boiler", "compressor"),
    "luminaire": ("light", "light-fixture", "fixture", "lamp"),
    "sprinkler": ("sprinkler-head", "sprinkler-pipe"),
    "column": ("pillar",),
    "beam": ("joist", "girder"),
    "wall": ("partition",),
    "platform": ("raised-floor", "landing"),
    "stair": ("steps", "stairs", "staircase"),
    "ceiling": ("suspended-ceiling", "drop-ceiling", "lay-in-ceiling"),
    "pit": ("trench", "floor-opening"),
}
"""Words of the trade that are other names for a kind, in small letters with hyphens."""


def kinds_called(word: str) -> tuple[str, ...]:
    """Return the kinds for which a word of the trade is another name.

    >>> kinds_called("Gutter"), kinds_called("bus duct"), kinds_called("zebra")
    (('wireway',), ('busway',), ())
    """
    plain = word.casefold().replace("_", "-").replace(" ", "-")
    return tuple(kind for kind, words in _OTHER_WORDS.items() if plain in words)


GROUNDED_MATERIALS: Final = ("concrete", "block", "brick", "tile", "metal", "stone")
"""Wall materials whose surface counts as grounded.

Concrete, brick and tile: 29 CFR 1910.303 Tables S-1 and S-2. Block and stone walls
are masonry and metal sheet is bonded or bondable: common practice.
"""

OTHER_MATERIALS: Final = ("gypsum", "drywall", "plaster", "wood", "glass", "plastic")
"""Wall materials whose surface does not count as grounded (common practice)."""

OPEN_SIDE: Final = "open"
"""The word for a side of an outdoor place that has no wall."""

WALL_WORDS: Final = (*GROUNDED_MATERIALS, *OTHER_MATERIALS, OPEN_SIDE)
"""Every word a wall may carry."""
