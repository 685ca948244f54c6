"""What of a plan is not read, or not as it is drawn, gathered while the rest is."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from typing import TYPE_CHECKING, Any, Final

from model3d.exchange.dxf.drawn_plan import Left, Loose
from model3d.exchange.dxf.file.clips import place_of_first, shown
from model3d.exchange.dxf.file.loose_pieces import loose_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from model3d.exchange.dxf.file.clips import Clips
    from model3d.geometry.frame import Corner

_MOST_POINTS: Final = 2_000_000
"""Of all that is not read as it is drawn; of what goes beyond no place is known."""
_MOST_ASKED: Final = 5000
"""So many are asked where they lie, which takes long; of the others it is not known."""
_FLAT: Final = "outline without an area"


class Leavings:
    """What is not read.

    Attributes:
        loose: Of it that of which it is known where it lies.
    """

    def __init__(self, metres: float) -> None:
        """Begin with nothing.

        Args:
            metres: In one unit of the plan.
        """
        self.loose: list[Loose] = []
        self._metres, self._points, self._asked = metres, 0, 0
        self._left: dict[tuple[str, str, str, bool], Left] = {}
        self._places: defaultdict[tuple[str, str, str, bool], list[Corner]]
        self._places = defaultdict(list)

    @property
    def left(self) -> tuple[Left, ...]:
        """All of it, sort by sort."""
        return tuple(
            replace(one, places=tuple(self._places[key]))
            for key, one in sorted(self._left.items())
        )

    def leave(
        self,
        on: str,
        what: str,
        entity: Any,
        which: str = "",
        *,
        whole: bool = False,
        hidden: bool = False,
        loose: bool = False,
    ) -> None:
        """Note what is not read, and where it is.

        Args:
            on: Its layer.
            what: Its name.
            entity: Of the plan.
            which: As ``Left`` has it.
            whole: Likewise.
            hidden: Likewise.
            loose: Likewise.
        """
        self._asked += 1
        may_ask = self._asked <= _MOST_ASKED
        at = place_of_first(entity, self._metres) if may_ask else None
        self._note(Left(on, what, 0, at, whole, which, hidden, loose))

    def loosen(self, on: str, what: str, entity: Any, which: str, clips: Clips) -> None:
        """Note what is not read as it is drawn, and where it lies if that is known.

        Args:
            on: Its layer.
            what: Its name.
            entity: Of the plan.
            which: As ``Left`` has it.
            clips: What is shown of the blocks that it is in.
        """
        may_ask = self._asked < _MOST_ASKED
        pieces = loose_of(entity, on, self._metres) if may_ask else []
        self._points += sum(len(one.points) for one in pieces)
        if self._points > _MOST_POINTS:
            pieces = []
        seen = [one for one in pieces if shown(one.points, clips) != "out"]
        self.loose += seen
        hidden = bool(pieces) and not seen
        self.leave(on, what, entity, which, hidden=hidden, loose=bool(pieces))

    def flatten(self, on: str, points: Sequence[Corner], at: Corner) -> None:
        """Note a closed line that encloses nothing: it is a line there and back."""
        self._note(Left(on, _FLAT, 0, at, loose=True))
        if len(points) > 1:
            self.loose.append(Loose(on, tuple(points), closed=False))

    def _note(self, one: Left) -> None:
        key = one.layer, one.what, one.which, one.loose
        before = self._left.get(key, one)
        self._left[key] = replace(before, count=before.count + 1)
        if one.at is not None:
            self._places[key].append(one.at)
