"""Where claims looked, so that those that a move touches are found at once."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.following.watch import meeting

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping

    from numpy.typing import NDArray

    from model3d.following.watch import Note

    Boxes = NDArray[np.float64]
    """Lowest and highest corners, shape (n, 2, 3)."""

    Key = tuple[int, str]
    """Number of the rule, and the item's id; "" for the room as a whole."""

_MOST_LATE: Final = 500
"""Claims whose boxes are put together at every move, until those of all are."""


class Glances:
    """What every claim looked at: items, and boxes of space."""

    def __init__(self) -> None:
        """Begin with no claim."""
        self._items: dict[Key, frozenset[str]] = {}
        self._claims: dict[str, set[Key]] = {}
        self._boxes: dict[Key, Boxes] = {}
        self._late: set[Key] = set()
        self._together = _Together.of({})

    def put(self, key: Key, note: Note) -> tuple[frozenset[str], Boxes]:
        """Take what a claim looked at, in place of what it looked at before.

        Returns:
            Ids of the items, and the boxes.
        """
        for name in self._items.get(key, ()):
            self._claims[name].discard(key)
        self._items[key] = frozenset(note.items)
        for name in note.items:
            self._claims.setdefault(name, set()).add(key)
        self._boxes[key] = np.array(note.boxes).reshape(-1, 2, 3)
        self._late.add(key)
        return self._items[key], self._boxes[key]

    def touched(self, moved: Collection[str], here: Boxes) -> set[Key]:
        """Return the claims that looked at what moved, or where that stands now.

        Args:
            moved: Ids of what moved.
            here: Where it is, shape (n, 2, 3).
        """
        if len(self._late) > _MOST_LATE:
            self._put_together()
        found = {key for name in moved for key in self._claims.get(name, ())}
        # What they looked at since is looked at by itself.
        found |= self._together.near(here) - self._late
        found |= _Together.of({key: self._boxes[key] for key in self._late}).near(here)
        return found

    def _put_together(self) -> None:
        self._together = _Together.of(self._boxes)
        self._late.clear()


@dataclass(frozen=True, slots=True)
class _Together:
    """What several claims looked at.

    Attributes:
        owners: The claims.
        boxes: Of all of them.
        numbers: Of each box whose it is.
    """

    owners: tuple[Key, ...]
    boxes: Boxes
    numbers: NDArray[np.int64]

    @classmethod
    def of(cls, looked: Mapping[Key, Boxes]) -> _Together:
        """Put together what claims looked at."""
        counts = [len(one) for one in looked.values()]
        boxes = np.concatenate([np.empty((0, 2, 3)), *looked.values()])
        return cls(tuple(looked), boxes, np.repeat(np.arange(len(counts)), counts))

    def near(self, here: Boxes) -> set[Key]:
        """Return the claims that looked where something is."""
        met = meeting(self.boxes, here)
        return {self.owners[number] for number in np.unique(self.numbers[met])}
