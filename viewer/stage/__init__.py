"""Scene and report as things to draw: plain data, without any graphics."""

from viewer.stage.assembly import build_stage
from viewer.stage.document import difference, document, plain
from viewer.stage.hung import opened
from viewer.stage.parts import (
    Badge,
    Dimension,
    Finding,
    Label,
    Layer,
    Pivot,
    Shape,
    Size,
    Stage,
    Step,
    View,
)

__all__ = [
    "Badge",
    "Dimension",
    "Finding",
    "Label",
    "Layer",
    "Pivot",
    "Shape",
    "Size",
    "Stage",
    "Step",
    "View",
    "build_stage",
    "difference",
    "document",
    "opened",
    "plain",
]
