"""Scene and report as things to draw: plain data, without any graphics."""

from viewer.stage.assembly import build_stage
from viewer.stage.bodies.hung import opened
from viewer.stage.document import difference, document, plain
from viewer.stage.parts import (
    Badge,
    Dimension,
    Label,
    Layer,
    ListedJudgement,
    Pivot,
    Shape,
    Size,
    Stage,
    StageStep,
    View,
)

__all__ = [
    "Badge",
    "Dimension",
    "Label",
    "Layer",
    "ListedJudgement",
    "Pivot",
    "Shape",
    "Size",
    "Stage",
    "StageStep",
    "View",
    "build_stage",
    "difference",
    "document",
    "opened",
    "plain",
]
