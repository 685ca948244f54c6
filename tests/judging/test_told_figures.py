"""What a record carries beside its sizes: printed figures, and what is unread."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from model3d import Scene, check

if TYPE_CHECKING:
    from model3d.judging.results import Judgement


def judged(requirement: str, subject: str, **scene: Any) -> Judgement:  # noqa: ANN401
    base = {"title": "Room", "units": "mm", "rules": "nec-2023", **scene}
    (found,) = check(Scene.model_validate(base)).of(subject, requirement)
    return found


def live_parts(system: str, **scene: Any) -> Judgement:  # noqa: ANN401
    gear = {
        "id": "SG1",
        "kind": "switchgear",
        "size": [2000, 1500, 2500],
        "place": {"at": [0, 0], "facing": "south"},
        "supply": {"system": system},
        "unguarded_live_parts": 3000,
    }
    return judged("guarded-live-parts", "SG1", use="outdoor", items=[gear], **scene)


@pytest.mark.long
@pytest.mark.parametrize(
    ("book", "system", "printed"),
    [
        ("nec-2023", "480Y/277", ("2.6 m", "8 ft 6 in")),
        ("nec-2014", "480Y/277", ("2.6 m", "8 1/2 ft")),
        ("osha-1910", "480Y/277", ("2.44 m", "8.0 ft")),
        ("osha-1926", "4160Y/2400", ("8 ft 6 in",)),
    ],
)
def test_a_height_is_printed_as_its_book_prints_it(
    book: str, system: str, printed: tuple[str, ...]
) -> None:
    # NEC 110.27(A)(4); 29 CFR 1910.303(g)(2)(i)(D); 29 CFR 1926.403 Table K-3.
    assert live_parts(system, rules=book).printed == {"height": printed}


def test_a_height_that_grows_with_the_voltage_is_printed_nowhere() -> None:
    found = live_parts("69 kV delta")
    assert found.required["height"] == pytest.approx(2.9 + 34 * 0.0095)
    assert not found.printed


@pytest.mark.long
def test_a_height_from_memory_is_listed_and_not_in_the_reason() -> None:
    found = live_parts("480Y/277")
    assert found.unread == ("NEC 2023 110.27(A)(4)",)
    assert "memory" not in found.reason
    assert live_parts("480Y/277", rules="osha-1910").unread == ()


def test_a_reach_is_a_greatest_figure() -> None:
    # NEC 110.26(A)(4)(d): 150 mm (6 in).
    panel = {
        "id": "CP1",
        "kind": "control-panel",
        "size": [500, 150, 600],
        "place": {"wall": "north", "along": 2000, "bottom": 300},
        "supply": {"system": "208Y/120", "amps": 30},
    }
    room = {
        "size": [6000, 4000],
        "height": 1200,
        "walls": "gypsum",
        "access_opening": [600, 800],
    }
    place = {"use": "crawl-space", "room": room, "items": [panel]}
    found = judged("limited-access", "CP1", **place)
    assert found.limit == {"reach": "at-most"}
    assert found.printed == {"reach": ("150 mm", "6 in")}
    opening = judged("limited-access", "room", **place)
    assert opening.printed["length"] == ("762 mm", "30 in")


@pytest.mark.parametrize(
    ("book", "citation", "width"),
    [
        ("nec-2023", "NEC 2023 110.34(A)", 0.914),
        ("nec-2026", "NEC 2026 110.26(A)(1)", 0.8),
    ],
)
def test_direct_current_up_to_1500_volts(
    book: str, citation: str, width: float
) -> None:
    # EC&M, 12 January 2026: 110.26 of 2026 is for 1000 V ac or 1500 V dc or less;
    # before, direct current above 1000 V is in 110.34(A).
    ups = {
        "id": "U1",
        "kind": "ups",
        "size": [800, 800, 2000],
        "place": {"wall": "north", "along": 2000},
        "supply": {"system": "1500 dc"},
        "door": "bolted",
    }
    room = {"size": [6000, 6000], "height": 3000, "walls": "gypsum"}
    found = judged("working-space", "U1", rules=book, room=room, items=[ups])
    assert found.citation == citation
    assert found.required["width"] == pytest.approx(width)


def test_what_a_round_column_only_touches_is_not_short() -> None:
    # Its surface is 1000 ahead of the front: 3850 - 2700 - 300 / 2.
    room = {
        "title": "A column at the depth",
        "units": "mm",
        "rules": "nec-2023",
        "room": {"size": [6000, 4000], "height": 3000, "walls": "gypsum"},
        "items": [
            {
                "id": "LP1",
                "kind": "panelboard",
                "size": [500, 150, 900],
                "place": {"wall": "north", "along": 2000, "bottom": 900},
                "supply": {"system": "480Y/277", "amps": 100},
                "door": "left",
            },
            {
                "id": "C1",
                "kind": "column",
                "from": [2250, 2700, 0],
                "to": [2250, 2700, 3000],
                "diameter": 300,
            },
        ],
    }
    (judged,) = check(Scene.model_validate(room)).of("LP1", "working-space")
    assert judged.verdict == "met"
    assert judged.margin == 0.0
