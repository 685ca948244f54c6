"""From a supply system to the voltage to ground that the tables ask for."""

from __future__ import annotations

import math
import re
from typing import Annotated

from pydantic import AfterValidator, Field, model_validator

from model3d.scene.parts import Part

_VOLTS = r"(?P<{0}>\d+(?:\.\d+)?)\s*(?P<{0}_k>kv|v)?"
_SYSTEM = re.compile(
    "^"
    + _VOLTS.format("line")
    + r"\s*(?P<wye>y|wye)?\s*"
    + r"(?:/\s*" + _VOLTS.format("ground") + r")?"
    + r"(?P<words>(?:\s+(?:high-leg|delta|corner-grounded|dc|ac|wye))*)$"
)
_SQRT3 = math.sqrt(3)


def to_ground(system: str) -> float:
    """Return the highest voltage to ground of a supply system, in volts.

    For an ungrounded system that is the highest voltage between conductors
    (definition of voltage to ground, NEC Article 100); a corner-grounded delta has
    the whole line voltage to ground; the high leg of a four-wire delta stands at
    the square root of 3 times the others.

    Raises:
        ValueError: The system is none that is known here.

    >>> to_ground("480Y/277"), to_ground("480 delta"), to_ground("240/120")
    (277.0, 480.0, 120.0)
    >>> round(to_ground("240/120 high-leg"))
    208
    """
    match = _SYSTEM.match(" ".join(system.lower().split()))
    if match is None:
        raise ValueError(_KNOWN)
    words = match["words"].split()
    line = _volts(match["line"], match["line_k"])
    wye = match["wye"] is not None or "wye" in words
    if match["ground"] is None:
        if "high-leg" in words:
            raise ValueError(_KNOWN)
        return line / _SQRT3 if wye else line
    ground = _volts(match["ground"], match["ground_k"])
    if ground > line:
        raise ValueError(_KNOWN)
    return ground * _SQRT3 if "high-leg" in words else ground


_KNOWN = (
    'a supply system such as "208Y/120", "480Y/277", "240/120", "240/120 high-leg", '
    '"480 delta", "480 delta corner-grounded" or "125 dc"'
)


def _volts(number: str, unit: str | None) -> float:
    return float(number) * (1000.0 if unit == "kv" else 1.0)


def _known_system(system: str) -> str:
    to_ground(system)
    return system


class Supply(Part):
    """The supply of an item: which system, how many amperes."""

    system: Annotated[str, AfterValidator(_known_system)] | None = None
    """Supply system, for example 480Y/277, 208Y/120, 240/120 high-leg, 480 delta."""
    to_ground: Annotated[float, Field(gt=0, allow_inf_nan=False)] | None = None
    """Voltage to ground in volts, where no system is named."""
    amps: Annotated[float, Field(gt=0, allow_inf_nan=False)] | None = None
    """Rating in amperes."""

    @model_validator(mode="after")
    def _no_contradiction(self) -> Supply:
        if self.system is not None and self.to_ground is not None:
            implied = to_ground(self.system)
            if abs(implied - self.to_ground) > 1:
                msg = f"to_ground of {implied:.0f}, as the system has, or no system"
                raise ValueError(msg)
        return self

    @property
    def volts(self) -> float | None:
        """Voltage to ground in volts, or None where nothing was said."""
        if self.to_ground is not None:
            return self.to_ground
        return None if self.system is None else to_ground(self.system)

    @property
    def direct_current(self) -> bool:
        """Whether the system is a direct-current one."""
        return self.system is not None and self.system.lower().split()[-1:] == ["dc"]
