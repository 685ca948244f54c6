"""What is picked, shown, cut, moved and told in the window: all of it, as data.

Nothing here draws. Whatever the mouse or the keyboard asks for is an action; ``do``
does it, and notes where the camera should go.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np

from viewer.stage.cameras import DIRECTIONS
from viewer.window.aiming import AimStart, AimView, at_all, at_item, at_room
from viewer.window.lesson import Place, moved_on, name_of, stage_at, step_at
from viewer.window.moving import MOST, NOWHERE, CheckError, Moving
from viewer.window.section import AXES, Axis, Section
from viewer.window.shown import Past

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from model3d.following.claims import Following
    from model3d.scene.scene import Scene
    from viewer.stage.parts import ListedJudgement, Point, Points, Stage
    from viewer.window.aiming import Aim
    from viewer.window.moving import Shown, Steps

Name = Literal[
    "pick",  # a row of the list, by its number
    "item",  # an item, by its id
    "nothing",  # what is picked is let go
    "next",  # the row after the one that is picked, or before it
    "layer",  # a layer is shown or hidden
    "view",  # a view by its name
    "whole",  # the whole room, from where the camera is
    "box",  # a box over the picture is opened or closed
    "fold",  # what is met is listed or not
    "axis",  # a section is made, or taken away
    "cut",  # the section is moved, to a share of the room
    "form",  # the sliders of the picked item
    "slide",  # the picked item is moved, to a share of the slider
    "nudge",  # the picked item is moved, by steps
    "back",  # everything is put where it was
    "step",  # the lesson goes on, or back
    "rest",  # nothing: it keeps what lies under it from being pressed
]


@dataclass(frozen=True, slots=True)
class Action:
    """Something that is asked for.

    Attributes:
        name: What.
        value: Of which thing, by its name.
        number: How far, or which.
    """

    name: Name
    value: str = ""
    number: float = 0.0


class WindowState:
    """Everything the window knows; what it shows follows from this alone."""

    def __init__(
        self,
        scenes: Sequence[Scene],
        following: Following,
        stage: Stage | None = None,
    ) -> None:
        """Take a room, or a lesson.

        Args:
            scenes: The scene as it was written, then as each step of its lesson has it.
            following: The first of them, checked.
            stage: With the lesson in it; None where there is no lesson.
        """
        self._scenes = scenes
        self._following = following
        self.moving = Moving(scenes[0], following)
        self.start: Stage = stage or self.moving.stage()
        self.stage = self.start
        self.hidden = {layer.id for layer in self.stage.layers if not layer.shown}
        self.finding: int | None = None
        self.item: str | None = None
        self.section: Section | None = None
        self.box = ""
        self.met_listed = all(one.verdict == "met" for one in self.stage.judgements)
        self.form = False
        self.place = Place()
        self.past = Past()
        self.waiting: frozenset[int] = frozenset()
        self.message = ""
        self.aim: Aim | AimStart | AimView | None = AimStart(self.stage)
        """Where the camera should go; whoever moves it takes it away."""

    @property
    def picked(self) -> ListedJudgement | None:
        """The row that is picked."""
        return None if self.finding is None else self.stage.judgements[self.finding]

    @property
    def is_withheld(self) -> bool:
        """Whether a question of the lesson is open, so that no result is shown."""
        return not self.place.answered

    def rows(self, verdict: str) -> list[tuple[int, ListedJudgement]]:
        """Return the rows of a verdict, each with its place in the list."""
        if self.is_withheld:
            return []
        rows = enumerate(self.stage.judgements)
        return [(n, one) for n, one in rows if one.verdict == verdict]

    def do(self, action: Action) -> None:
        """Do what is asked for; what cannot be done leaves all as it is."""
        self.message = ""
        does: Callable[[Action], None] = getattr(self, f"_do_{action.name}")
        does(action)

    def work(self) -> bool:
        """Go on with the check of a room that changes; tell whether anything is new."""
        try:
            shown = self.moving.work()
        except CheckError as error:
            self.message = str(error)
            return True
        if shown is None:
            return False
        self._take(shown)
        return True

    def share(self, way: int) -> float:
        """Return where the slider of a way stands, 0 to 1."""
        steps = NOWHERE if self.item is None else self.moving.steps(self.item)
        return (steps[way] + MOST) / (2 * MOST)

    @property
    def cut_share(self) -> float:
        """Where the slider of the section stands, 0 to 1."""
        if self.section is None:
            return 0.0
        low, high = self._span(self.section.axis)
        return (self.section.at - low) / (high - low)

    def is_cut_away(self, points: Points, eye: Point) -> np.ndarray:
        """Tell which points the section takes away, shape (n,)."""
        if self.section is None:
            return np.zeros(len(points), dtype=bool)
        return ~self.section.keeps(points, self.section.normal(eye))

    def _do_pick(self, action: Action) -> None:
        number = int(action.number)
        if number == self.finding or not 0 <= number < len(self.stage.judgements):
            self._do_nothing(action)
            return
        self.finding = number
        finding = self.stage.judgements[number]
        self.item = action.value or finding.subject
        self._keep_form()
        self.aim = AimView(finding.look)

    def _do_item(self, action: Action) -> None:
        findings = list(enumerate(self.stage.judgements))
        own = [n for n, one in findings if one.subject == action.value]
        bad = [n for n in own if self.stage.judgements[n].verdict != "met"]
        other = [n for n, one in findings if action.value in one.in_the_way]
        best = (bad or other or own)[:1]
        if best and not self.is_withheld:
            if best[0] != self.finding or action.value != self.item:
                self.finding = None
                self._do_pick(Action("pick", action.value, best[0]))
            return
        self.finding, self.item = None, action.value
        self._keep_form()
        self.aim = at_item(self.stage, action.value)

    def _do_nothing(self, _: Action) -> None:
        self.finding = self.item = None
        self.box, self.form = "", False

    def _do_rest(self, _: Action) -> None:
        pass

    def _do_next(self, action: Action) -> None:
        shown = [n for n, _ in (*self.rows("not-met"), *self.rows("open"))]
        if self.met_listed:
            shown += [n for n, _ in self.rows("met")]
        if not shown:
            return
        at = shown.index(self.finding) if self.finding in shown else None
        by = int(action.number)
        first = 0 if by > 0 else len(shown) - 1
        number = shown[first if at is None else (at + by) % len(shown)]
        if number != self.finding:
            self._do_pick(Action("pick", number=number))

    def _do_layer(self, action: Action) -> None:
        self.hidden ^= {action.value}

    def _do_view(self, action: Action) -> None:
        if action.value in DIRECTIONS:
            self.aim = at_room(self.stage, action.value)

    def _do_whole(self, _: Action) -> None:
        self.aim = at_all(self.stage)

    def _do_box(self, action: Action) -> None:
        self.box = "" if self.box == action.value else action.value

    def _do_fold(self, _: Action) -> None:
        self.met_listed = not self.met_listed

    def _do_axis(self, action: Action) -> None:
        same = self.section is not None and self.section.axis == action.value
        if same or action.value not in AXES:
            self.section = None
            return
        low, high = self._span(action.value)
        self.section = Section(action.value, (low + high) / 2)

    def _do_cut(self, action: Action) -> None:
        if self.section is not None:
            low, high = self._span(self.section.axis)
            at = low + (high - low) * min(max(action.number, 0.0), 1.0)
            self.section = Section(self.section.axis, at)

    def _do_form(self, _: Action) -> None:
        self.form = not self.form and self.can_move

    @property
    def can_move(self) -> bool:
        """Whether the picked item can be moved."""
        item = self.item
        return item is not None and not self.is_withheld and self.moving.can_move(item)

    def _do_slide(self, action: Action) -> None:
        share = min(max(action.number, 0.0), 1.0)
        self._move(int(action.value), round((2 * share - 1) * MOST))

    def _do_nudge(self, action: Action) -> None:
        if self.item is not None:
            way = int(action.value)
            steps = self.moving.steps(self.item)[way] + int(action.number)
            self._move(way, steps)

    def _do_back(self, _: Action) -> None:
        self.moving = Moving(self._scenes[self.place.step], self._checked())
        self.waiting = frozenset()
        self._show(stage_at(self.start, self.place))

    def _do_step(self, action: Action) -> None:
        place = moved_on(self.start, self.place, int(action.number))
        if place == self.place:
            return
        self.place = place
        self.form, self.waiting = False, frozenset()
        self.moving = Moving(self._scenes[place.step], self._checked())
        self._show(stage_at(self.start, place))
        step = step_at(self.start, place)
        if step is not None and step.look is not None:
            self.aim = AimView(step.look)

    def _checked(self) -> Following | None:
        return self._following if self.place.step == 0 else None

    def _move(self, way: int, steps: int) -> None:
        item = self.item
        if item is None or not self.can_move:
            return
        now = self.moving.steps(item)
        wanted = [*now]
        wanted[way] = steps
        goal: Steps = (wanted[0], wanted[1], wanted[2])
        if goal == now:
            return
        self._take(self.moving.move(item, goal))

    def _take(self, shown: Shown) -> None:
        self._show(shown.stage)
        self.waiting = shown.waiting

    def _show(self, stage: Stage) -> None:
        """Show another stage; what is picked stays so where it is still there."""
        before = self.picked
        self.stage = stage
        if before is not None:
            names = [name_of(one) for one in stage.judgements]
            name = name_of(before)
            self.finding = names.index(name) if name in names else None
        if self.is_withheld:
            self.finding = None
        if self.item is not None and at_item(stage, self.item) is None:
            self.item = self.finding = None

    def _keep_form(self) -> None:
        self.form = self.form and self.can_move

    def _span(self, axis: Axis) -> tuple[float, float]:
        number = AXES.index(axis)
        return self.stage.low[number], self.stage.high[number]
