"""One row a kind of item: what its kind alone implies."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final


@dataclass(frozen=True, slots=True)
class Kind:
    """What follows from the kind of an item unless the item says otherwise.

    What nothing else is said of is common practice.

    Attributes:
        name: The word written in the scene file.
        about: One line for people: what falls under it.
        needs_working_space: People work at it while it is energised.
        associated: It belongs to the electrical installation.
        dedicated: The space above it is kept for electrical equipment.
        foreign: It does not belong to the electrical installation; None where the
            kind does not tell.
        structure: It is part of the building.
        grounded: Its surface counts as grounded; None where the kind does not tell.
        hole: It is no solid but a hole in the floor.
        board: It is a board in the sense of the sentences on high voltage.
        sectional: It is built of sections: where two touch, they may be one line-up.
        without_devices: It holds no overcurrent, switching or control devices: large
            or not, the sentences on large equipment and personnel doors do not speak
            of it.
        rack, cabinet: It holds battery cells, on open shelves or closed in.
        storage_unit: It is a listed energy storage unit.
        disconnect, transformer, busway: It is one.
        holds_meter: Meters stand in it.
        meter: It is a meter.
        stands: It is made to stand.
        stands_large: It is made to stand; a small one hangs on a wall or a ceiling.
        flush: It is made to be let into a wall, its front free.
        boxed: It is let into a wall whichever way it is turned.
        built_in: It is let into walls, floor and ceiling as parts of the building are.
        carries_nothing: Nothing stands on it.
        frame: It carries from beside and from above as well.
        tray: It stands around the feet of what it carries.
        pad: It is a pad.
        holds_goods: Goods stand in it: its box is drawn around its boards.
        goods: It is stored goods.
        stored: It is goods, or what they are kept on.
        stops_runs: No run passes through it, though one may end in it.
        run: It is a run however it is drawn.
        run_if_drawn: It is a run where it is drawn from one point to another.
        cableway: Cables leave it and go on through another one.
        conduit, gas, sprinkler, luminaire, machine: It is one, or belongs to one.
        leak_guard: It keeps leaks off what is below.
        wall, ceiling, platform, stair: It is one.
        backing: Equipment is fixed to it with its back.
        spans: It may cross the space of an item of limited access.
        underfoot: Equipment and people stand on it as on a floor.
        walked: It is made to be walked on.
        slender: It is seldom wider than half a metre.
        anything: It may be anything.
    """

    name: str
    about: str
    needs_working_space: bool = False
    associated: bool = False
    dedicated: bool = False
    foreign: bool | None = False
    structure: bool = False
    grounded: bool | None = False
    hole: bool = False
    board: bool = False
    sectional: bool = False
    without_devices: bool = False
    rack: bool = False
    cabinet: bool = False
    storage_unit: bool = False
    disconnect: bool = False
    transformer: bool = False
    busway: bool = False
    holds_meter: bool = False
    meter: bool = False
    stands: bool = False
    stands_large: bool = False
    flush: bool = False
    boxed: bool = False
    built_in: bool = False
    carries_nothing: bool = False
    frame: bool = False
    tray: bool = False
    pad: bool = False
    holds_goods: bool = False
    goods: bool = False
    stored: bool = False
    stops_runs: bool = False
    run: bool = False
    run_if_drawn: bool = False
    cableway: bool = False
    conduit: bool = False
    gas: bool = False
    sprinkler: bool = False
    luminaire: bool = False
    machine: bool = False
    leak_guard: bool = False
    wall: bool = False
    ceiling: bool = False
    platform: bool = False
    stair: bool = False
    backing: bool = False
    spans: bool = False
    underfoot: bool = False
    walked: bool = False
    slender: bool = False
    anything: bool = False

    @property
    def batteries(self) -> bool:
        """Whether it holds battery cells."""
        return self.rack or self.cabinet

    @property
    def in_ceiling(self) -> bool:
        """Whether it is let into ceilings."""
        return self.sprinkler or self.luminaire


_GROUPS: Final = {
    "gear": "needs_working_space associated grounded",
    "part": "associated grounded",
}
"""Columns that go together, by a word for them."""


def _row(name: str, about: str, columns: str = "", unknown: str = "") -> Kind:
    """Return a row in which some columns are true, and of some nothing is known."""
    named = " ".join(_GROUPS.get(word, word) for word in columns.split())
    said: dict[str, Any] = dict.fromkeys(named.split(), True)
    said |= dict.fromkeys(unknown.split())
    return Kind(name, about, **said)


_ROWS: Final = (
    _row("panelboard", "Panelboard in its cabinet", "gear dedicated board flush"),
    _row(
        "switchboard",
        "Free-standing switchboard",
        "gear dedicated board sectional stands",
    ),
    _row(
        "switchgear",
        "Metal-enclosed switchgear",
        "gear dedicated board sectional stands",
    ),
    _row(
        "motor-control-center",
        "Motor control center",
        "gear dedicated board sectional stands",
    ),
    _row("disconnect", "Disconnect or safety switch", "gear disconnect flush"),
    _row("transfer-switch", "Transfer switch", "gear flush"),
    _row("control-panel", "Industrial control panel", "gear board flush"),
    _row("ups", "Uninterruptible power supply", "gear stands_large"),
    _row(
        "meter-socket",
        "Enclosure that carries a meter",
        "gear holds_meter without_devices flush",
    ),
    _row("transformer", "Transformer", "gear transformer without_devices stands_large"),
    _row("battery-rack", "Rack with battery cells", "gear rack without_devices stands"),
    _row(
        "battery-cabinet",
        "Closed cabinet with battery cells",
        "gear cabinet stands_large",
    ),
    _row("drive", "Adjustable-speed drive", "gear"),
    _row("generator", "Generator", "gear stands"),
    _row(
        "current-transformer-cabinet",
        "Cabinet with current transformers",
        "gear without_devices flush",
    ),
    _row(
        "energy-storage-unit",
        "Lithium or other listed energy storage unit",
        "gear storage_unit stands_large",
    ),
    _row("meter", "Meter in a meter socket", "part meter boxed carries_nothing"),
    _row("wireway", "Wireway or trough", "part boxed run_if_drawn cableway"),
    _row("pull-box", "Pull box", "part boxed"),
    _row("junction-box", "Junction box", "part boxed"),
    _row("tap-box", "Tap box", "part boxed"),
    _row("cable-tray", "Cable tray", "part run cableway"),
    _row("conduit", "Conduit", "part run cableway conduit slender"),
    _row("busway", "Busway", "part run busway"),
    _row(
        "pad", "Pad that equipment stands on", "part pad tray built_in underfoot walked"
    ),
    _row(
        "support", "Strut, stand or frame that carries equipment", "part frame built_in"
    ),
    _row("spill-tray", "Tray below battery cells that holds what leaks", "part tray"),
    _row("pipe", "Water, steam or other pipe", "foreign grounded run slender"),
    _row("gas-pipe", "Gas pipe", "foreign grounded run gas slender"),
    _row("duct", "Air duct", "foreign grounded run"),
    _row(
        "leak-guard",
        "Drip pan or other guard against leaks",
        "foreign leak_guard carries_nothing slender",
    ),
    _row("shelf", "Shelf", "foreign holds_goods stored stops_runs"),
    _row("storage", "Stored goods", "foreign goods stored stops_runs"),
    _row("furniture", "Furniture", "foreign holds_goods stops_runs"),
    _row("machine", "Machine", "foreign grounded machine run_if_drawn"),
    _row(
        "sprinkler",
        "Sprinkler or its piping",
        "sprinkler boxed carries_nothing stops_runs run_if_drawn slender",
    ),
    _row(
        "luminaire", "Luminaire", "luminaire boxed carries_nothing stops_runs slender"
    ),
    _row("column", "Column", "structure grounded backing"),
    _row("beam", "Beam or joist", "structure grounded spans"),
    _row(
        "wall",
        "Partition or other wall",
        "structure wall backing slender",
        unknown="grounded",
    ),
    _row(
        "platform",
        "Platform, step or raised floor",
        "structure platform underfoot walked",
    ),
    _row("stair", "Stair of several steps", "structure stair walked"),
    _row("ceiling", "Ceiling below the room's own", "structure ceiling spans"),
    _row("pit", "Pit, trench or other open hole in the floor", "hole"),
    _row(
        "obstacle",
        "Anything else, a scanned mesh too",
        "anything run_if_drawn",
        unknown="foreign grounded",
    ),
)

KINDS: Final = {row.name: row for row in _ROWS}
"""Every kind by its name, in the order of the scene format's table."""
