"""The worked cases of trade handbooks and of practice, one test each.

The source stands at each test. Where a source works in inches the scene does too;
results are millimetres.
"""

from __future__ import annotations

from typing import Any

import pytest

from model3d import Judgement, Report, Scene, check

Plain = dict[str, Any]

INCH = 0.0254
FOOT = 0.3048
NEAR = 1e-9
LOW = {"system": "208Y/120", "amps": 200}
HIGH = {"system": "480Y/277", "amps": 800}


def judged(*items: Plain, units: str = "mm", **room: Any) -> Report:  # noqa: ANN401
    size = {"mm": [6000, 4000], "in": [240, 160]}[units]
    height = {"mm": 3500, "in": 140}[units]
    room = {"size": size, "height": height, "walls": "gypsum", **room}
    scene = {
        "title": "Worked case",
        "units": units,
        "measures": "si" if units == "mm" else "inch-pound",
        "rules": "nec-2023",
        "room": room,
        "items": list(items),
    }
    return check(Scene.model_validate(scene))


def gear(name: str, kind: str, size: list[float], **keys: Any) -> Plain:  # noqa: ANN401
    place = {"wall": "north", "along": 2000 if size[0] > 100 else 80}
    return {
        "id": name,
        "kind": kind,
        "size": size,
        "place": place | keys.pop("place", {}),
        "supply": LOW,
        "door": "bolted",
        **keys,
    }


def space(report: Report, name: str = "LP1") -> Judgement:
    (judgement,) = report.of(name, "working-space")
    return judgement


def verdict(report: Report, requirement: str, name: str = "LP1") -> str:
    (judgement,) = report.of(name, requirement)
    return judgement.verdict


def test_a_panelboard_16_in_wide_needs_30_in() -> None:
    """Electrical Contractor, General Installation Requirements part XIX."""
    found = space(judged(gear("LP1", "panelboard", [16, 6, 36]), units="in"))
    assert found.required["width"] == pytest.approx(30 * INCH, abs=NEAR)
    assert found.verdict == "met"


def test_a_switchboard_52_in_wide_and_a_safety_switch_20_in_wide_beside_it() -> None:
    """Electrical Contractor, General Installation Requirements part XIX."""
    switch_place = {"along": 80 + 52, "bottom": 36}
    report = judged(
        gear("SB", "switchboard", [52, 20, 76]),
        gear("SW", "disconnect", [20, 8, 30], place=switch_place),
        units="in",
    )
    wide, narrow = space(report, "SB"), space(report, "SW")
    assert wide.required["width"] == pytest.approx(52 * INCH, abs=NEAR)
    assert narrow.required["width"] == pytest.approx(30 * INCH, abs=NEAR)
    assert wide.verdict == narrow.verdict == "met"


@pytest.mark.parametrize("left", [0, 5, 10])
def test_an_item_may_be_anywhere_in_its_30_in(left: float) -> None:
    """Electrical Contractor, part XIX: left edge, middle or right edge."""
    place = {"along": left, "bottom": 36}
    panel = gear("LP1", "panelboard", [20, 6, 36], place=place)
    found = space(judged(panel, units="in", size=[30, 160]))
    assert found.verdict == "met"
    assert found.provided["width"] == pytest.approx(30 * INCH, abs=NEAR)


def test_a_panel_64_in_tall_with_its_bottom_at_20_in_needs_7_ft() -> None:
    """Electrical Contractor, General Installation Requirements part XX."""
    panel = gear("LP1", "panelboard", [20, 6, 64], place={"bottom": 20})
    found = space(judged(panel, units="in"))
    assert found.required["height"] == pytest.approx(7 * FOOT, abs=NEAR)
    assert found.verdict == "met"


def trough(under: str) -> Plain:
    place = {"under": under, "gap": 2}
    return {"id": "TR", "kind": "wireway", "size": [60, 12, 12], "place": place}


def test_two_panels_6_in_deep_above_a_trough_12_in_deep_on_a_common_wall() -> None:
    """Electrical Contractor, Sept 2016, p. 66: a reach of 6 in."""
    report = judged(
        gear("LP1", "panelboard", [20, 6, 36], place={"along": 70, "bottom": 36}),
        gear("LP2", "panelboard", [20, 6, 36], place={"along": 92, "bottom": 36}),
        trough("LP1"),
        units="in",
    )
    assert space(report, "LP1").verdict == space(report, "LP2").verdict == "met"


def test_a_panel_4_in_deep_above_that_trough() -> None:
    """Electrical Contractor, Sept 2016, p. 66: a reach of 8 in."""
    panel = gear("LP1", "panelboard", [20, 4, 36], place={"bottom": 36})
    found = space(judged(panel, trough("LP1"), units="in"))
    assert found.verdict == "not-met"
    (intrusion,) = found.intrusions
    assert intrusion.item == "TR"
    assert intrusion.reach == pytest.approx(8 * INCH, abs=NEAR)


def test_a_trough_above_a_switchboard_that_reaches_out_much_further() -> None:
    """Electrical Contractor, Sept 2016, p. 66."""
    above = {"over": "SB", "gap": 2}
    report = judged(
        gear("SB", "switchboard", [40, 24, 72]),
        {"id": "TR", "kind": "wireway", "size": [60, 12, 12], "place": above},
        units="in",
    )
    assert space(report, "SB").verdict == "met"


@pytest.mark.parametrize(
    ("wall", "feet"),
    [("drywall", 3.0), ("concrete", 3.5), ("brick", 3.5), ("tile", 3.5)],
)
@pytest.mark.parametrize("book", ["nec-2023", "osha-1910"])
def test_a_480_v_board_faces_a_wall(wall: str, feet: float, book: str) -> None:
    """Electrical Contractor, July 2016, p. 68; 29 CFR 1910.303 Table S-1."""
    board = gear("SB", "switchboard", [40, 24, 72], supply=HIGH)
    room = {"height": 140, "walls": wall}
    for short, expected in ((0.0, "met"), (0.1, "not-met")):
        scene = {
            "title": "Worked case",
            "units": "in",
            "measures": "inch-pound",
            "rules": book,
            "room": {**room, "size": [240, 24 + 12 * feet - short]},
            "items": [board],
        }
        found = space(check(Scene.model_validate(scene)), "SB")
        assert found.required["depth"] == pytest.approx(feet * FOOT, abs=NEAR)
        assert found.verdict == expected


@pytest.mark.parametrize("opposite", ["drywall", "concrete", "live"])
@pytest.mark.parametrize("system", ["208Y/120", "240/120", "125 dc"])
def test_at_0_to_150_v_the_depth_is_3_ft_whatever_is_opposite(
    opposite: str, system: str
) -> None:
    """Electrical Contractor, July 2016, p. 68."""
    supply = {"system": system}
    items = [gear("LP1", "switchboard", [40, 24, 72], supply=supply)]
    depth = 24.0 + 36.0
    if opposite == "live":
        place = {"wall": "south", "along": 120}
        items.append(gear("LP2", "switchboard", [40, 24, 72], place=place))
        depth += 24
    walls = "drywall" if opposite == "live" else opposite
    found = space(judged(*items, units="in", size=[240, depth], walls=walls))
    assert found.required["depth"] == pytest.approx(3 * FOOT, abs=NEAR)
    assert found.verdict == "met"
    assert found.condition == {"drywall": 1, "concrete": 2, "live": 3}[opposite]


@pytest.mark.parametrize(("between", "expected"), [(48, "met"), (47.9, "not-met")])
def test_a_battery_rack_on_a_concrete_wall_faces_480_v_switchgear(
    between: float, expected: str
) -> None:
    """EC&M code quiz, Oct 2009: 48 in between rack front and switchgear front."""
    place = {"wall": "south", "along": 100}
    supply = {"system": "125 dc"}
    rack = gear("R1", "battery-rack", [60, 12, 60], place=place, supply=supply)
    del rack["door"]
    report = judged(
        gear("SG", "switchgear", [72, 36, 90], supply=HIGH),
        rack,
        units="in",
        size=[240, 36 + between + 12],
        walls="concrete",
    )
    found = space(report, "SG")
    assert found.required["depth"] == pytest.approx(48 * INCH, abs=NEAR)
    assert found.condition == 3
    assert found.verdict == expected


def panel_and(*items: Plain) -> Report:
    panel = gear("LP1", "panelboard", [20, 6, 36], place={"bottom": 36})
    return judged(panel, *items, units="in")


def hung(name: str, kind: str, size: list[float], at: list[float], z: float) -> Plain:
    return {"id": name, "kind": kind, "size": size, "place": {"at": at, "bottom": z}}


def test_a_duct_in_front_of_panels_below_6_ft_6_in_but_not_above_them() -> None:
    """EC&M, 2024: working space not met, dedicated space met."""
    report = panel_and(hung("D1", "duct", [200, 24, 12], [110, 140], 74))
    assert verdict(report, "working-space") == "not-met"
    assert verdict(report, "dedicated-space") == "met"


def test_a_duct_directly_above_a_panelboard_within_6_ft() -> None:
    """EC&M, 2025."""
    report = panel_and(hung("D1", "duct", [200, 24, 12], [110, 148], 100))
    assert verdict(report, "working-space") == "met"
    assert verdict(report, "dedicated-space") == "not-met"


def test_a_water_pipe_with_a_drip_pan_in_the_zone() -> None:
    """EC&M, 2025: the pan is barred as well as the pipe."""
    pipe = hung("P1", "pipe", [200, 2, 2], [110, 157], 100)
    pan = hung("PAN", "leak-guard", [200, 8, 2], [110, 156], 96)
    report = panel_and(pipe, pan)
    (found,) = report.of("LP1", "dedicated-space")
    assert found.verdict == "not-met"
    assert [one.item for one in found.intrusions] == ["P1", "PAN"]
    assert verdict(panel_and(pan), "dedicated-space") == "not-met"


def test_lift_out_ceiling_tiles_2_ft_above_a_panel() -> None:
    """EC&M, 2025."""
    tiles = hung("SC", "ceiling", [240, 160, 1], [120, 80], 72 + 24)
    report = panel_and({**tiles, "structural": False})
    assert verdict(report, "dedicated-space") == "met"
    assert verdict(report, "working-space") == "met"


def test_a_shelf_and_boxes_in_the_working_space() -> None:
    """EC&M: a code violation of the month."""
    report = panel_and(
        hung("SHELF", "shelf", [40, 12, 72], [90, 140], 0),
        hung("BOXES", "storage", [30, 20, 40], [90, 120], 0),
    )
    found = space(report)
    assert found.verdict == "not-met"
    assert [one.item for one in found.intrusions] == ["BOXES", "SHELF"]


@pytest.mark.parametrize(("own", "needed"), [(500, 762), (762, 762), (1100, 1100)])
def test_the_width_is_762_mm_or_the_item_s_own(own: float, needed: float) -> None:
    """Common practice."""
    found = space(judged(gear("LP1", "panelboard", [own, 150, 900])))
    assert found.required["width"] == pytest.approx(needed / 1000, abs=NEAR)


@pytest.mark.parametrize(
    ("kind", "size", "bottom", "needed"),
    [
        ("panelboard", [500, 150, 900], 600, 2000),
        ("switchboard", [2000, 600, 2150], 0, 2150),
    ],
)
def test_the_height_is_2_m_or_up_to_the_item_s_top(
    kind: str, size: list[float], bottom: float, needed: float
) -> None:
    """Common practice: a panel on a block wall with its top at 1.5 m; a tall board."""
    item = gear("LP1", kind, size, place={"bottom": bottom})
    found = space(judged(item, walls="block"))
    assert found.required["height"] == pytest.approx(needed / 1000, abs=NEAR)
    assert found.verdict == "met"


def test_a_wireway_300_mm_deep_above_a_switchboard_500_mm_deep() -> None:
    """Common practice."""
    report = judged(
        gear("SB", "switchboard", [1200, 500, 1700]),
        {
            "id": "WW",
            "kind": "wireway",
            "size": [1200, 300, 200],
            "place": {"over": "SB"},
        },
    )
    assert space(report, "SB").verdict == "met"


@pytest.mark.parametrize(
    ("kind", "expected"), [("meter", "met"), ("pull-box", "not-met")]
)
def test_a_meter_reaches_200_mm_past_its_base(kind: str, expected: str) -> None:
    """Common practice: the same body as a pull box is in the way."""
    report = judged(
        gear("LP1", "panelboard", [500, 150, 600], place={"bottom": 700}),
        gear(
            "MB",
            "meter-socket",
            [300, 150, 400],
            place={"along": 2100, "bottom": 1350},
        ),
        {
            "id": "M1",
            "kind": kind,
            "size": [180, 350, 180],
            "place": {"wall": "north", "along": 2160, "bottom": 1450},
        },
    )
    assert space(report, "LP1").verdict == expected
    assert space(report, "MB").verdict == expected
