"""A situation that notes what a claim looks at, so that one knows what can change it.

What can change when items are moved is where they are: their solid and their front.
All else about an item stays as it is, and to look at it is not noted.
"""

from __future__ import annotations

from dataclasses import dataclass, field, fields, replace
from functools import cached_property
from typing import TYPE_CHECKING, Final, Protocol, cast

import numpy as np

from model3d.egress.ground.ground import Ground
from model3d.egress.ways import Ways
from model3d.geometry.overlap.index import SolidIndex
from model3d.judging.situation import About, Earlier, Found, Situation
from model3d.standing.arrangement import Arrangement
from model3d.standing.placed import Placed

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping

    from numpy.typing import NDArray

    from model3d.geometry.bodies.solid import Solid
    from model3d.geometry.frame import Triple
    from model3d.standing.placed import Front

_SHARED: Final[frozenset[object]] = frozenset({Ground, Ways})
"""What many claims ask, each for what the one before it may have worked out."""


@dataclass(slots=True)
class Note:
    """What one claim looked at.

    Attributes:
        items: Ids of the items whose place it looked at.
        boxes: Where it asked for whatever is there: lowest and highest corner.
        ways: Whether it asked for the ways through the room.
    """

    items: set[str] = field(default_factory=set)
    boxes: list[tuple[float, ...]] = field(default_factory=list)
    ways: bool = False

    def add(self, other: Note) -> None:
        """Note what another claim looked at, whose result is used."""
        self.items |= other.items
        self.boxes += other.boxes
        self.ways = self.ways or other.ways


@dataclass(slots=True)
class Watch:
    """The note that is being written; it is replaced for every claim."""

    note: Note = field(default_factory=Note)


class Asking(Protocol):
    """What was found, and asks a situation something later on."""

    def asked_in(self, situation: Situation) -> object | None:
        """Return the same, asking another situation; None where it cannot be."""


@dataclass(frozen=True)
class Movement:
    """What was moved between two situations.

    Attributes:
        before: The first of them.
        moved: The ids of all that was moved or changed.
        boxes: Where that was, and where it is: corners, shape (n, 2, 3).
    """

    before: Watched
    moved: frozenset[str]
    boxes: NDArray[np.float64]

    def touches(self, note: Note) -> bool:
        """Tell whether a claim looked at what moved, or where that was or is."""
        if not self.moved.isdisjoint(note.items):
            return True
        return meet(np.array(note.boxes).reshape(-1, 2, 3), self.boxes)


def meet(boxes: NDArray[np.float64], others: NDArray[np.float64]) -> bool:
    """Tell whether any of some boxes meets any of the others; shapes as ``meeting``."""
    return len(boxes) > 0 and bool(meeting(boxes, others).any())


def meeting(
    boxes: NDArray[np.float64], others: NDArray[np.float64]
) -> NDArray[np.bool_]:
    """Tell of each of some boxes whether it meets any of the others, shape (n,).

    Args:
        boxes: Lowest and highest corners, shape (n, 2, 3).
        others: The same, shape (m, 2, 3).
    """
    inside = np.ones((len(others), len(boxes)), dtype=bool)
    # Axis by axis, which is several times as fast for the many boxes of a large room.
    for axis in range(3):
        low = np.maximum(others[:, None, 0, axis], boxes[:, 0, axis])
        high = np.minimum(others[:, None, 1, axis], boxes[:, 1, axis])
        inside &= low <= high
    return np.asarray(inside.any(axis=0))


@dataclass(frozen=True)
class Watched(Situation):
    """A situation whose items and indices write notes.

    Attributes:
        plain: The arrangement with its items as they are.
        watch: Where notes are written.
        change: What was moved since another situation; None where that is not known.
        indices: Those of all items and of the live ones, where they are known.
        verdicts_only: Nobody reads what is told beside a verdict.
    """

    plain: Arrangement
    watch: Watch
    change: Movement | None = None
    indices: tuple[SolidIndex, SolidIndex] | None = None
    verdicts_only: bool = False

    @cached_property
    def index(self) -> SolidIndex:
        """All items' bodies."""
        return self.indices[0] if self.indices else self._noting(self.items)

    @cached_property
    def live_index(self) -> SolidIndex:
        """The bodies of the items that need a working space."""
        return self.indices[1] if self.indices else self._noting(self.live)

    def without_uncertain(self) -> Watched:
        """Return it anew, watched, without the items that are uncertain."""
        change = self.change
        if change is not None:
            change = replace(change, before=cast("Watched", change.before.sure))
        return replace(
            self,
            arrangement=self.arrangement.without(self.uncertain),
            plain=self.plain.without(self.uncertain),
            change=change,
            indices=None,
        )

    @cached_property
    def _notes(self) -> dict[tuple[object, ...], Note]:
        return {}

    def remembered(
        self, work: Callable[[*About, Situation], Found], *about: *About
    ) -> Found:
        """Return what work finds; who uses it has looked at all that it rests on."""
        key = (work, *about)
        before = self.watch.note
        if key not in self._notes and not self._carry(key):
            self.watch.note = self._notes[key] = Note(ways=work in _SHARED)
        found = super().remembered(work, *about)
        self.watch.note = before
        before.add(self._notes[key])
        return found

    @property
    def earlier(self) -> Earlier | None:
        """What it was before the change."""
        if self._earlier is None or self.change is None:
            return None
        return Earlier(self._earlier, self.change.boxes)

    def noted(self, key: tuple[object, ...]) -> tuple[Note | None, object]:
        """Return what was found already, and what that looked at; None: nothing was."""
        if key not in self._known:
            return None, None
        return self._notes.get(key), self._known[key]

    def _carry(self, key: tuple[object, ...]) -> bool:
        """Take over what was found before the change, if nothing of it has changed.

        What hangs together with the whole room is not: ways out, and the situation
        itself. What asks a situation something later on must ask this one.
        """
        earlier = self._earlier
        if earlier is None or self.change is None:
            return False
        note, found = earlier.noted(key)
        if note is None or note.ways or isinstance(found, Situation):
            return False
        if self.change.touches(note):
            return False
        if hasattr(found, "asked_in"):  # quicker than to look for a protocol
            asking: Asking = found
            found = asking.asked_in(self)
            if found is None:
                return False
        self._notes[key], self._known[key] = note, found
        return True

    @cached_property
    def _earlier(self) -> Watched | None:
        """The situation before the change, asked by the same figures.

        How far a space is looked at that has no end depends on the size of the place.
        """
        if self.change is None or self.change.before.size != self.size:
            return None
        found = self.change.before
        return found if found.measures == self.measures else found.by(self.measures)  # type: ignore[return-value]

    def _noting(self, items: Iterable[Placed]) -> SolidIndex:
        # To build an index, every place must be looked at: that is no claim's doing.
        plain = [self.plain.items[one.id].solid for one in items]
        return _Index(plain, self.watch)


def watched(
    situation: Situation, before: Watched | None = None, change: Movement | None = None
) -> Watched:
    """Return a situation that notes what is looked at.

    Args:
        situation: The room.
        before: The same room, watched, before some items were moved.
        change: What was moved since then, where it may rest on what was found there.
    """
    plain = situation.arrangement
    watch = Watch() if before is None else before.watch
    here, there = plain.items, {} if before is None else before.plain.items
    new = {name: one for name, one in here.items() if there.get(name) is not one}
    # A name that was there before keeps its place in the order.
    items: dict[str, Placed] = {} if before is None else {**before.arrangement.items}
    items.update((name, _noting(one, watch)) for name, one in new.items())
    noting = Arrangement(plain.scene, plain.shell, items, plain.no_place)
    said = situation.book, situation.measures, situation.accepted
    indices = None if before is None else _indices(before, new)
    only = before is not None and before.verdicts_only
    return Watched(noting, *said, plain, watch, change, indices, only)


def _indices(
    before: Watched, new: Mapping[str, Placed]
) -> tuple[SolidIndex, SolidIndex]:
    """Return the indices of a situation with those bodies elsewhere that have moved."""

    def moved(index: SolidIndex, items: Iterable[Placed]) -> SolidIndex:
        names = (one.id for one in items)
        return index.moved(
            {place: new[name].solid for place, name in enumerate(names) if name in new}
        )

    return moved(before.index, before.items), moved(before.live_index, before.live)


_PLACE: Final = ("solid", "front")
"""Where an item is; all other fields of one say what it is."""


class _Noting(Placed):
    """An item that notes when its place is looked at.

    A changed copy of one notes nothing: to make it, the place was looked at.
    """

    __slots__ = ("_front", "_solid", "_watch")
    _front: Front | None
    _solid: Solid
    _watch: Watch | None

    def __init__(self, watch: Watch | None = None, **said: object) -> None:
        object.__setattr__(self, "_watch", watch)
        for name, value in said.items():
            object.__setattr__(self, f"_{name}" if name in _PLACE else name, value)

    @property
    def solid(self) -> Solid:
        """Its body in the world, metres."""
        self._note()
        return self._solid

    @property
    def front(self) -> Front | None:
        """Its front, where it has one."""
        self._note()
        return self._front

    def _note(self) -> None:
        if self._watch is not None:
            self._watch.note.items.add(self.id)


def _noting(placed: Placed, watch: Watch) -> _Noting:
    said = {field.name: getattr(placed, field.name) for field in fields(placed)}
    return _Noting(watch, **said)


class _Index(SolidIndex):
    """An index that notes what it was asked for."""

    def __init__(self, solids: list[Solid], watch: Watch) -> None:
        super().__init__(solids)
        self._watch = watch

    def touching(self, low: Triple, high: Triple) -> list[int]:
        """Return the places of all bodies whose bounds meet a box, rising."""
        self._watch.note.boxes.append((*low, *high))
        return super().touching(low, high)

    def beside(self, place: int) -> list[int]:
        """Return the places of all bodies whose bounds meet those of a body, rising."""
        low, high = self._bounds[place].tolist()
        return self.touching(low, high)
