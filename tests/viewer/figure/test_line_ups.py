"""Sections of one line-up on the plan of a room. The room is invented."""

from __future__ import annotations

from itertools import pairwise

import pytest

from model3d import Item, Room, Scene, check
from tests.viewer.figure.examples import texts_of
from tests.viewer.figure.measured import touching
from viewer.figure.drafting.strokes import box_of
from viewer.figure.plans.room import room_figure


@pytest.mark.parametrize("pipe", [False, True])
def test_names_of_open_sections_stand_in_their_sections_in_a_row(*, pipe: bool) -> None:
    """Words beside each would cross: heavy names alone say that they are open.

    Where a pipe in the way crosses the middles, they stand in another part of them.
    """
    sections = [
        Item(
            id=f"MSB{n}",
            kind="switchboard",
            size=(900, 1500 if pipe else 750, 2286),
            place={"wall": "north", "along": 450 + 900 * n},
            supply={"system": "480Y/277", "amps": 2000},
            door="left",
            rear="bolted",
            line_up="MSB",
        )
        for n in range(1, 8)
    ]
    if pipe:
        ends = {"from": [0, 5250, 3000], "to": [9100, 5250, 3000]}
        sections.append(Item(id="CW1", kind="pipe", section=(150, 150), **ends))
    room = Room(size=(9100, 6000), height=4000, walls="block")
    head = {"title": "Wharf", "units": "mm", "rules": "nec-2023"}
    report = check(Scene(**head, room=room, items=sections))
    figure = room_figure(report, 240.0, 150.0)
    texts = texts_of(figure)
    names = {one.text: one for one in texts if one.text.startswith("MSB")}
    assert {*names} == {f"MSB{n}" for n in range(1, 8)}
    boxes = [box_of(names[f"MSB{n}"]) for n in range(1, 8)]
    middles = [(box[0] + box[2]) / 2 for box in boxes]
    steps = [b - a for a, b in pairwise(middles)]
    assert max(steps) - min(steps) < 0.1
    assert len({round(box[1], 3) for box in boxes}) == 1
    assert touching(texts, figure.marks) == []
    assert any("heavy names: not met or open" in one.text for one in texts)
