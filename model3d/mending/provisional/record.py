"""One document of a room: bodies, spaces, leaves, and what may be in what."""

from __future__ import annotations

from itertools import chain
from typing import TYPE_CHECKING, Any, Final

from model3d.check import situate
from model3d.geometry.tolerance import TOUCH
from model3d.mending.map.posed import looks
from model3d.mending.provisional.bodies import is_upright, stack
from model3d.mending.provisional.leaves import bands, leaves
from model3d.mending.provisional.prisms import prisms
from model3d.mending.provisional.reads import reads
from model3d.mending.provisional.sorts import Sorts
from model3d.mending.provisional.tenths import all_tenths, axes, tenths
from model3d.scene.parts.placement import support_of
from model3d.working.drawn.contradiction import slack
from model3d.working.drawn.passages import may_share
from model3d.working.drawn.runs import is_run

if TYPE_CHECKING:
    from model3d.judging.situation import Situation
    from model3d.scene.scene import Scene
    from model3d.standing.placed import Placed

Record = dict[str, Any]


def whole_record(scene: Scene) -> Record:
    """Return a room as data for a judge that knows no rules.

    Args:
        scene: The room.

    Returns:
        Plain data; lengths in tenths of a millimetre, solids by their place in ``ids``.
        ``bodies`` tells of all solids, ``outline`` and ``ceiling`` of the room,
        ``spaces`` and ``leaves`` what must be clear,
        ``shares`` which kinds may be in one another, ``groups`` what moves together,
        ``reads`` what all other judgements looked at.

    Raises:
        BookError: The scene's rule book cannot be used.
        MeshError: A mesh file of the scene cannot be used.
    """
    situation = situate(scene)
    asked = situation.by("either") if situation.accepted == "either" else situation
    sorts = Sorts(asked)
    items = asked.items
    places = {one.id: n for n, one in enumerate(items)}
    spaces, heights = [], set()
    for one in items:
        for prism in () if one.of_room else prisms(one, asked, sorts):
            spaces.append({"owner": places[one.id], **prism.record})
            heights |= {height for band in prism.bands for height in band}
        heights |= {height for band in bands(one, asked) for height in band}
    hung = [
        {"owner": n, **leaf}
        for n, one in enumerate(items)
        if one.live
        for leaf in leaves(one, asked)
    ]
    shell = situation.arrangement.shell
    told = {tuple(one["key"]) for one in (*spaces, *hung)}
    return {
        **bodies_record(situation, heights),
        "sorts": sorts.numbers(),
        "outline": all_tenths(chain.from_iterable(shell.outline)),
        "ceiling": None if shell.height is None else tenths(shell.height),
        "spaces": spaces,
        "leaves": hung,
        "reads": reads(situation, told),
        "looks": {
            n: [_look(front) for front in looks(one)]
            for n, one in enumerate(items)
            if one.live
        },
    }


def bodies_of(scene: Scene) -> Record:
    """Return the bodies of a room alone: what is near what, and what carries it."""
    return bodies_record(situate(scene), set())


def bodies_record(situation: Situation, heights: set[float]) -> Record:
    """Return the part of the document that tells of the solids.

    Args:
        situation: The scene.
        heights: At which a body that is no upright prism is cut, metres.
    """
    items = situation.items
    places = {one.id: n for n, one in enumerate(items)}
    return {
        "ids": [one.id for one in items],
        "flags": [_flags(one) for one in items],
        "bodies": [stack(one.solid, heights) for one in items],
        "fronts": {
            n: [
                *axes(one.front.frame),
                *all_tenths(
                    (one.front.width, one.front.depth, one.front.bottom, one.front.top)
                ),
            ]
            for n, one in enumerate(items)
            if one.front is not None
        },
        "groups": _groups(situation, places),
        "shares": _shares(situation),
        "slack": tenths(slack(situation)),
        "touch": tenths(TOUCH),
    }


_FLAGS: Final = {
    "closes": 1,
    "underfoot": 2,
    "hole": 4,
    "meter": 8,
    "upright": 16,
    "of_room": 32,
    "changes_more": 64,
    "protected": 128,
    "built": 256,
    "structure": 512,
    "uncertain": 1024,
}
"""What is told of a solid by one bit each; ``flags`` of the script reads the same."""


def _flags(one: Placed) -> int:
    kind = one.kind
    said = {
        "closes": kind.structure or kind.needs_working_space or kind.associated,
        "underfoot": kind.underfoot,
        "hole": kind.hole,
        "meter": kind.meter,
        "upright": is_upright(one.solid),
        "of_room": one.of_room,
        "changes_more": kind.hole or kind.pad or kind.leak_guard,
        "protected": one.item is not None and one.item.protected is True,
        "built": _may_be_let_in(one),
        "structure": kind.structure,
        "uncertain": one.uncertain,
    }
    return sum(_FLAGS[name] for name, is_so in said.items() if is_so)


def _may_be_let_in(one: Placed) -> bool:
    """Tell whether a thing may be in a wall, floor or ceiling of the room."""
    kind = one.kind
    built = kind.structure or kind.hole or kind.built_in or kind.boxed
    return built or kind.machine or kind.flush or kind.in_ceiling or is_run(one)


def _look(front: Any) -> list[float]:  # noqa: ANN401 - of an item
    x, y, _, _, out_x, out_y = axes(front.frame)
    return [x, y, out_x, out_y]


def _groups(situation: Situation, places: dict[str, int]) -> dict[int, list[int]]:
    """Return what moves with each item that something stands on, over or under."""
    leaning: dict[str, list[str]] = {}
    for item in situation.scene.items:
        below = support_of(item.place)
        if below is not None:
            leaning.setdefault(below[1], []).append(item.id)
    found: dict[int, list[int]] = {}
    for name in leaning:
        group, left = {name}, [name]
        while left:
            more = [one for one in leaning.get(left.pop(), ()) if one not in group]
            group.update(more)
            left += more
        found[places[name]] = sorted(places[one] for one in group)
    return found


_NEVER, _MAY, _UNSURE = 0, 1, 2


def _shares(situation: Situation) -> Record:
    """Return which kinds of solids may be in one another.

    0: never; 1: they may; 2: it depends on where they are.
    """
    first: dict[tuple[str, bool], Placed] = {}
    for one in situation.items:
        first.setdefault((one.kind.name, is_run(one)), one)
    keys = sorted(first)
    rows = [
        "".join(str(_share(first[a], first[b], situation)) for b in keys) for a in keys
    ]
    numbers = {key: n for n, key in enumerate(keys)}
    kinds = [numbers[one.kind.name, is_run(one)] for one in situation.items]
    return {"kinds": kinds, "rows": rows}


def _share(one: Placed, other: Placed, situation: Situation) -> int:
    runs = is_run(one) and is_run(other)
    if runs or any(_depends(a, b) for a, b in ((one, other), (other, one))):
        return _UNSURE
    may = may_share(one, other, situation.scene, slack(situation))
    return _MAY if may else _NEVER


def _depends(one: Placed, into: Placed) -> bool:
    kind = into.kind
    stands = kind.tray or kind.platform or kind.stair
    return stands or (kind.wall and one.kind.flush)
