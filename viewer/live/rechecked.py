"""A room that is judged again while things move in it.

At once only what a move bears on most is judged again; the rest follows while nothing
moves; and when it rests the whole room is checked anew, its ways out too.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from model3d.following.claims import Following
from model3d.units import from_metres, to_metres
from viewer.page.places import middle, shown
from viewer.stage import build_stage
from viewer.stage.kept import Kept
from viewer.stage.listed import ordered

if TYPE_CHECKING:
    from collections.abc import Sequence

    from model3d import Report, Scene
    from model3d.following.claims import Followed
    from model3d.standing.arrangement import Arrangement
    from model3d.standing.placed import Placed
    from viewer.page.places import Whereabouts
    from viewer.stage import Stage

AT_ONCE: Final = 0.012
"""Seconds a move may take to be judged before it is answered."""
A_WHILE: Final = 0.03
"""Seconds the rest is judged in one go: so long the next move may have to wait."""


@dataclass(frozen=True, slots=True)
class Known:
    """A room as it is known at one moment.

    Attributes:
        stage: What is drawn of it.
        waiting: Rows still to be judged again, by their place in the list.
    """

    stage: Stage
    waiting: tuple[int, ...]


class LiveCheck:
    """One room and what is known of it; use it from one thread at a time."""

    def __init__(self, scene: Scene) -> None:
        """Check a scene.

        Raises:
            BookError: Its rule book cannot be used.
            MeshError: A mesh file of it cannot be used.
        """
        self._following = Following(scene)
        self._arrangement = self._following.followed.report.arrangement
        self._kept = Kept()
        self._places: dict[str, tuple[Placed, Whereabouts]] = {}
        self._told: tuple[Scene, Arrangement | None, dict[str, Whereabouts]] | None
        self._told = None
        self._is_whole = True

    @property
    def scene(self) -> Scene:
        """The scene as it stands now."""
        return self._following.scene

    @property
    def places(self) -> dict[str, Whereabouts]:
        """Where the items stand, in the scene's units, rounded as they are shown."""
        scene, arrangement = self.scene, self._arrangement
        if self._told is not None:
            was, then, told = self._told
            # Asked before a move and after it: each time of what stands as it stood.
            if was is scene and then is arrangement:
                return dict(told)
        units = scene.units
        found: dict[str, tuple[Placed, Whereabouts]] = {}
        for one in scene.standing().items:
            placed = self._placed(one.id)
            known = self._places.get(one.id)
            # Most stand where they stood.
            if known is None or known[0] is not placed:
                known = placed, shown(middle(placed), units)
            found[one.id] = known
        self._places = found
        told = {name: place for name, (_, place) in found.items()}
        self._told = scene, arrangement, told
        return dict(told)

    def distance(self, item: str, place: Sequence[float]) -> list[float]:
        """Return how far a place is from an item; none where it is the one shown."""
        unit = self.scene.units
        rows = zip(place, self._place(item), self._at(item), strict=True)
        return [
            0.0 if to == shown else from_metres(to_metres(to, unit) - here, unit)
            for to, shown, here in rows
        ]

    @property
    def report(self) -> Report:
        """What is known, as a check answers it."""
        return self._following.followed.report

    @property
    def is_done(self) -> bool:
        """Whether all is known."""
        return self._is_whole

    @property
    def has_more(self) -> bool:
        """Whether ``more`` has something to do."""
        return self._following.hurried

    def seen(self) -> Known:
        """Return what is known now."""
        return self._seen(self._following.followed)

    def move(self, scene: Scene) -> Known:
        """Judge a scene in which items stand elsewhere, as far as there is time.

        Args:
            scene: The scene with the same items; one that was not moved is the very
                same.
        """
        self._following.move(scene)
        self._is_whole = False
        return self._seen(self._following.judge(AT_ONCE))

    def more(self) -> Known:
        """Go on for a while."""
        return self._seen(self._following.judge(A_WHILE))

    def give_up(self) -> None:
        """Leave what waits as it is: the whole room cannot be checked now."""
        self._is_whole = True

    def _place(self, item: str) -> Whereabouts:
        return shown(self._at(item), self.scene.units)

    def _at(self, item: str) -> Whereabouts:
        return middle(self._placed(item))

    def _placed(self, item: str) -> Placed:
        assert self._arrangement is not None  # noqa: S101 - a check always gives one
        return self._arrangement.items[item]

    def _seen(self, followed: Followed) -> Known:
        report = followed.report
        self._arrangement = report.arrangement
        late = {id(report.judgements[number]) for number in followed.waiting}
        rows = (n for n, one in enumerate(ordered(report)) if id(one) in late)
        stage = build_stage(self.scene, report, kept=self._kept)
        return Known(stage, tuple(rows))
