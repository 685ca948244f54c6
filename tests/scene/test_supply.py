"""From a supply system to the voltage to ground.

NEC Article 100, Voltage to Ground: of a grounded circuit, from the conductor to the
grounded one; of an ungrounded circuit, the greatest from the conductor to any other.
Nominal systems: NEC 220.5(A). High leg: NEC 110.15 and 408.3(E), at the square root of
3 times the other phases (common practice: 208 V on a 240/120 V delta).
"""

from __future__ import annotations

import math

import pytest

from model3d import SceneError
from model3d.scene.parts.supply import Supply, to_ground


@pytest.mark.parametrize(
    ("system", "volts"),
    [
        ("120", 120),
        ("120/240", 120),
        ("240/120", 120),
        ("208Y/120", 120),
        ("208y/120v", 120),
        ("120/208Y", 120),
        ("480Y/277", 277),
        ("480 Y / 277", 277),
        ("480 wye / 277", 277),
        ("600Y/347", 347),
        ("400/230", 230),
        ("380Y/220", 220),
        ("4160Y/2400", 2400),
        ("12.47Y/7.2 kV", 7200),
        ("12.47 kV Y/7.2 kV", 7200),
        ("13.8 kV", 13_800),
        ("480", 480),
        ("480 delta", 480),
        ("480 V delta", 480),
        ("480 delta corner-grounded", 480),
        ("480Y/277 ungrounded", 480),
        ("480Y ungrounded", 480),
        ("125 dc", 125),
        ("125/250 dc", 125),
        ("240/120 delta high-leg", 120 * math.sqrt(3)),
        ("240/120 high-leg", 207.85),
        ("480Y", 277.13),
    ],
)
def test_voltage_to_ground(system: str, volts: float) -> None:
    assert to_ground(system) == pytest.approx(volts, abs=0.01)
    assert Supply(system=system).volts == to_ground(system)


@pytest.mark.parametrize(
    "system",
    [
        "",
        "delta",
        "0",
        "-480",
        "480Y/272 delta",
        "480Y/120",
        "480Y277",
        "208Y/120/3",
        "240 high-leg",
        "208Y/120 high-leg",
        "240/120 corner-grounded",
        "480Y/277 dc",
        "9999999",
        "480 deltas",
        "\u0664\u0668\u0660",
    ],
)
def test_no_system(system: str) -> None:
    with pytest.raises(ValueError, match="a supply system such as"):
        to_ground(system)
    with pytest.raises(SceneError, match="a supply system such as"):
        Supply(system=system)


def test_voltage_may_be_given_instead() -> None:
    assert Supply(to_ground=277).volts == 277
    assert Supply(system="480Y/277", to_ground=277.1).volts == 277.1
    assert Supply(amps=200).volts is None
    with pytest.raises(SceneError, match="277, as the system has, or no system"):
        Supply(system="480Y/277", to_ground=480)


def test_direct_current() -> None:
    assert Supply(system="125 DC").direct_current
    assert not Supply(system="480Y/277").direct_current
    assert not Supply(to_ground=125).direct_current


def test_a_number_is_a_system() -> None:
    assert Supply.model_validate({"system": 480}).volts == 480
    with pytest.raises(SceneError, match="found true, right is a supply system"):
        Supply(system=True)
