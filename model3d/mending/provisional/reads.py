"""What each judgement looked at, so that one knows which a move leaves as they are."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np

from model3d.following.watch import Note, watched
from model3d.judging.requirement import requirement_of
from model3d.judging.systems import answers
from model3d.mending.map.probe import key_of
from model3d.mending.provisional.tenths import all_tenths
from model3d.rules import all_rules, question

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

    from model3d.judging.situation import Situation
    from model3d.mending.map.probe import Key
    from model3d.rules import Rule
    from model3d.standing.placed import Placed


def reads(situation: Situation, told: Collection[Key]) -> list[dict[str, Any]]:
    """Return what the judgements looked at of which nothing else is told.

    Each has its ``keys``, the ``items`` whose place was looked at, the ``boxes`` where
    it asked for whatever is there, and ``ways``: whether it asked for the ways out.

    Args:
        situation: The scene.
        told: What is judged by spaces and leaves alone.
    """
    there = watched(replace(situation))
    places = {one.id: n for n, one in enumerate(situation.items)}
    pairs = {key[:2] for key in told if key[3] is None}
    found = []
    for rule, item in _asked(there):
        if item is not None and (requirement_of(rule.__name__), item.id) in pairs:
            continue
        there.watch.note = note = Note()
        keys = [key_of(one) for one in answers(question(rule, item), there)]
        left = [list(key) for key in keys if key not in told]
        if left:
            boxes = np.array(note.boxes).reshape(-1, 6)
            found.append(
                {
                    "keys": left,
                    "items": sorted(places[name] for name in note.items),
                    "boxes": [all_tenths(box) for box in np.unique(boxes, axis=0)],
                    "ways": int(note.ways),
                }
            )
    return found


def _asked(situation: Situation) -> Iterator[tuple[Rule, Placed | None]]:
    for rule in all_rules():
        if hasattr(rule, "claims"):
            yield from ((rule, item) for item in situation.items)
        if hasattr(rule, "room_claims"):
            yield rule, None
