"""Places drawn by lot in whole rooms, on the map and in a check made anew.

The rooms are invented. The outside source is a whole check of the scene with the item
there, which knows nothing of maps.
"""

from __future__ import annotations

import random
from typing import TYPE_CHECKING, Final

import pytest

from model3d import check, read_scene
from model3d.geometry.plan import flat
from model3d.mending.map.places import WAYS, free_places
from model3d.mending.map.probe import key_of
from tests.paths import ROOT

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d import Report, Scene
    from model3d.mending.map.free import Free
    from model3d.mending.map.probe import Key
    from model3d.scene.parts.placement import Place

ROOMS: Final = ROOT / "tests" / "mending" / "rooms"
CLOSE: Final = 5e-4
"""Metres. Nearer to an edge of the map contact decides."""
STEP: Final = 0.08
"""Metres. As near to a free place one may be barred that a check keeps: parts of
a map in doubt are halved down to less, a turned one is as long as its corners.
"""
SOME: Final = (
    ("battery", "SH1"),
    ("battery", "L1"),
    ("battery", "CH1"),
    ("vault", "DS1"),
    ("vault", "BN1"),
    ("dwelling", "DS1"),
    ("dwelling", "ST1"),
    ("plant", "DS1"),
    ("plant", "PU1"),
    ("turned", "LP1"),
    ("turned", "CP1"),
    ("lineups", "SB2"),
    ("lineups", "CB1"),
)


@pytest.mark.many
@pytest.mark.parametrize(("name", "item"), SOME)
def test_places_by_lot_agree_with_a_check_made_anew(name: str, item: str) -> None:
    scene = read_scene(ROOMS / f"{name}.yaml")
    draw = random.Random(f"{name} {item}")  # noqa: S311 - the same every time
    maps = free_places(scene, item, ways=WAYS).maps
    for one in maps:
        before = _verdicts(check(one.posed.base.arrangement.scene))
        for by in _drawn(one, 40 // len(maps), draw):
            place = one.stance.place(by)
            wrong = _wrong(one, by, check(_put(scene, item, place)), before)
            assert not wrong, (place, wrong)


def _drawn(one: Free, count: int, draw: random.Random) -> Iterator[tuple[float, float]]:
    """Yield places of a map anywhere, but those at an edge."""
    low_x, low_y, high_x, high_y = one.within.bounds
    found = _free(one).boundary, one.within.boundary
    edges = [edge for edge in found if edge is not None]
    while count:
        if one.stance.on_wall:
            by = one.at(draw.uniform(0, one.within.length))
        else:
            by = draw.uniform(low_x, high_x), draw.uniform(low_y, high_y)
            if not one.within.contains(flat.Point(by)):
                continue
        count -= 1
        if all(edge.distance(flat.Point(by)) > CLOSE for edge in edges):
            yield by


def _free(one: Free) -> flat.Geometry:
    return one.line if one.stance.on_wall else one.area


def _put(scene: Scene, item: str, place: Place) -> Scene:
    items = tuple(
        each.model_copy(update={"place": place}) if each.id == item else each
        for each in scene.items
    )
    return scene.model_copy(update={"items": items})


def _wrong(
    one: Free,
    by: tuple[float, float],
    report: Report,
    before: dict[Key, str],
) -> str:
    """Say what the map tells otherwise than a check; "" where they agree."""
    here, item = flat.Point(by), one.posed.name
    new = [
        each
        for each in report.judgements
        if each.verdict != before.get(key_of(each)) or each.subject == item
    ]
    broken = sorted(each.requirement for each in new if each.verdict == "not-met")
    doubts = sorted(
        each.requirement
        for each in new
        if each.verdict == "open" and before.get(key_of(each)) != "not-met"
    )
    told = [bar for bar, there in one.opens() if there.distance(here) < CLOSE]
    free = _free(one)
    away = float("inf") if free.is_empty else free.distance(here)
    if away > CLOSE:
        drawn = any(
            bar.requirement == "body" and bar.plan.intersects(here) for bar in one.bars
        )
        return "" if broken or drawn or away <= STEP else "barred but met"
    if any(bar.why for bar in told):
        return ""
    if broken:
        return f"free but not met: {broken}"
    return f"free but open: {doubts}" if doubts and not told else ""


def _verdicts(report: Report) -> dict[Key, str]:
    return {key_of(one): one.verdict for one in report.judgements}
