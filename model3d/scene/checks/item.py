"""What must fit together within one item: its shape, its kind, its reasons."""

from __future__ import annotations

import math
from functools import cache
from typing import TYPE_CHECKING, Final

from model3d.scene.checks.clouds import cloud_mistakes
from model3d.scene.checks.files import STEP_ENDINGS, mesh_mistakes
from model3d.scene.checks.front import front_mistakes, frontless, rack_mistakes
from model3d.scene.checks.lengths import length_mistakes
from model3d.scene.checks.placement import place_mistakes
from model3d.scene.checks.setting import SLACK, word
from model3d.scene.kinds import KINDS
from model3d.scene.parts.item import RUN_KEYS, AskedSpace, Item
from model3d.scene.words.elsewhere import meant_key, within_item
from model3d.scene.words.mistakes import KeyStep, found, shown
from model3d.scene.words.nearest import listed

if TYPE_CHECKING:
    from model3d.scene.checks.setting import Setting
    from model3d.scene.kinds import Kind
    from model3d.scene.words.mistakes import Found

_SHAPES: Final = "size, from and to with diameter or section, or mesh"
_MESH_ONLY: Final = ("scale", "units", "turn", "shift", "part")
_NO_SCALE: Final = 1
"""A program may write every default out."""
_GEAR_ONLY: Final = (
    "rear",
    "sides",
    "draw_out",
    "dead_front",
    "live_parts",
    "service",
    "condition",
    "line_up",
)
_ELECTRICAL_ONLY: Final = (
    "door",
    "doors",
    "unguarded_live_parts",
    "handle",
    "handle_reach",
)
_AT_A_FRONT: Final = ("door", "doors", "handle")
_BATTERY_ONLY: Final = (
    "open",
    "tiers",
    "shelf_thickness",
    "top_clearance",
    "terminals",
)
_OF_SOME_KINDS: Final = {
    "batteries": _BATTERY_ONLY,
    "rack": ("free_air",),
    "cabinet": ("listed",),
    "ceiling": ("structural",),
}
"""Keys that mean something where a kind is what a column of its row asks."""
_ITEM_KEYS: Final = frozenset(
    field.alias or name for name, field in Item.model_fields.items()
)
_ITEM_FIELDS: Final = frozenset(Item.model_fields)
_RUN_FIELDS: Final = frozenset(
    name
    for name, field in Item.model_fields.items()
    if (field.alias or name) in RUN_KEYS
)


def item_mistakes(item: Item, setting: Setting) -> list[Found]:
    """Return what does not fit together within an item, each with its place in it."""
    kind = kind_of(item)
    return [
        *_shape(item),
        *_run(item, setting),
        *_mesh(item, setting),
        *cloud_mistakes(item, setting.folder),
        *_placed(item),
        *place_mistakes(item, setting),
        *_reasons(item),
        *length_mistakes(item, setting.ruler),
        *(_suits(item, kind) if kind else ()),
        *front_mistakes(item, setting.ruler),
        *(rack_mistakes(item, setting.ruler) if _may_have_tiers(kind) else ()),
    ]


def kind_of(item: Item) -> Kind | None:
    """Return what an item's kind implies, or None where it is no kind."""
    return KINDS.get(word(item.kind) or "")


def _may_have_tiers(kind: Kind | None) -> bool:
    """Return whether tiers mean something; where not, there is one line for that."""
    return kind is None or kind.batteries


def _shape(item: Item) -> list[Found]:
    if item.said("points"):
        return []
    run = next((key for key in RUN_KEYS if item.said(key)), "from")
    shapes = [key for key in ("size", run, "mesh") if item.said(key)]
    if not shapes:
        if _meant(item, ("size", *RUN_KEYS, "mesh", "points")):
            return []
        return [((), f"found no shape, right is one of {_SHAPES}")]
    if len(shapes) == 1 or shapes == ["size", "mesh"]:
        return []
    both = listed(shapes, "and")
    return [((KeyStep(shapes[1]),), f"found {both}, right is one shape: {_SHAPES}")]


def _run(item: Item, setting: Setting) -> list[Found]:
    if not _is_run(item):
        return []
    mistakes: list[Found] = [
        ((end,), "found nothing, right is the other end of the run")
        for end in ("from", "to")
        if not item.said(end) and not _meant(item, (end,))
    ]
    profiles = [key for key in ("diameter", "section") if item.said(key)]
    if len(profiles) > 1:
        message = "found diameter and section, right is one of them"
        mistakes.append(((KeyStep("section"),), message))
    if not profiles and not _meant(item, ("diameter", "section")):
        message = "found nothing, right is a diameter, or a section of width and height"
        mistakes.append((("diameter",), message))
    start, end = (setting.ruler.point(place, 3) for place in (item.from_, item.to))
    if start and end and math.dist(start, end) <= SLACK:
        message = f"found {shown(item.to)}, where it starts, right is another point"
        mistakes.append((("to",), message))
    return mistakes


def _is_run(item: Item) -> bool:
    if item.model_fields_set.isdisjoint(_RUN_FIELDS):
        return False
    # What has two shapes has one line for that, and no more for the parts of each.
    is_other = any(item.said(key) for key in ("size", "mesh", "points"))
    return not is_other and any(item.said(key) for key in RUN_KEYS)


def _mesh(item: Item, setting: Setting) -> list[Found]:
    mistakes: list[Found] = []
    if item.model_fields_set.isdisjoint(("mesh", *_MESH_ONLY)):
        return mistakes
    if not item.said("mesh"):
        mistakes += [
            (
                (KeyStep(key),),
                f"found {key} without a mesh, right is {key} beside a mesh",
            )
            for key in (("part",) if item.said("points") else _MESH_ONLY)
            if item.said(key)
            and getattr(item, key) != _NO_SCALE
            and not _meant(item, ("mesh",))
        ]
    else:
        for other in ("place", "size"):
            if item.said("shift") and item.said(other):
                message = f"found shift beside a {other}, right is one of them"
                mistakes.append(((KeyStep("shift"),), message))
                break
        if item.said("part") and not (word(item.mesh) or ".glb").lower().endswith(
            ".glb"
        ):
            message = "found a part of a file that has none, right is a .glb file"
            mistakes.append(((KeyStep("part"),), message))
        is_step = (word(item.mesh) or "").lower().endswith(STEP_ENDINGS)
        if is_step and item.said("units"):
            message = "found units beside a STEP file, right is none: it says its own"
            mistakes.append(((KeyStep("units"),), message))
    return mistakes + mesh_mistakes(item, setting.folder)


def _placed(item: Item) -> list[Found]:
    if _is_run(item) and item.said("place"):
        message = "found a place on a run, right is from and to alone"
        return [((KeyStep("place"),), message)]
    return []


def _reasons(item: Item) -> list[Found]:
    if item.said("why") or _meant(item, ("why",)):
        return []
    keys = ["condition"] if item.said("condition") else []
    if item.working_space == "none":
        keys.append("working_space")
    right = "without a reason, right is a why beside it"
    return [((key,), f"found {found(getattr(item, key))} {right}") for key in keys]


def _suits(item: Item, kind: Kind) -> list[Found]:
    name = kind.name
    mistakes: list[Found] = []
    other = frontless(item)
    if kind.needs_working_space and other and other != "points":
        message = f"found {other} with kind {name}, right is size, which has a front"
        mistakes.append(((KeyStep(other),), message))
    if item.uncertain is True and (kind.needs_working_space or other == "points"):
        what = "points" if other == "points" else f"kind {name}"
        right = "right is a thing with a shape at which nobody works"
        mistakes.append(
            ((KeyStep("uncertain"),), f"found uncertain with {what}, {right}")
        )
    wants = "a kind that needs a working space"
    is_gear = kind.needs_working_space or _asks_for_space(item)
    if not is_gear:
        mistakes += _only(item, _GEAR_ONLY, name, wants)
    if not (is_gear or kind.associated or item.associated is True):
        # What is drawn without a front has one line for its handle and doors already.
        told = _AT_A_FRONT if other else ()
        keys = tuple(key for key in _ELECTRICAL_ONLY if key not in told)
        mistakes += _only(item, keys, name, "a kind of electrical equipment")
    for column, keys in _OF_SOME_KINDS.items():
        if not getattr(kind, column):
            mistakes += _only(item, keys, name, _kinds_with(column))
    return mistakes


@cache
def _kinds_with(column: str) -> str:
    """Name the kinds that have something in a column."""
    return listed([row.name for row in KINDS.values() if getattr(row, column)])


def _asks_for_space(item: Item) -> bool:
    space = item.working_space
    return isinstance(space, AskedSpace) and bool(space.model_fields_set)


def _only(item: Item, keys: tuple[str, ...], kind: str, right: str) -> list[Found]:
    if item.model_fields_set.isdisjoint(keys):
        return []
    return [
        ((KeyStep(key),), f"found {key} with kind {kind}, right is {key} with {right}")
        for key in keys
        if item.said(key)
    ]


def _meant(item: Item, keys: tuple[str, ...]) -> bool:
    """Return whether a key that is not known was meant for one of ``keys``.

    The unknown key is a mistake already; what it was meant for is not missing too.
    """
    unknown = item.model_fields_set - _ITEM_FIELDS
    if not unknown:
        return False
    return any(
        (within_item(key) or ("",))[0] in keys or meant_key(key, _ITEM_KEYS) in keys
        for key in unknown
    )
