"""Rooms of turned gear, turned boxes and runs, judged twice: exactly, and by points.

The second method (sampling.py) shares no code with the engine. Where a solid grown by
the size of a cell and the solid itself answer alike, the engine must answer so too.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
import pytest

from model3d import Scene, check
from tests.independent import boxes, sampling
from tests.independent.random_rooms import chance, pick, whole

pytestmark = pytest.mark.many

Plain = dict[str, Any]
ROOMS = 40
HEIGHT = 2000.0
KINDS = ("pipe", "storage", "column", "furniture", "obstacle", "machine", "conduit")
GEAR = ("panelboard", "switchboard", "disconnect")


def turned_room(seed: int) -> Plain:
    draw = np.random.default_rng(10_000 + seed)
    size = [whole(draw, 3500, 6000), whole(draw, 3500, 6000)]
    gear = [_gear(draw, number, size) for number in range(whole(draw, 1, 3))]
    others = [_other(draw, number, gear) for number in range(whole(draw, 3, 9))]
    walls = pick(draw, ("concrete", "gypsum"))
    return {
        "title": f"Turned room {seed}",
        "units": "mm",
        "measures": "si",
        "rules": "nec-2023",
        "room": {"size": size, "height": whole(draw, 1990, 3500), "walls": walls},
        "items": gear + others,
    }


def _bearing(draw: np.random.Generator) -> float:
    return round(float(draw.uniform(0, 360)), 3)


def _gear(draw: np.random.Generator, number: int, size: list[int]) -> Plain:
    at = [whole(draw, 900, size[0] - 900), whole(draw, 900, size[1] - 900)]
    return {
        "id": f"G{number}",
        "kind": pick(draw, GEAR),
        "size": [pick(draw, (500, 762, 1000)), whole(draw, 100, 500), 1200],
        "place": {"at": at, "facing": _bearing(draw), "bottom": whole(draw, 0, 700)},
        "supply": {"system": pick(draw, ("208Y/120", "480Y/277"))},
        "door": "none",
    }


def _other(draw: np.random.Generator, number: int, gear: list[Plain]) -> Plain:
    kind = pick(draw, KINDS)
    middle, right, out = sampling.axes(pick(draw, tuple(gear)))
    at = middle + draw.uniform(-700, 700) * right + draw.uniform(300, 1900) * out
    item: Plain = {"id": f"B{number}", "kind": kind}
    if kind in {"pipe", "conduit"} and chance(draw, 0.8):
        way = draw.normal(size=3)
        start = np.array([*at, draw.uniform(200, 2400)])
        end = start + way / np.linalg.norm(way) * draw.uniform(300, 3000)
        diameter = whole(draw, 30, 400)
        return item | {
            "from": start.round(3).tolist(),
            "to": end.round(3).tolist(),
            "diameter": diameter,
        }
    place = {"at": at.round(3).tolist(), "facing": _bearing(draw)}
    place["bottom"] = pick(draw, (0, whole(draw, 0, 2200)))
    size = [whole(draw, 50, 900), whole(draw, 50, 600), whole(draw, 50, 1500)]
    return item | {"size": size, "place": place}


@cache
def judged() -> list[tuple[Plain, Plain, Plain]]:
    """Every gear of every room: the scene, the gear as written, its judgement."""
    found = []
    for seed in range(ROOMS):
        scene = turned_room(seed)
        report = check(Scene.model_validate(scene)).document()
        by_name = {item["id"]: item for item in scene["items"]}
        found += [
            (scene, by_name[one["subject"]], one)
            for one in report["judgements"]
            if one["requirement"] == "working-space"
        ]
    return found


def depths_of(item: Plain) -> tuple[float, float, float]:
    is_low = item["supply"]["system"] == "208Y/120"
    return (900, 900, 900) if is_low else (900, 1000, 1200)


def test_intruders_and_their_volumes() -> None:
    seen = {"in": 0, "out": 0, "unclear": 0}
    for scene, item, found in judged():
        depths = depths_of(item)
        width = max(item["size"][0], 762)
        filled = sampling.cells(
            item, found.get("place", 0.0), width, max(depths), HEIGHT
        )
        intruders = {one["item"]: one for one in found.get("intrusions", [])}
        for body in sampling.bodies(scene):
            if body.name == item["id"]:
                continue
            ends = sampling.depth_for(body, item, depths)
            start = _start(body, item, scene)
            sure = filled.shares(body, start, max(ends), -sampling.SURE)
            grown = filled.shares(body, start, max(ends), filled.reach)
            where = f"{scene['title']}, {item['id']}, {body.name}: {found}"
            if sure.any():
                assert body.name in intruders, where
                seen["in"] += 1
                _compare(filled, intruders[body.name], (start, *ends), body, where)
            elif not grown.any():
                assert body.name not in intruders, where
                seen["out"] += 1
            else:
                seen["unclear"] += 1
    assert seen["in"] > 60
    assert seen["out"] > 60
    assert seen["unclear"] < 0.15 * sum(seen.values())


def _start(body: sampling.Body, item: Plain, scene: Plain) -> float:
    """Return the allowance of what is associated and above or below."""
    if body.kind not in boxes.GEAR | boxes.PARTS:
        return 0.0
    other = next(one for one in scene["items"] if one["id"] == body.name)
    low = item["place"]["bottom"]
    high = low + item["size"][2]
    if "from" in other:
        # The end of a round run reaches as far up as its slope lets it.
        start, end = np.array(other["from"]), np.array(other["to"])
        flat = float(np.linalg.norm((end - start)[:2]) / np.linalg.norm(end - start))
        radius = other["diameter"] / 2 * flat
        bottom, top = min(start[2], end[2]) - radius, max(start[2], end[2]) + radius
    else:
        bottom = other["place"]["bottom"]
        top = bottom + other["size"][2]
    return 150.0 if bottom >= high or top <= low else 0.0


def _compare(
    filled: sampling.Cells,
    intrusion: Plain,
    stretch: tuple[float, float, float],
    body: sampling.Body,
    where: str,
) -> None:
    # What is there for sure has its volume; what may be there has no more.
    start, sure, worst = stretch
    v, reach = filled.local[:, 1], filled.reach
    whole_cells = filled.shares(body, start, sure, -reach)
    whole_cells &= (v > start + reach) & (v < sure - reach)
    touched = filled.shares(body, start, worst, reach)
    volume = intrusion["volume"] * 1e9
    assert whole_cells.sum() * filled.volume <= volume + 200, where
    assert volume <= touched.sum() * filled.volume + 200, where


def test_the_clear_depth() -> None:
    compared = 0
    for scene, item, found in judged():
        if not found.get("intrusions"):
            continue
        depths = depths_of(item)
        width = max(item["size"][0], 762)
        filled = sampling.cells(
            item, found.get("place", 0.0), width, max(depths), HEIGHT
        )
        if "depth" not in found["required"] or "depth" not in found.get("provided", {}):
            continue
        needed = found["required"]["depth"]
        v = filled.local[:, 1]
        sure, grown = [np.inf], [np.inf]
        for body in sampling.bodies(scene):
            if body.name == item["id"]:
                continue
            worst = max(sampling.depth_for(body, item, depths))
            if worst < needed:
                # It makes a lesser condition, which leaves more over.
                continue
            start = _start(body, item, scene)
            sure.extend(v[filled.shares(body, start, worst, -sampling.SURE)])
            grown.extend(v[filled.shares(body, start, worst, filled.reach)])
        # It is told by what decides the condition; what stands nearer may not.
        if found["provided"]["depth"] > needed:
            continue
        depth = found["provided"]["depth"]
        assert min(grown) - filled.reach <= depth <= min(sure) + 0.02
        compared += 1
    assert compared > 25


def test_there_is_no_better_place() -> None:
    compared = 0
    for scene, item, found in judged():
        own = item["size"][0]
        if found["verdict"] != "not-met" or own >= 762:
            continue
        depths = depths_of(item)
        filled = sampling.cells(item, own - 762, 2 * 762 - own, max(depths), HEIGHT)
        u = filled.local[:, 0]
        shut = np.zeros(len(u), bool)
        for body in sampling.bodies(scene):
            if body.name != item["id"]:
                sure, _ = sampling.depth_for(body, item, depths)
                start = _start(body, item, scene)
                shut |= filled.shares(body, start, sure, filled.reach)
        for left in np.arange(own - 762, 1, 10.0):
            inside = (u > left - filled.reach) & (u < left + 762 + filled.reach)
            assert shut[inside].any(), (scene["title"], item["id"], left)
        compared += 1
    assert compared > 8
