"""Items that are moved in the window, and the room checked again while they move.

While something moves, only what the move bears on is judged again, in the time between
two pictures. When it rests, the whole room is checked beside the window's own work.
"""

from __future__ import annotations

import threading
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final

from model3d.following.claims import Followed, Following
from model3d.scene.lesson import MoveItem
from model3d.standing.changes import apply_change
from model3d.standing.moves import axes_of, moved
from model3d.units import to_metres
from viewer.stage import build_stage
from viewer.stage.kept import Kept
from viewer.stage.listed import ordered

if TYPE_CHECKING:
    from model3d.scene.item import Item
    from model3d.scene.scene import Scene
    from viewer.stage.parts import Stage

STEP: Final = {"mm": 10.0, "m": 0.01, "in": 0.5, "ft": 1 / 24}
"""What an item moves by, in the scene's units."""
MOST: Final = 200
"""Steps an item can be moved each way."""
BUDGET: Final = 0.012
"""Seconds a picture gives to the check."""
_WORLD: Final = ((1.0, 0.0), (0.0, 1.0))
_OWN_WAYS: Final = (("right", "left"), ("out", "back"), ("up", "down"))
_WORLD_WAYS: Final = (("east", "west"), ("north", "south"), ("up", "down"))

Steps = tuple[int, int, int]
"""Right, out and up, in whole steps."""
NOWHERE: Final[Steps] = (0, 0, 0)


class CheckError(Exception):
    """A check that came to no end; the message is for people."""


@dataclass(frozen=True, slots=True)
class Shown:
    """A room in which something was moved.

    Attributes:
        stage: What is drawn of it.
        waiting: Rows that are still of the room before, by their place in the list.
    """

    stage: Stage
    waiting: frozenset[int]


@dataclass(slots=True)
class _Check:
    """A check of a whole scene, on a thread of its own."""

    scene: Scene
    found: list[Following] = field(default_factory=list)
    failed: list[Exception] = field(default_factory=list)
    thread: threading.Thread | None = None

    def start(self) -> None:
        self.thread = threading.Thread(target=self._run, daemon=True)
        self.thread.start()

    def _run(self) -> None:
        try:
            self.found.append(Following(self.scene))
        except Exception as error:  # noqa: BLE001 - it is told where it is waited for
            self.failed.append(error)

    @property
    def is_done(self) -> bool:
        return self.thread is not None and not self.thread.is_alive()


class Moving:
    """One room and what has been moved in it."""

    def __init__(self, scene: Scene, following: Following | None = None) -> None:
        """Take a room.

        Args:
            scene: The room as it was written.
            following: The same, checked; else it is when something moves.
        """
        self._written = scene
        self._following = following
        self._kept = Kept()
        self._steps: dict[str, Steps] = {}
        self._check: _Check | None = None
        self._rested = True

    @property
    def units(self) -> str:
        """Of the scene."""
        return self._written.units

    @property
    def changed(self) -> bool:
        """Whether anything stands elsewhere than it was written."""
        return bool(self._steps)

    def steps(self, item: str) -> Steps:
        """Return how far an item was moved."""
        return self._steps.get(item, NOWHERE)

    def can_move(self, item: str) -> bool:
        """Tell whether an item is one of the scene, and no part of the room."""
        return any(one.id == item for one in self._written.items)

    def ways(self, item: str) -> tuple[tuple[str, str], ...]:
        """Return what the ways an item moves are called, there and back."""
        written = self._item(item)
        return _WORLD_WAYS if written.place is None else _OWN_WAYS

    def metres(self, steps: int) -> float:
        """Return how far some steps are."""
        return to_metres(steps * STEP[self.units], self.units)

    def stage(self) -> Stage:
        """Return what is drawn of the room as it was written."""
        self._steps.clear()
        self._check = None
        self._rested = True
        following = self._begun()
        if following.scene is not self._written:
            following.move(self._written)
        report = following.followed.report
        return build_stage(self._written, report, kept=self._kept)

    def move(self, item: str, steps: Steps) -> Shown:
        """Move an item to so many steps from where it was written."""
        wanted = {**self._steps, item: _bounded(steps)}
        if not any(wanted[item]):
            del wanted[item]
        scene = self._scene(wanted)
        self._steps = wanted
        following = self._begun()
        following.move(scene)
        self._rested = False
        return self._shown(following.judge(BUDGET))

    def work(self) -> Shown | None:
        """Go on with the check while nothing is asked for; None if nothing is new.

        Raises:
            CheckError: The room cannot be checked, for example because a file of it
                has gone.
        """
        following = self._following
        if following is None:
            return None
        if following.hurried:
            return self._shown(following.judge(BUDGET))
        if self._check is not None and self._check.is_done:
            return self._taken(self._check)
        if not self._rested and self._check is None:
            # Put together as a file is: the quick way looks at the moved item only.
            self._check = _Check(self._whole())
            self._check.start()
        return None

    @property
    def hurried(self) -> bool:
        """Whether ``work`` has something to do at once, without waiting."""
        return self._following is not None and self._following.hurried

    @property
    def busy(self) -> bool:
        """Whether the check has not come to its end."""
        return not self._rested or self.hurried

    def _taken(self, done: _Check) -> Shown | None:
        self._check = None
        if done.failed:
            self._rested = True
            msg = f"the room could not be checked again: {done.failed[0]}"
            raise CheckError(msg) from done.failed[0]
        (found,) = done.found
        following = self._begun()
        if found.scene.items != following.scene.items:
            return None  # something was moved meanwhile: it is checked once more
        # The items of the scene that is followed stay the very same.
        found.move(following.scene)
        while found.hurried:
            found.judge(BUDGET)
        self._following = found
        self._rested = True
        return Shown(self._built(found.followed), frozenset())

    def _begun(self) -> Following:
        if self._following is None:
            self._following = Following(self._written)
        return self._following

    def _scene(self, wanted: dict[str, Steps]) -> Scene:
        """Return the scene with moved items; those that are not stay the very same."""
        scene = self._written
        for name, steps in wanted.items():
            item = self._item(name)
            there = moved(scene, item, self._by(scene, item, steps))
            items = tuple(there if one is item else one for one in scene.items)
            scene = scene.model_copy(update={"items": items})
        return scene

    def _by(self, scene: Scene, item: Item, steps: Steps) -> tuple[float, float, float]:
        """Return a move east, north and up, in the scene's units."""
        (a, b), (c, d) = _WORLD if item.place is None else axes_of(scene, item)
        right, out, up = (one * STEP[self.units] for one in steps)
        return right * a + out * c, right * b + out * d, up

    def _whole(self) -> Scene:
        scene = self._written
        for name, steps in self._steps.items():
            by = self._by(scene, self._item(name), steps)
            scene = apply_change(scene, MoveItem(move=name, by=by))
        return scene

    def _item(self, name: str) -> Item:
        return next(one for one in self._written.items if one.id == name)

    def _shown(self, followed: Followed) -> Shown:
        report = followed.report
        late = {id(report.judgements[n]) for n in followed.waiting}
        rows = (n for n, one in enumerate(ordered(report)) if id(one) in late)
        return Shown(self._built(followed), frozenset(rows))

    def _built(self, followed: Followed) -> Stage:
        return build_stage(self._begun().scene, followed.report, kept=self._kept)


def _bounded(steps: Steps) -> Steps:
    right, out, up = (min(max(one, -MOST), MOST) for one in steps)
    return right, out, up
