"""From a supply system to the voltage to ground that the tables ask for."""

import math
import re
from functools import lru_cache
from typing import Annotated, Any, Final

from pydantic import (
    BeforeValidator,
    Field,
    ValidationInfo,
    WithJsonSchema,
    field_validator,
)

from model3d.scene.parts.part import Number, Part
from model3d.scene.words.nearest import hint

_VOLTS = r"(?P<{0}>\d{{1,7}}(?:\.\d{{1,4}})?)\s*(?P<{0}_k>kv|v)?\s*(?P<{0}_y>y|wye)?"
_SYSTEM = re.compile(
    _VOLTS.format("one")
    + r"(?:\s*/\s*"
    + _VOLTS.format("two")
    + r")?(?P<words>(?: (?:high-leg|delta|corner-grounded|ungrounded|wye|ac|dc))*)",
    re.ASCII,
)
_ROOT3: Final = math.sqrt(3)
_ROUNDING: Final = 0.05
"""Nominal voltages are rounded: 400Y/230 and 480Y/277 are both 1 to the root of 3."""
HIGHEST: Final = 1_500_000.0
"""Volts; above the highest voltage of any transmission system."""
MOST_AMPERES: Final = 1e6
"""Amperes; above the rating of any gear."""
_SOME_SYSTEMS: Final = (
    "120/240",
    "240/120",
    "240/120 high-leg",
    "208Y/120",
    "480Y/277",
    "600Y/347",
    "400Y/230",
    "4160Y/2400",
    "240 delta",
    "480 delta",
    "480 delta corner-grounded",
    "48 dc",
    "125 dc",
    "250 dc",
)


@lru_cache(maxsize=256)
def to_ground(system: str) -> float:
    """Return the highest voltage to ground of a supply system, in volts.

    For an ungrounded system that is the highest voltage between conductors
    (definition of voltage to ground, NEC Article 100); a corner-grounded delta has
    the whole line voltage to ground; the high leg of a four-wire delta stands at
    the square root of 3 times the others. Of two voltages the higher one is between
    conductors, whichever is written first.

    Raises:
        ValueError: The system is none that is known here.

    >>> to_ground("480Y/277"), to_ground("480 delta"), to_ground("240/120")
    (277.0, 480.0, 120.0)
    >>> round(to_ground("240/120 high-leg")), to_ground("12.47Y/7.2 kV")
    (208, 7200.0)
    """
    match = _match(system)
    volts = None if match is None else _volts_to_ground(match)
    if volts is None or not 0 < volts <= HIGHEST:
        msg = (
            'a supply system such as "208Y/120", "240/120 high-leg", "480 delta" or '
            f'"125 dc"{hint(system, _SOME_SYSTEMS)}'
        )
        raise ValueError(msg)
    return volts


def between_conductors(system: str) -> float:
    """Return the highest voltage between conductors of a supply system, in volts.

    Raises:
        ValueError: The system is none that is known here.

    >>> between_conductors("480Y/277"), between_conductors("240/120 high-leg")
    (480.0, 240.0)
    >>> between_conductors("12.47Y/7.2 kV"), between_conductors("125 dc")
    (12470.0, 125.0)
    """
    ground, match = to_ground(system), _match(system)
    return ground if match is None else max(_written(match))


def is_same_system(one: str, other: str) -> bool:
    """Tell whether two texts say the same supply system.

    Raises:
        ValueError: One of them is no system that is known here.

    >>> is_same_system("208Y/120", "120/208 wye"), is_same_system("240", "240 dc")
    (True, False)
    """
    first, second = _match(one), _match(other)
    if first is None or second is None:
        return one == other
    kinds = [{*found["words"].split()} - {"wye", "ac"} for found in (first, second)]
    return kinds[0] == kinds[1] and all(
        round(volts(one)) == round(volts(other))
        for volts in (to_ground, between_conductors)
    )


def _match(system: str) -> re.Match[str] | None:
    return _SYSTEM.fullmatch(" ".join(system.lower().split()))


def _written(match: re.Match[str]) -> tuple[float, ...]:
    """Return the voltages of a system as they stand in its name."""
    unit = match["two_k"] or match["one_k"]
    one = _volts(match["one"], match["one_k"] or unit)
    return (one,) if match["two"] is None else (one, _volts(match["two"], unit))


def _volts_to_ground(match: re.Match[str]) -> float | None:
    words = match["words"].split()
    wye = bool(match["one_y"] or match["two_y"] or "wye" in words)
    if wye and {"delta", "high-leg", "corner-grounded", "dc"} & {*words}:
        return None
    line, *others = _written(match)
    if not others:
        if "high-leg" in words:
            return None
        return line / _ROOT3 if wye and "ungrounded" not in words else line
    low, line = sorted((line, *others))
    if "corner-grounded" in words or (wye and not _is_root3(line, low)):
        return None
    if "ungrounded" in words:
        return line
    return low * _ROOT3 if "high-leg" in words else low


def _is_root3(line: float, ground: float) -> bool:
    return abs(line - ground * _ROOT3) <= line * _ROUNDING


def _volts(number: str, unit: str | None) -> float:
    return float(number) * (1000.0 if unit == "kv" else 1.0)


def _known_system(system: Any) -> Any:  # noqa: ANN401 - whatever is written
    if isinstance(system, int) and not isinstance(system, bool):
        system = str(system)
    if isinstance(system, str):
        to_ground(system)
    return system


class Supply(Part):
    """The supply of an item: which system, how many amperes."""

    system: (
        Annotated[
            str,
            BeforeValidator(_known_system),
            WithJsonSchema({"anyOf": [{"type": "string"}, {"type": "integer"}]}),
        ]
        | None
    ) = None
    """Supply system, for example 480Y/277, 208Y/120, 240/120 high-leg, 480 delta."""
    to_ground: Annotated[Number, Field(gt=0, le=HIGHEST)] | None = None
    """Voltage to ground in volts, where no system is named."""
    amps: Annotated[Number, Field(gt=0, le=MOST_AMPERES)] | None = None
    """Rating in amperes."""

    @field_validator("to_ground")
    @classmethod
    def _no_contradiction(
        cls, volts: float | None, info: ValidationInfo
    ) -> float | None:
        system = info.data.get("system")
        if system is not None and volts is not None:
            implied = to_ground(system)
            if abs(implied - volts) > 1:
                msg = f"{implied:.0f}, as the system has, or no system"
                raise ValueError(msg)
        return volts

    @property
    def volts(self) -> float | None:
        """Voltage to ground in volts, or None where nothing was said."""
        if self.to_ground is not None:
            return self.to_ground
        return None if self.system is None else to_ground(self.system)

    @property
    def line_volts(self) -> float | None:
        """Highest voltage between conductors in volts, or None without a system."""
        return None if self.system is None else between_conductors(self.system)

    @property
    def direct_current(self) -> bool:
        """Whether the system is a direct-current one."""
        return self.system is not None and "dc" in self.system.lower().split()
