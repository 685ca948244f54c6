"""More room never makes a verdict worse, nor a figure of the working space smaller."""

from __future__ import annotations

import copy
import warnings
from typing import TYPE_CHECKING, Any, Final

from pydantic import ValidationError

from model3d import Scene, check
from model3d.scene.scene import Origin
from tests.fuzz.changed import mesh_folder
from tests.fuzz.relations import NEAR, smaller
from tests.fuzz.rooms import room

if TYPE_CHECKING:
    from random import Random

    from tests.fuzz.part import Example

__all__ = ["example", "smaller", "wrong"]

Plain = dict[str, Any]
Key = tuple[object, ...]
Rows = dict[Key, Plain]

RANK: Final = {"not-met": 0, "open": 1, "met": 2}
GOODS: Final = frozenset(
    {"storage", "furniture", "machine", "duct", "pipe", "shelf", "obstacle", "column"}
)
"""What can be carried away and leaves nothing but room: it ends no view by itself."""
BY: Final = ("goods", "ceiling", "wall", "door", "voltage")
_WAYS: Final = frozenset({"entrance", "second-entrance"})
_SWEPT: Final = "door-over-working-space"
_PARTS: Final = ("requirement", "subject", "leaf", "tier", "side")
_ALIKE: Final = ("required", "condition", "place")
"""Figures are compared only where the same was asked at the same place."""


def example(draw: Random) -> Example:
    """Make a room, and choose what there is more of, and how much."""
    by = draw.choice(BY)
    return {"scene": room(draw), "by": by, "much": draw.choice([1, 20, 150, 700])}


def wrong(example: Example) -> str:
    """Say which judgement is worse where there is more room."""
    by, scene = example["by"], example["scene"]
    for more, gone in _MORE[by](scene, example["much"]):
        try:
            with warnings.catch_warnings():
                warnings.simplefilter("error")
                before, after = _rows(scene), _rows(more)
        except ValidationError:
            continue  # a door wider than its wall, or what stood on what is gone
        except Exception as error:  # noqa: BLE001 - that is what is looked for
            return f"{type(error).__name__}: {error}"
        for key, one in before.items():
            if gone in key or key not in after or _asks_otherwise(by, key, before):
                continue
            if found := _worse(one, after[key]):
                return f"{by}, {key[0]}: {gone} {key[1:]}, {found}"
    return ""


def _asks_otherwise(by: str, key: Key, before: Rows) -> bool:
    """Tell whether something else is asked than before.

    A leaf of a personnel door that is stopped no longer sweeps more of the floor; and a
    space in which goods stand has other ends where it is asked for to another depth.
    """
    if key[0] == _SWEPT:
        return by == "goods"
    if key[0] not in _WAYS:
        return False
    space = before.get(("working-space", *key[1:]), {"verdict": "met"})
    return by == "voltage" and space["verdict"] != "met"


def _worse(one: Plain, other: Plain) -> str:
    if RANK[other["verdict"]] < RANK[one["verdict"]]:
        return f"{one['verdict']} ({one['reason']}), then {other['reason']}"
    if one["requirement"] != "working-space":
        return ""
    if any(one.get(name) != other.get(name) for name in _ALIKE):
        return ""
    for name, value in one.get("provided", {}).items():
        now = other.get("provided", {}).get(name, value)
        if name != "reach" and now < value - NEAR:
            return f"{name} {value}, then {now}"
    return ""


def _rows(scene: Plain) -> Rows:
    made = Scene.model_validate(scene, context=Origin(mesh_folder() / "scene.yaml"))
    return {
        tuple(one.get(part) for part in _PARTS): one
        for one in check(made).document()["judgements"]
        # What is told of a drawing is no matter of room.
        if one["requirement"] != "as-drawn"
    }


Changed = list[tuple[Plain, str]]
"""Scenes with more room in them, each with the name of what is gone."""


def _without_goods(scene: Plain, _: int) -> Changed:
    found = []
    for number, item in enumerate(scene["items"]):
        if item["kind"] in GOODS:
            more = copy.deepcopy(scene)
            del more["items"][number]
            found.append((more, item["id"]))
    return found[:2]


def _under_a_higher_ceiling(scene: Plain, much: int) -> Changed:
    more = copy.deepcopy(scene)
    more["room"]["height"] += much
    return [(more, "ceiling")]


def _with_a_far_wall(scene: Plain, much: int) -> Changed:
    """Move the east wall away where nothing is fixed to it."""
    more = copy.deepcopy(scene)
    more["room"]["size"][0] += much
    for one in [*more["room"]["doors"], *more["items"]]:
        place = one.get("place", one)
        if place.get("wall") == "east":
            return []
        if place.get("wall") == "south":  # its left end is the east one
            place["along"] += much
    return [(more, "wall-east")]


def _with_wider_doors(scene: Plain, much: int) -> Changed:
    found = []
    for number, door in enumerate(scene["room"]["doors"]):
        if door.get("opens") == "out":
            more = copy.deepcopy(scene)
            more["room"]["doors"][number]["width"] += min(much, 150)
            found.append((more, ""))
    return found


def _at_a_lower_voltage(scene: Plain, _: int) -> Changed:
    more = copy.deepcopy(scene)
    for item in more["items"]:
        if "480Y/277" in str(item.get("supply")):
            item["supply"]["system"] = "208Y/120"
    return [(more, "")]


_MORE: Final = {
    "goods": _without_goods,
    "ceiling": _under_a_higher_ceiling,
    "wall": _with_a_far_wall,
    "door": _with_wider_doors,
    "voltage": _at_a_lower_voltage,
}
