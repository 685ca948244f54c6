"""Where claims looked, so that those that a move touches are found at once."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from model3d.following.watch import meet, meeting

if TYPE_CHECKING:
    from collections.abc import Collection

    from numpy.typing import NDArray

    from model3d.following.watch import Note

    Boxes = NDArray[np.float64]
    """Lowest and highest corners, shape (n, 2, 3)."""

    Key = tuple[int, str]
    """Number of the rule, and the item's id; "" for the room as a whole."""

_MOST_LATE: Final = 500
"""Claims that are looked at one by one, until the boxes of all are put together."""


class Glances:
    """What every claim looked at: items, and boxes of space."""

    def __init__(self) -> None:
        """Begin with no claim."""
        self._items: dict[Key, frozenset[str]] = {}
        self._claims: dict[str, set[Key]] = {}
        self._boxes: dict[Key, Boxes] = {}
        self._late: set[Key] = set()
        self._together: Boxes = np.empty((0, 2, 3))
        self._owners: tuple[Key, ...] = ()
        self._numbers: NDArray[np.int64] = np.empty(0, dtype=np.int64)

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
        rows = np.flatnonzero(meeting(self._together, here))
        near = {self._owners[number] for number in np.unique(self._numbers[rows])}
        found |= near - self._late  # what they looked at since is looked at by itself
        found |= {key for key in self._late if meet(self._boxes[key], here)}
        return found

    def _put_together(self) -> None:
        self._owners = tuple(self._boxes)
        boxes = [*self._boxes.values()]
        self._together = np.concatenate(boxes)
        self._numbers = np.repeat(np.arange(len(boxes)), [len(one) for one in boxes])
        self._late.clear()
