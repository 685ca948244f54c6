"""What a room must show, as the table of stories says it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final

WS: Final = "working-space"
DOOR: Final = "door-swing"
TOP: Final = "battery-top-clearance"
GAP: Final = "battery-gaps"
STORED: Final = "storage"
ABOVE: Final = "dedicated-space"
LIMITED: Final = "limited-access"
BATTERIES: Final = "battery-room"
WAY: Final = "entrance"
SECOND: Final = "second-entrance"
HARDWARE: Final = "door-hardware"
SWINGS: Final = "door-over-working-space"
FLOOR: Final = "clear-floor"
LIGHT: Final = "illumination"
REAR: Final = "rear-access"
DRAWN: Final = "draw-out"
LIVE: Final = "guarded-live-parts"
PARTED: Final = "high-voltage-separation"
HANDLES: Final = "handle-height"
CEILING: Final = "ceiling-clearance"
MAKER: Final = "maker-clearance"
APART: Final = "storage-unit-spacing"
AS_DRAWN: Final = "as-drawn"


@dataclass(frozen=True)
class Told:
    """What a judgement must say.

    Attributes:
        subject, requirement: Whose judgement, by which rule.
        required, provided: Some of the sizes.
        by: Ids of what is in the way, sorted.
        condition: Of the depth table.
        number: Of the leaf or the tier; or which side.
        reach: How far the one in the way comes past the front.
        cites: How the citation ends.
    """

    subject: str
    requirement: str
    required: dict[str, float] = field(default_factory=dict)
    provided: dict[str, float] = field(default_factory=dict)
    by: tuple[str, ...] = ()
    condition: int | None = None
    number: int | str | None = None
    reach: float | None = None
    cites: str = ""


@dataclass(frozen=True)
class Story:
    """What is not met and what is open in a room, all of it; and some that is met."""

    not_met: tuple[Told, ...] = ()
    still_open: tuple[Told, ...] = ()
    met: tuple[Told, ...] = ()
