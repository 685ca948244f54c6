"""What could not be read stays where it is while items move beside it."""

from __future__ import annotations

import pytest

from model3d import check
from model3d.following import Following
from model3d.scene.parts.placement import AtWall
from tests.judging.test_not_read import room

ENDLESS = 1e9


@pytest.mark.long
def test_a_move_beside_it_is_judged_as_if_the_room_were_new() -> None:
    scene = room({"name": "Cupboard", "at": (1450, 2300, 0)}, {"name": "Somewhere"})
    following = Following(scene)
    verdicts = []
    for along in (4500.0, 900.0):
        place = AtWall(wall="north", along=along, bottom=900)
        items = tuple(
            one.model_copy(update={"place": place}) if one.id == "LP1" else one
            for one in following.scene.items
        )
        moved = following.scene.model_copy(update={"items": items})
        following.move(moved)
        fresh = check(moved)
        known = following.judge(ENDLESS)
        told = {(one.key, one.verdict, one.reason) for one in fresh.judgements}
        sure = [
            one
            for number, one in enumerate(known.report.judgements)
            if number not in known.waiting
        ]
        assert len(sure) > 6
        assert {(one.key, one.verdict, one.reason) for one in sure} <= told
        verdicts.append(known.report.of("LP1", "working-space")[0].verdict)
    assert verdicts == ["met", "open"]
