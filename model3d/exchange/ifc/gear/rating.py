"""Voltage and current of an element, from the places that can be trusted.

A bare number is no voltage: exporters were seen to write one with square feet left in
it (2238.89 for 208 V). Only a measure with a unit of its own, or text, counts; and
nothing that no scene could say.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from model3d.scene.parts.supply import HIGHEST, MOST_AMPERES

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from model3d.exchange.ifc.element import Element

_VOLTAGE: Final = "IfcElectricVoltageMeasure"
_SYSTEMS: Final = (
    (120, 240),
    (120, 208),
    (127, 220),
    (220, 380),
    (230, 400),
    (240, 415),
    (240, 480),
    (265, 460),
    (277, 480),
    (347, 600),
)
"""Pairs of voltages that are known systems; common practice."""
_SPLIT: Final = frozenset({(120, 240), (240, 480)})
_PAIR: Final = re.compile(
    r"(?<![\d.])(\d{3})\s*Y?\s*V?\s*/\s*(\d{3})(?![\d.])", re.IGNORECASE
)
_ALONE: Final = re.compile(
    r"(?<![\d./])(\d+(?:\.\d+)?)\s*(k?)V(?![A-Za-z])", re.IGNORECASE
)
_AMPERES: Final = re.compile(
    r"(?<![\d./])(\d{2,4})\s*(?:A|AMPS?|AMPERES?)(?![A-Za-z])", re.IGNORECASE
)
_SPOKEN: Final = re.compile(
    r"volt|distribution system|electrical data|supply"
    # German, French, Spanish, Italian, Dutch, Polish, Danish, Norwegian, Swedish.
    r"|spannung|netzsystem|\btension|\btensi[o\u00f3]n|spanning|napi[e\u0119]cie"
    r"|sp[\u00e6\u00e4]nding|spenning|sp[\u00e6\u00e4]nning",
    re.IGNORECASE,
)
_RATED: Final = re.compile(
    r"^(rated|nominal) ?current$|^mains$|^(nenn|bemessungs)-?strom$"
    r"|^(courant|intensit[e\u00e9]) (assign[e\u00e9]e?|nominale?)$"
    r"|^(corriente|corrente|intensidad) (asignada|nominale?)$|^nominale stroom$"
    r"|^pr[a\u0105]d znamionowy$|^m[\u00e6\u00e4]rke?str[\u00f8\u00f6]m$"
    r"|^merkestr[\u00f8]m$",
    re.IGNORECASE,
)
_EITHER: Final = re.compile(r"\d{1,3}\.\d{3}")
"""A number that is a thousand times another one where points part thousands."""


@dataclass(frozen=True, slots=True)
class Rating:
    """What is said of an element's supply.

    Attributes:
        supply: As a scene writes it; empty where nothing can be trusted.
        notes: Conflicts, and what was made of them.
        volts: The voltages that the supply was made of.
    """

    supply: dict[str, str | float]
    notes: tuple[str, ...]
    volts: tuple[float, ...] = ()


def rating_of(element: Element) -> Rating:
    """Return voltage and current of an element.

    Of several that differ the highest is taken, which asks for the most, and told.
    """
    supply: dict[str, str | float] = {}
    notes = []
    said = [*_voltages(element)]
    best: tuple[float, ...] = ()
    if said:
        # A pair tells the voltage to ground; alone the worst is taken for it.
        best = max(said, key=lambda one: (max(one[1]), len(one[1])))[1]
        if len(best) > 1:
            low, high = sorted(best)
            name = f"{high}/{low}" if (low, high) in _SPLIT else f"{high}Y/{low}"
            supply["system"] = name
        else:
            supply["to_ground"] = float(best[0])
            notes.append(f"{best[0]:g} V: to ground or not is not said, taken as such")
        if len({max(volts) for _, volts in said}) > 1:
            notes.append(f"voltages differ: {_told(said)}; the highest is taken")
    amps = [*_currents(element)]
    if amps:
        supply["amps"] = max(value for _, value in amps)
        if len({value for _, value in amps}) > 1:
            told = ", ".join(f"{where} {value:g} A" for where, value in amps)
            notes.append(f"currents differ: {told}; the highest is taken")
    return Rating(supply, tuple(notes), best)


def _told(said: Iterable[tuple[str, tuple[float, ...]]]) -> str:
    return ", ".join(
        f"{where} {'/'.join(f'{one:g}' for one in volts)} V" for where, volts in said
    )


def voltages_in(text: str) -> tuple[float, ...]:
    """Return the voltages of a system that text names, or the highest it names.

    >>> voltages_in("Distribution System: 120/208 Wye"), voltages_in("208 V/3-0 VA")
    ((120, 208), (208.0,))
    >>> voltages_in("480Y/277V"), voltages_in("13.8 kV switchgear")
    ((277, 480), (13800.0,))
    >>> voltages_in("147 kW"), voltages_in("75 kVA"), voltages_in("240")
    ((), (), ())
    """
    for one, other in _PAIR.findall(text):
        pair = tuple(sorted((int(one), int(other))))
        if pair in _SYSTEMS:
            return pair
    alone = [
        float(number) * (1000 if kilo else 1) for number, kilo in _ALONE.findall(text)
    ]
    return (max(alone),) if alone else ()


def _voltages(element: Element) -> Iterator[tuple[str, tuple[float, ...]]]:
    for one in element.properties:
        if one.measure == _VOLTAGE and isinstance(one.value, int | float):
            if 0 < one.value <= HIGHEST:
                yield one.name, (round(float(one.value), 3),)
        elif _SPOKEN.search(one.name) and (volts := _possible(str(one.value))):
            yield one.name, volts
    for where, text in (("type", element.type_name), ("name", element.name)):
        if volts := _possible(text):
            yield where, volts


def _possible(text: str) -> tuple[float, ...]:
    volts = voltages_in(text)
    return volts if all(0 < one <= HIGHEST for one in volts) else ()


def _currents(element: Element) -> Iterator[tuple[str, float]]:
    for one in element.properties:
        if not _RATED.search(one.name):
            continue
        if isinstance(one.value, int | float):
            value = float(one.value)
        else:
            found = re.fullmatch(r"(\d+(?:\.\d+)?)\s*(?:A|amps?)?", one.value.strip())
            is_sure = found is not None and not _EITHER.fullmatch(found[1])
            value = float(found[1]) if found is not None and is_sure else 0.0
        if 0 < value <= MOST_AMPERES:
            yield one.name, value
    if found := _AMPERES.search(element.type_name or element.name):
        yield "type", float(found[1])
