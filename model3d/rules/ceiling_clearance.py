"""Clearance below a combustible ceiling.

Applies to: switchboards and switchgear up to the highest voltage of the low-voltage
table, where the scene says that the structural ceiling is of a material that burns
(ceiling_material). Nothing is asked below a ceiling of which nothing is said.

Measures: from the top of the equipment up to the structural ceiling over it.

Breach: none by itself. Less than the figure is open: the rule is for equipment that is
not totally enclosed, and a shield that does not burn may stand between; neither can be
seen in a drawing.

Exceptions: none.

Source: NEC 408.18(A).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.codebook.unread import unread_figures
from model3d.judging.limit import at_least
from model3d.judging.requirement import requirement_of
from model3d.judging.results import Judgement, SizeLine
from model3d.wording import sentences
from model3d.wording.said import say
from model3d.working import is_high_voltage
from model3d.working.dedicated.overhead import Overhead

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed

TABLES: Final = ("ceiling-clearance",)
REQUIREMENT: Final = requirement_of(__name__)
_UP: Final = 2


def claims(item: Placed, situation: Situation) -> Iterator[Judgement]:
    """Judge how far below a ceiling that burns an item ends."""
    entry, front = situation.book.entry(TABLES[0]), item.front
    said = (situation.scene.stated.ceiling_material or "").lower()
    if not entry.given or front is None or said not in entry.words("burns"):
        return
    if item.kind.name not in entry.words("kinds") or is_high_voltage(item, situation):
        return
    ceiling = Overhead(front, situation).ceiling
    if ceiling is None:
        return
    figure = entry.figure("clearance")
    least, found = situation.least(figure), ceiling - front.top
    verdict, doubt = at_least(found, least, situation)
    if verdict == "not-met":
        verdict, doubt = "open", _ASK
    length, asked = situation.length(found, least), situation.told(figure)
    told = say("The ceiling ({}) is {} above it; {} is asked for.", said, length, asked)
    yield Judgement(
        REQUIREMENT,
        item.id,
        verdict,
        entry.cite("clearance"),
        sentences(told, doubt),
        missing=doubt,
        short="clearance",
        required={"clearance": least},
        provided={"clearance": found},
        printed={"clearance": situation.printed(figure)},
        margin=found - least,
        unread=unread_figures(entry, (figure,), situation.measures, "clearance"),
        line=SizeLine(front.frame, (front.width, 0.0, front.top), _UP),
    )


_ASK: Final = (
    "Less is allowed where it is totally enclosed, or where a shield that does not "
    "burn is between: a person must say so."
)
