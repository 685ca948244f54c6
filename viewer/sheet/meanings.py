"""The signs of a picture and what each of them means: the same words in every face."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.wording.said import parts_of
from viewer.stage.bodies.free import FREE
from viewer.stage.layers import INTRUSIONS, SPACES, SPACES_MET, WAYS, WORKING_MET

if TYPE_CHECKING:
    from collections.abc import Iterator

    from viewer.stage.parts import Stage

SIGNS: Final = {
    "free": "may be here",
    "space": "must be clear",
    "clear": "clear, as required",
    "intrusion": "in the way",
    "way": "way out, as wide as it must be",
    "way-end": "no way out: how far one gets",
    "way-or-end": "way out, or how far one gets",
    "not-met": "not met",
    "open": "open, a person must say",
    "picked": "picked",
    "ghost": "faint: above or in front",
    "centred": "centred place",
    "head-height": "",
    "person": "a person, 1.75 m tall",
    "grid": "",
}
"""What each sign means, in the order in which a legend tells it; where there is nothing
the shape that has the sign says it, with its value."""


def meanings(stage: Stage) -> Iterator[tuple[str, str]]:
    """Yield every sign that a picture of a stage has, and what it means."""
    shown = {layer.id for layer in stage.layers if layer.shown}
    layers = {shape.layer for shape in stage.shapes if shape.layer in shown}
    strong = {SPACES, INTRUSIONS} & shown
    roles = {shape.role for shape in stage.shapes if shape.layer in strong}
    drawn = [shape for shape in stage.shapes if shape.layer in shown]
    marks = {parts_of(shape.id)[-1]: shape.about for shape in drawn}
    there = {
        *({"space", "intrusion"} & roles),
        *({"head-height", "person", "grid"} & marks.keys()),
        *(badge.verdict for badge in stage.badges),
    }
    if FREE in layers:
        there.add("free")
    if layers & {WORKING_MET, SPACES_MET}:
        there.add("clear")
    if WAYS in layers:
        there.add(_way_sign(stage))
    if any(shape.ghost for shape in drawn):
        there.add("ghost")
    for sign, words in SIGNS.items():
        if sign in there:
            kind = "way" if sign.startswith("way") else sign
            yield kind, words or marks[sign]


def _way_sign(stage: Stage) -> str:
    """Return what the ribbons on the floor are."""
    ribbons = [one for one in stage.shapes if one.layer == WAYS and len(one.faces)]
    ends = sum(one.layer == WAYS and not len(one.faces) for one in stage.shapes)
    if not ends:
        return "way"
    return "way-end" if ends == len(ribbons) else "way-or-end"
