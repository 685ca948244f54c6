"""The stage: everything a face draws, as plain data. No window, no graphics.

What it is made of is in drawn and rows; all points are world points in metres.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from viewer.stage.drawn import Badge, Dimension, Label, Layer, Point, Shape, View
    from viewer.stage.rows import ListedJudgement


@dataclass(frozen=True, slots=True)
class ShownChoice:
    """One of the answers that a class chooses from.

    Attributes:
        text: The answer.
        right: Whether it is right.
        why: Why it is right, or wrong.
    """

    text: str
    right: bool
    why: str


@dataclass(frozen=True, slots=True)
class Task:
    """What a step of a lesson asks of the class beside its question, and who leads it.

    Attributes:
        choices: Answers to choose from.
        find: Ids of what is to be found and named.
        things: Ids and names of all that may be named; only where something is to be
            found.
        drag: Id of the item that is to be moved, or "".
        goals: Ids of the judgements (``viewer.stage.bodies.spaces.key``) that are to be
            met then: not met before the step, met after it.
        notes: What only the trainer reads, or "".
        minutes: How long the step takes in class; None where that is not said.
    """

    choices: tuple[ShownChoice, ...] = ()
    find: tuple[str, ...] = ()
    things: tuple[tuple[str, str], ...] = ()
    drag: str = ""
    goals: tuple[str, ...] = ()
    notes: str = ""
    minutes: float | None = None


@dataclass(frozen=True, slots=True)
class StageStep:
    """One step of a lesson.

    Attributes:
        say: What is said, or "".
        ask: A question that is shown before the stage changes, or "".
        stage: The stage after the step.
        look: Where the camera goes; None leaves it where it is.
        item: What is looked at, a door too, if it is there; of this step or one before.
        near: How far about it is in the picture, metres; None for all of its spaces.
        layers: Ids of the layers that are shown in this step, and no others; empty
            where the step does not say.
        task: What is asked of the class.
        sizes: The dimensions that are drawn: the author's own first, then those of the
            stage that tell what the step is about.
        faint: Shapes of the stage before, as they are drawn while the question is open:
            from where the step looks they stand before what is asked about.
    """

    say: str
    ask: str
    stage: Stage
    look: View | None = None
    item: str | None = None
    task: Task = Task()
    sizes: tuple[Dimension, ...] = ()
    near: float | None = None
    layers: tuple[str, ...] = ()
    faint: tuple[Shape, ...] = ()


@dataclass(frozen=True, slots=True)
class Stage:
    """Everything that is drawn of one scene and its report.

    Attributes:
        title: Of the scene.
        rules: Id of the rule book.
        units: Of the scene: mm, m, in or ft.
        layers: In the order of a list for people.
        shapes, badges, labels, dimensions: What is drawn.
        judgements: Every judgement: not met, open, met; in the report's order within.
        low, high: Bounds of the room and all that is in it, metres.
        outline: Plan corners of the room, counter-clockwise; empty without a room.
        height: Floor to ceiling; None where there is no ceiling.
        views: By compass direction the viewer stands in, and from above.
        caution: What a reader must know of the result.
        unread: What was not read in any source and must be verified, or "".
        lesson: Title of the lesson, or "".
        steps: Of the lesson.
    """

    title: str
    rules: str
    units: str
    layers: tuple[Layer, ...]
    shapes: tuple[Shape, ...]
    badges: tuple[Badge, ...]
    labels: tuple[Label, ...]
    dimensions: tuple[Dimension, ...]
    judgements: tuple[ListedJudgement, ...]
    low: Point
    high: Point
    outline: tuple[tuple[float, float], ...]
    height: float | None
    views: tuple[View, ...]
    caution: str
    unread: str
    lesson: str = ""
    steps: tuple[StageStep, ...] = field(default=())

    def shape(self, shape_id: str) -> Shape:
        """Return a shape by its id.

        Raises:
            KeyError: The stage has no shape of that id.
        """
        for shape in self.shapes:
            if shape.id == shape_id:
                return shape
        raise KeyError(shape_id)
