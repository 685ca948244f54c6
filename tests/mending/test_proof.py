"""What a proof is spared: what was looked at before, and what is not asked for.

The outside source is the rule itself, asked in full.
"""

from __future__ import annotations

from random import Random
from typing import TYPE_CHECKING, Final, cast

import pytest

from model3d import Scene
from model3d.check import situate
from model3d.judging.systems import answers
from model3d.mending.remedies import bench_of
from model3d.rules import entrance, question, tells, working_space
from model3d.scene.parts.lesson import MoveItem
from tests.fuzz import rooms as crowded
from tests.independent.random_rooms import random_room
from tests.mending.test_places import box, room, switch
from tests.scenes import examples

if TYPE_CHECKING:
    from model3d.following.supposition import Supposition
    from model3d.rules import Rule

SEEDS: Final = range(4000, 4040)
CROWDED: Final = (911059, 911278, 911312, 950467, 960147, *range(770000, 770015))
RULES: Final = {
    "working-space": cast("Rule", working_space),
    "entrance": cast("Rule", entrance),
}


def test_what_seems_to_cure_a_breach_is_not_made_anew_to_be_proved(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    crate = box("S1", [400, 300, 600], {"at": [2100, 2200]}, kind="furniture")
    bench = bench_of(
        room(switch({"wall": "north", "along": 1700, "bottom": 900}), crate)
    )
    (judged,) = bench.report.of("DS1", "working-space")
    assert judged.verdict == "not-met"
    made = []
    suppose = bench.following.suppose

    def counted(scene: Scene) -> Supposition:
        made.append(scene)
        return suppose(scene)

    monkeypatch.setattr(bench.following, "suppose", counted)
    far = [MoveItem(move="S1", by=(0, -900, 0))]
    assert bench.seems_cured(judged, far)
    assert bench.proves(judged, far)
    assert len(made) == 1
    # What was never asked about is made, and what was proved is made no more.
    assert bench.proves(judged, [MoveItem(move="S1", by=(0, -910, 0))])
    assert bench.proves(judged, far)
    assert len(made) == 2


def _clear_for_certain(scene: Scene, requirement: str) -> int:
    """Return of how many items a rule quickly tells that they meet it; each does."""
    found, situation, rule = 0, situate(scene), RULES[requirement]
    for item in situation.live:
        if tells(rule, "is_met", item, situation):
            said = answers(question(rule, item), situation)
            assert {one.verdict for one in said} <= {"met"}, item.id
            found += bool(said)
    return found


@pytest.mark.long
@pytest.mark.parametrize("rule", RULES)
def test_what_is_clear_for_certain_is_met_in_every_example(rule: str) -> None:
    scenes = map(examples.scene, examples.NAMES)
    assert sum(_clear_for_certain(scene, rule) for scene in scenes) > 20


@pytest.mark.many
def test_a_working_space_that_is_clear_for_certain_is_met_in_random_rooms() -> None:
    scenes = (Scene.model_validate(random_room(seed)) for seed in SEEDS)
    assert sum(_clear_for_certain(scene, "working-space") for scene in scenes) > 10


@pytest.mark.many
def test_a_way_out_that_is_clear_for_certain_is_met_past_open_leaves() -> None:
    """Crowded rooms with a door, some with a thing across a front with a leaf."""
    drawn = (crowded.room(Random(seed)) for seed in CROWDED)  # noqa: S311 - the same every time
    scenes = map(Scene.model_validate, drawn)
    assert sum(_clear_for_certain(scene, "entrance") for scene in scenes) > 5
