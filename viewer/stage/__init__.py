"""Scene and report as things to draw: plain data, without any graphics."""

from viewer.stage.assembly import build_stage
from viewer.stage.bodies.hung import opened
from viewer.stage.document import difference, document, plain
from viewer.stage.drawn import Badge, Dimension, Label, Layer, Pivot, Shape, View
from viewer.stage.parts import Stage, StageStep
from viewer.stage.rows import ListedJudgement, Size

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
