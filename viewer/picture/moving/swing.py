"""A door leaf that opens: where its edge is, how it ends, what is shown with it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from viewer.stage.bodies.hung import opened
from viewer.wording.cleaning import clean

if TYPE_CHECKING:
    from collections.abc import Callable

    from viewer.stage import Shape, Stage


def tip(hung: Shape) -> Callable[[float], tuple[float, float, float]]:
    """Return where the upper free corner of a leaf is, by the angle it stands at."""
    assert hung.pivot is not None  # noqa: S101 - the caller has made sure
    from_hinge = np.linalg.norm(hung.vertices[:, :2] - hung.pivot.hinge[:2], axis=1)
    top = hung.vertices[:, 2] >= hung.vertices[:, 2].max() - 1e-6
    corner = int(np.argmax(np.where(top, from_hinge, -1.0)))

    def at(angle: float) -> tuple[float, float, float]:
        x, y, z = opened(hung, angle).vertices[corner]
        return float(x), float(y), float(z)

    return at


def outcome(stage: Stage, hung: Shape, leaf: int) -> str:
    """Say how far a leaf opens, and what stops it, in a sentence."""
    for judgement in stage.judgements:
        if judgement.subject == hung.item and judgement.leaf == leaf:
            return f"{clean(judgement.subject)}: {clean(judgement.reason)}"
    assert hung.pivot is not None  # noqa: S101 - the caller has made sure
    return f"{clean(hung.item)}: the leaf opens to {hung.pivot.reached:g}°"


def only_swing(stage: Stage, leaf: int) -> Stage:
    """Return the stage with the spaces and numbers of one leaf only."""
    kept = {
        index
        for index, judgement in enumerate(stage.judgements)
        if judgement.leaf == leaf
    }
    return replace(
        stage,
        shapes=tuple(
            shape
            for shape in stage.shapes
            if shape.role not in {"space", "footprint", "intrusion"}
            or kept & set(shape.judgements)
        ),
        badges=tuple(badge for badge in stage.badges if badge.judgement in kept),
        dimensions=(),
    )
