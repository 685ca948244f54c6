"""The stage of the panel room, and what is looked for in it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tests.viewer.panel_room import stage

if TYPE_CHECKING:
    from viewer.stage import Shape, Stage

STAGE = stage()


def by_role(role: str, made: Stage = STAGE) -> list[Shape]:
    return [shape for shape in made.shapes if shape.role == role]


def of_rule(subject: str, requirement: str, role: str) -> Shape:
    """Return the shape of a role that belongs to one row."""
    (row,) = (
        f
        for f in STAGE.judgements
        if (f.subject, f.requirement) == (subject, requirement)
    )
    shapes = (STAGE.shape(name) for name in row.shapes)
    (found,) = (shape for shape in shapes if shape.role == role)
    return found
