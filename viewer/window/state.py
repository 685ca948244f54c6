"""What is picked, shown, cut and told in the window: all of it, as data.

Nothing here draws. What mouse and keyboard ask for is done by the functions here: they
return what is known afterwards, or the very same where nothing can be done.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Literal

import numpy as np

from viewer.stage.looking.cuts import AXES, Section, along, beside_faces
from viewer.stage.taught.lesson_progress import (
    LessonPlace,
    moved_on,
    name_of,
    stage_at,
    step_at,
)
from viewer.window.aims import at_all, at_item, at_room, at_view

if TYPE_CHECKING:
    from collections.abc import Collection

    from viewer.stage.looking.cuts import Axis
    from viewer.stage.parts import Stage
    from viewer.stage.rows import ListedJudgement
    from viewer.window.aims import Aim

Panel = Literal["judgements", "layers", "keys"]


@dataclass(frozen=True, slots=True, eq=False)
class State:
    """Everything the window knows; what it shows follows from this alone.

    Attributes:
        start: The room as it was written, with the steps of its lesson.
        stage: What is shown of it now.
        aim: Where the camera should have gone last.
        hidden: Layers that are not shown.
        own: What the viewer has hidden, while a step of a lesson says what is shown;
            else None.
        place: How far the lesson has come.
        judgement: The judgement that is picked, by its place in the list.
        item: The thing that is picked.
        section: Where the room is cut open.
        panel: What stands at the side.
        row: The layer that the keys are at.
    """

    start: Stage
    stage: Stage
    aim: Aim
    hidden: frozenset[str]
    place: LessonPlace = field(default_factory=LessonPlace)
    judgement: int | None = None
    item: str | None = None
    section: Section | None = None
    panel: Panel = "judgements"
    row: int = 0
    own: frozenset[str] | None = None

    @property
    def picked(self) -> ListedJudgement | None:
        """The judgement that is picked."""
        return None if self.judgement is None else self.stage.judgements[self.judgement]

    @property
    def is_withheld(self) -> bool:
        """Whether a question of the lesson is open, so that no result is shown."""
        return not self.place.answered

    @property
    def listed(self) -> tuple[ListedJudgement, ...]:
        """All judgements that are told."""
        return () if self.is_withheld else self.stage.judgements


def begun(stage: Stage) -> State:
    """Return what a window on a room, or on a lesson, knows at first."""
    hidden = frozenset(layer.id for layer in stage.layers if not layer.shown)
    return State(stage, stage, at_room(stage), hidden)


def pick(state: State, number: int, item: str | None = None) -> State:
    """Pick a judgement by its place in the list, and an item that it is about."""
    row = state.listed[number]
    item, aim = item or row.subject, at_view(row.look)
    return replace(state, judgement=number, item=item, aim=aim, panel="judgements")


def pick_item(state: State, item: str) -> State:
    """Pick a thing, and the worst that is said of it."""
    rows = list(enumerate(state.listed))
    own = [n for n, one in rows if one.subject == item]
    bad = [n for n in own if state.listed[n].verdict != "met"]
    other = [n for n, one in rows if item in one.in_the_way]
    if best := (bad or other or own)[:1]:
        return pick(state, best[0], item)
    aim = at_item(state.stage, item) or state.aim
    return replace(state, judgement=None, item=item, aim=aim, panel="judgements")


def let_go(state: State) -> State:
    """Pick nothing, and list the judgements."""
    return replace(state, judgement=None, item=None, panel="judgements")


def pick_next(state: State, by: int) -> State:
    """Pick the judgement after the one that is picked, or before it."""
    count = len(state.listed)
    if not count:
        return state
    first = 0 if by > 0 else count - 1
    return pick(
        state, first if state.judgement is None else (state.judgement + by) % count
    )


def look_from(state: State, side: str) -> State:
    """Look at the whole room from a side, or from above."""
    return replace(state, aim=at_room(state.stage, side))


def look_at_all(state: State) -> State:
    """Look at the whole room from where the camera is."""
    return replace(state, aim=at_all(state.stage))


def turn_to(state: State, panel: Panel) -> State:
    """List something at the side, or the judgements again."""
    return replace(state, panel="judgements" if state.panel == panel else panel)


def next_layer(state: State, by: int) -> State:
    """Choose another layer, while they are listed."""
    row = (state.row + by) % len(state.stage.layers)
    return replace(state, row=row) if state.panel == "layers" else state


def toggle_layer(state: State) -> State:
    """Show or hide the layer that is chosen, while they are listed."""
    layer = state.stage.layers[state.row].id
    hidden = state.hidden ^ {layer}
    return replace(state, hidden=hidden) if state.panel == "layers" else state


def cut_open(state: State, axis: Axis) -> State:
    """Cut open what is picked, or else the room, in its middle; or close it again."""
    if state.section is not None and state.section.axis == axis:
        return replace(state, section=None)
    found = [one for one in state.stage.shapes if one.item == state.item]
    ends = [one.vertices[:, AXES.index(axis)] for one in found if one.role == "solid"]
    low, high = _span(state.stage, axis)
    if ends:
        low, high = min(map(np.min, ends)), max(map(np.max, ends))
    return _cut(state, axis, (low + high) / 2)


def push_cut(state: State, by: float) -> State:
    """Move the section by a share of the room, and never out of it."""
    if state.section is None:
        return state
    axis = state.section.axis
    low, high = _span(state.stage, axis)
    return _cut(state, axis, state.section.at + by * (high - low))


def go_on(state: State, by: int) -> State:
    """Go on in the lesson, or back; what is picked stays so where it is still there."""
    place = moved_on(state.start, state.place, by)
    if place == state.place:
        return state
    stage, step = stage_at(state.start, place), step_at(state.start, place)
    aim = at_view(step.look) if step is not None and step.look else state.aim
    now = replace(state, place=place, stage=stage, aim=aim, panel="judgements")
    if place.step != state.place.step:
        now = _layered(now, step.layers if step is not None else ())
    names = {name_of(one): number for number, one in enumerate(now.listed)}
    number = None if state.picked is None else names.get(name_of(state.picked))
    is_there = any(one.item == state.item for one in stage.shapes)
    return replace(now, judgement=number, item=state.item if is_there else None)


def _layered(state: State, names: Collection[str]) -> State:
    """Show the layers of a step; of a step that names none again the viewer's own."""
    own = state.hidden if state.own is None else state.own
    if not names:
        return replace(state, hidden=own, own=None)
    hidden = frozenset(one.id for one in state.stage.layers if one.id not in names)
    return replace(state, hidden=hidden, own=own)


def _cut(state: State, axis: Axis, at: float) -> State:
    low, high = _span(state.stage, axis)
    at = beside_faces(state.stage.shapes, along(axis, 1.0), min(max(at, low), high))
    return replace(state, section=Section(axis, at))


def _span(stage: Stage, axis: Axis) -> tuple[float, float]:
    number = AXES.index(axis)
    return stage.low[number], stage.high[number]
