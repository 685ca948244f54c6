"""How much of a room a drawing shows: how far about an item, and which layers."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from viewer.stage.bodies.solids import Marked, is_ghost, overhead_in
from viewer.stage.bodies.spaces import layer_of_space
from viewer.stage.layers import layer_of

if TYPE_CHECKING:
    from collections.abc import Iterable

    from model3d import Judgement, Report
    from model3d.standing.placed import Placed


@dataclass(frozen=True, slots=True)
class Showing:
    """What is shown; a drawing that is told nothing shows all.

    Attributes:
        of: Id of the item that is looked at, or "".
        near: How far about it, metres; None for its spaces and what is in them.
        layers: Ids of the layers, as the stage has them; empty for all.
        faint: Ids of the things that hang overhead with nothing asked of them.
    """

    of: str = ""
    near: float | None = None
    layers: frozenset[str] = frozenset()
    faint: frozenset[str] = frozenset()

    def shows(self, layer: str) -> bool:
        """Tell whether a layer is shown."""
        return not self.layers or layer in self.layers

    def shows_thing(self, placed: Placed) -> bool:
        """Tell whether a thing is shown; what is looked at always is."""
        ghost = placed.id in self.faint
        return placed.id == self.of or self.shows(layer_of(placed, ghost=ghost))

    def shows_space(self, judgement: Judgement) -> bool:
        """Tell whether the spaces of a judgement are shown.

        Those of what is looked at are shown as what is not met, met or not.
        """
        strong = judgement.subject == self.of or judgement.verdict != "met"
        return self.shows(layer_of_space(judgement, shown=strong))


ALL: Final = Showing()
"""A drawing that shows everything."""


def sight_of(
    report: Report, of: str, near: float | None, layers: Iterable[str]
) -> Showing:
    """Return what is shown of a room about an item.

    Args:
        report: What the check answered: it says what hangs overhead.
        of: The item's id.
        near: How far about it, metres.
        layers: Ids of the layers; none for all of them.
    """
    room = report.arrangement
    wrong = {
        name: (0,)
        for one in report.judgements
        if one.verdict != "met"
        for name in (one.subject, *(hit.item for hit in one.intrusions))
    }
    overhead = overhead_in(room.shell.height if room else None)
    marked = Marked(wrong, overhead=overhead)
    items = room.items.values() if room else ()
    faint = frozenset(one.id for one in items if is_ghost(one, marked))
    return Showing(of, near, frozenset(layers), faint)
