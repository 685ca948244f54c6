"""The signs of a picture and what each of them means."""

from __future__ import annotations

from typing import TYPE_CHECKING

from viewer.stage.bodies.free import FREE
from viewer.stage.layers import INTRUSIONS, SPACES, SPACES_MET, WAYS, WORKING_MET

if TYPE_CHECKING:
    from collections.abc import Iterator

    from viewer.stage.parts import Stage


def meanings(stage: Stage) -> Iterator[tuple[str, str]]:
    """Yield every sign that a picture of a stage has, and what it means."""
    shown = {layer.id for layer in stage.layers if layer.shown}
    layers = {shape.layer for shape in stage.shapes if shape.layer in shown}
    strong = {SPACES, INTRUSIONS} & shown
    roles = {shape.role for shape in stage.shapes if shape.layer in strong}
    verdicts = {badge.verdict for badge in stage.badges}
    drawn = [shape for shape in stage.shapes if shape.layer in shown]
    marks = {shape.id.rpartition("/")[2]: shape.about for shape in drawn}
    known = (
        ("free", "may be here", FREE in layers),
        ("space", "must be clear", "space" in roles),
        ("clear", "clear, as required", bool(layers & {WORKING_MET, SPACES_MET})),
        ("intrusion", "in the way", "intrusion" in roles),
        ("way", _way_words(stage), WAYS in layers),
        ("not-met", "not met", "not-met" in verdicts),
        ("open", "open, a person must say", "open" in verdicts),
        ("ghost", "faint: overhead", any(shape.ghost for shape in drawn)),
        ("head-height", marks.get("head-height", ""), "head-height" in marks),
        ("person", "a person, 1.75 m tall", "person" in marks),
        ("grid", marks.get("grid", ""), "grid" in marks),
    )
    yield from ((kind, words) for kind, words, there in known if there)


def _way_words(stage: Stage) -> str:
    """Return what the ribbons on the floor are."""
    ribbons = [one for one in stage.shapes if one.layer == WAYS and len(one.faces)]
    ends = sum(one.layer == WAYS and not len(one.faces) for one in stage.shapes)
    if not ends:
        return "way out, as wide as it must be"
    only = ends == len(ribbons)
    return "no way out: how far one gets" if only else "way out, or how far one gets"
