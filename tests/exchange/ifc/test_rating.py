"""Voltages and currents out of what models say; the strings are of real models."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

from model3d.exchange.ifc.element import Element, Property
from model3d.exchange.ifc.gear.rating import _SYSTEMS, rating_of, voltages_in
from model3d.scene.parts.supply import Supply

if TYPE_CHECKING:
    from collections.abc import Iterable

VOLTS = "IfcElectricVoltageMeasure"
PLAIN = Element(
    (0, 1), "", ("IfcFlowController",), (), "", "", "", "", "", "", (), (),
    (None, None), "", np.empty((0, 3)), np.empty((0, 3), dtype=np.int64), np.eye(4),
)  # fmt: skip


def said(*properties: Property, name: str = "", type_name: str = "") -> Element:
    return replace(PLAIN, properties=properties, name=name, type_name=type_name)


def told(notes: Iterable[str], word: str) -> bool:
    return any(word in note for note in notes)


@pytest.mark.parametrize("pair", _SYSTEMS)
def test_every_known_system_is_one_of_a_scene(pair: tuple[int, int]) -> None:
    low, high = pair
    found = rating_of(said(name=f"{high}/{low} V"))
    supply = Supply(system=found.supply["system"])
    # A split winding has half the voltage to ground, a star the root of a third.
    assert supply.volts == pytest.approx(low, rel=0.02)


def test_a_bare_number_is_no_voltage() -> None:
    # Square feet left in it: 208 V x 10.7639.
    found = said(
        Property("Electrical", "Voltage", 2238.89, "IfcReal"),
        Property("Other", "RatedVoltage", "240", "IfcText"),
        Property("Other", "RatedVoltage", "N/A", "IfcText"),
    )
    assert rating_of(found).supply == {}


@pytest.mark.parametrize(
    ("name", "value", "measure"),
    [
        ("RatedVoltage", 1e300, VOLTS),
        ("RatedVoltage", 0.0, VOLTS),
        ("RatedVoltage", float("nan"), VOLTS),
        ("Supply", "99999999 kV", "IfcText"),
        ("Supply", "0 V", "IfcText"),
        ("RatedCurrent", 1e300, "IfcElectricCurrentMeasure"),
        ("RatedCurrent", float("nan"), "IfcElectricCurrentMeasure"),
        ("RatedCurrent", "9999999 A", "IfcText"),
    ],
)
def test_what_no_scene_could_say_is_not_said(
    name: str, value: float | str, measure: str
) -> None:
    """The whole import was refused for it, at a line of the scene it did not make."""
    assert rating_of(said(Property("P", name, value, measure))).supply == {}


def test_a_measure_counts_and_the_worst_is_taken_of_it() -> None:
    found = rating_of(said(Property("P", "RatedVoltage", 400.0, VOLTS)))
    assert found.supply == {"to_ground": 400.0}
    assert told(found.notes, "to ground or not is not said")


def test_of_what_differs_the_highest_is_taken_and_told() -> None:
    found = rating_of(
        said(
            Property("A", "Mains", 100.0, "IfcReal"),
            Property("B", "RatedCurrent", "600", "IfcText"),
            Property("C", "Distribution System", "120/208 Wye", "IfcLabel"),
            Property("D", "RatedVoltage", 480.0, VOLTS),
            type_name="400 A",
        )
    )
    assert found.supply["amps"] == 600
    assert found.supply["to_ground"] == 480
    assert told(found.notes, "currents differ: Mains 100 A, RatedCurrent 600 A")
    assert told(found.notes, "voltages differ")


@pytest.mark.parametrize(
    ("text", "volts"),
    [
        (" 208 V/3-0 VA", (208,)),
        ("M_Lighting and Appliance Panelboard - 208V MLO", (208,)),
        ("480/277 Wye", (277, 480)),
        ("120/240", (120, 240)),
        ("13.8kV", (13800,)),
        ("400 A", ()),
        ("59-440 kW", ()),
        ("150 kVA", ()),
        ("#1/0 AWG 600 VA", ()),
    ],
)
def test_texts(text: str, volts: tuple[float, ...]) -> None:
    assert voltages_in(text) == volts
