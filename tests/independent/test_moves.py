"""Where a room lies, how it is turned and how its file is written changes nothing."""

from __future__ import annotations

import os
import subprocess
import sys
from typing import Any

import numpy as np
import pytest

from model3d import Scene, check
from tests.independent.moving import moved, numbers, outlined
from tests.independent.random_rooms import random_room
from tests.independent.test_turned import turned_room
from tests.paths import ROOT

pytestmark = pytest.mark.many

Plain = dict[str, Any]
SEEDS = range(500, 512)
WAYS = [((0.0, 0.0), 90.0), ((25_000.0, -40_000.0), 0.0), ((-3000.0, 700.0), 37.0)]
NEAR = 0.011
"""Millimetres and degrees: what rounding may add to a hundredth."""
VOLUME = 2e-6
"""Cubic metres: a boolean engine of single precision, over faces of some metres."""


def judged(scene: Plain) -> Plain:
    return check(Scene.model_validate(scene)).document()


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize(("by", "degrees"), WAYS)
def test_a_moved_and_turned_room(
    seed: int, by: tuple[float, float], degrees: float
) -> None:
    room = outlined(random_room(seed))
    here, there = numbers(judged(room)), numbers(judged(moved(room, by, degrees)))
    assert len(here) == len(there)
    for one, other in zip(here, there, strict=True):
        sizes, volumes = one.pop("sizes"), one.pop("volumes")
        assert other.pop("sizes") == pytest.approx(sizes, abs=NEAR), (seed, one)
        found = other.pop("volumes")
        assert found == pytest.approx(volumes, abs=VOLUME), (seed, one)
        assert one == other


@pytest.mark.parametrize("seed", SEEDS)
def test_a_rectangle_and_its_outline(seed: int) -> None:
    # The corner beyond two walls may be counted to either: only verdicts and sizes.
    room = random_room(seed)
    here, there = numbers(judged(room)), numbers(judged(outlined(room)))
    for one, other in zip(here, there, strict=True):
        assert one["verdict"] == other["verdict"]
        assert other["sizes"] == pytest.approx(one["sizes"], abs=NEAR), (seed, one)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_order_of_the_items(seed: int) -> None:
    draw = np.random.default_rng(seed)
    for room in (random_room(seed), turned_room(seed)):
        items = room["items"]
        order = [items[place] for place in draw.permutation(len(items))]
        one, other = (
            check(Scene.model_validate({**room, "items": written})).json()
            for written in (items, order[::-1])
        )
        assert one.encode() == other.encode()


PROGRAM = """
import sys
from model3d import Scene, check
from tests.independent.random_rooms import random_room
from tests.independent.test_turned import turned_room
for seed in range(600, 606):
    for room in (random_room(seed), turned_room(seed)):
        text = check(Scene.model_validate(room)).json(indent=1)
        sys.stdout.buffer.write(text.encode() + b"\\n")
"""


def test_another_process_gives_the_same_bytes() -> None:
    outputs = []
    for hash_seed in ("1", "2"):
        path = os.pathsep.join([str(ROOT), os.environ.get("PYTHONPATH", "")])
        environment = {**os.environ, "PYTHONHASHSEED": hash_seed, "PYTHONPATH": path}
        ran = subprocess.run(  # noqa: S603 - this Python, and the text above
            [sys.executable, "-c", PROGRAM],
            cwd=ROOT,
            env=environment,
            capture_output=True,
            check=True,
        )
        outputs.append(ran.stdout)
    assert outputs[0] == outputs[1]
    assert len(outputs[0]) > 10_000
