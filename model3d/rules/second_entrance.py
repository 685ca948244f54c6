"""A way out at each end of large equipment.

Applies to: equipment from the printed rating on and wider than the printed width; by
edition service equipment that is so together. Above the low-voltage table boards wider
than the printed width, whatever their rating. Sections that touch with their fronts in
one plane and carry one ``line_up`` name are one piece of gear: its width is from end to
end, its rating the greatest of any section, and each section is told what holds for the
whole. Transformers, current transformer cabinets, battery racks and meter sockets hold
no overcurrent, switching or control devices and are left out.

Measures: whether a way of the printed size leads to an exit from beside the left end
and from beside the right end of the working space, with what lies ahead of the
equipment barred, to twice the depth.

Told is the narrower of the ways at both ends; where one way is enough for the depth is
doubled, that depth and how far the entrance is from the gear.

Breach: a way at one end only, or at none, and neither exception.

Exceptions: one way is enough where it is continuous and unobstructed: everybody in the
working space can go straight away from the gear until out of it, and from there along
the front, outside the working space, and then in one straight line through an exit. An
exit beside the equipment counts only where it is in sight from all along the front, or
as far from the equipment as the depth. Where such a way leads only along the front
within the working space, which is a dead end, it is left open: the authority decides.
Or one way is enough where the working space is clear to twice its depth and the nearest
edge of the entrance is as far from the equipment as the depth printed. At high voltage
29 CFR 1926 asks for the second way only where it is practicable: a person decides.
What can be climbed leaves it open as it leaves the entrance, and so does a place that
nothing leads down from. Switchboards, switchgear and motor control centers that touch
and would be large together are left open until the scene says whether they are one
line-up.

Source: NEC 110.26(C)(2), 110.33(A)(1); 29 CFR 1910.303(g)(1)(iv), (h)(4)(i)(A); 29 CFR
1926.403(j)(4)(i). That a dead end is for the authority, and that the greatest rating of
a line-up counts, are readings, not print.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from model3d.codebook.unread import unread_figures
from model3d.egress.doors.known_openings import by_measured_doors
from model3d.egress.ground.floor import CONTACT
from model3d.egress.ground.ground import ground_of
from model3d.egress.judged.short_end import shown
from model3d.egress.large.gear import Piece, large_pieces, pieces
from model3d.egress.large.line_up import breadth
from model3d.egress.large.second_way import is_certain, second_way, verdict_of
from model3d.egress.large.span import span_of
from model3d.egress.large.wanted import Wanted
from model3d.egress.route.doorways import unmeasured
from model3d.egress.route.told import WIDTH_AND_HEIGHT
from model3d.judging.requirement import requirement_of
from model3d.judging.results import Judgement
from model3d.wording import ASK_DOORS, sentences
from model3d.wording.said import say
from model3d.working import is_high_voltage

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.codebook import Entry, PrintedFigure
    from model3d.egress.large.gear import Sections
    from model3d.egress.large.wanted import Answer
    from model3d.judging.results import Verdict
    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed

TABLES: Final = ("large-equipment", "high-voltage-entrance")
REQUIREMENT: Final = requirement_of(__name__)
_TOGETHER: Final = "As one line-up: {}"
_PRACTICABLE: Final = "A person must say whether a second entrance is practicable."


def claims(item: Placed, situation: Situation) -> Iterator[Judgement]:
    """Judge the ways out at both ends of what one item is a section of."""
    yield from by_measured_doors(_of_its_piece, item, situation)


def _of_its_piece(item: Placed, situation: Situation) -> Iterator[Judgement]:
    if not item.live or item.front is None:
        return
    asked = _of_item(item, situation)
    if not asked:
        return
    first, *wider = asked
    if not ground_of(situation).exits:
        judged = _judgement(first, "open", ASK_DOORS)
        yield replace(judged, missing=ASK_DOORS)
        return
    judged = _judged(first, situation)
    for one in wider:
        together = _judged(replace(one, piece=Piece(one.piece.sections)), situation)
        if together.verdict != judged.verdict:
            judged = _either(judged, together, one.piece.missing)
    yield judged


def is_met(item: Placed, situation: Situation) -> bool:
    """Tell whether all that ``claims`` judges of an item is met for certain.

    It takes a part of the time. False says nothing: ask ``claims``.
    """
    if not item.live or item.front is None:
        return True
    if situation.survey_tolerance or unmeasured(situation):
        return False
    asked = _of_item(item, situation)
    if not asked:
        return True
    if not ground_of(situation).exits or any(one.piece.unsaid for one in asked):
        return False
    return all(is_certain(one.wanted(situation), situation) for one in asked)


def is_breach(item: Placed, situation: Situation) -> bool:
    """Tell whether what ``claims`` judges of an item is not met for certain.

    How wide the ways are is not measured, which takes most of the time. False says
    nothing: ask ``claims``.
    """
    if not item.live or item.front is None or situation.survey_tolerance:
        return False
    asked = _of_item(item, situation)
    if len(asked) != 1 or not ground_of(situation).exits:
        return False
    (one,) = asked
    if one.piece.missing or one.where_practicable:
        return False
    return verdict_of(one.wanted(situation), situation) == "not-met"


def is_asked(item: Placed, situation: Situation) -> bool:
    """Tell whether anything is asked of an item, which ``claims`` would judge."""
    return item.live and item.front is not None and bool(_of_item(item, situation))


@dataclass(frozen=True, slots=True)
class _Asked:
    """What is asked of a piece of gear that an item is a section of.

    Attributes:
        item: The item.
        piece: The piece of gear.
        entry: What the rule book says.
        citation: Of the sentence that asks.
        figures: Width and height of each way.
        printed: The same as the rule book prints them.
        size: The same in a sentence.
        unread: Citations of what was not read in any source.
        where_practicable: Whether the second way is asked for only where practicable.
    """

    item: Placed
    piece: Piece
    entry: Entry
    citation: str
    figures: tuple[float, float]
    printed: dict[str, tuple[str, ...]]
    size: str
    unread: tuple[str, ...]
    where_practicable: bool = False

    def wanted(self, situation: Situation) -> Wanted:
        """Return what is asked of the ways out."""
        width, height = self.figures
        excepted = not self.where_practicable
        return Wanted(
            span_of(self.piece.sections, situation),
            width,
            height,
            self.size,
            unobstructed=self._exception("one_if_unobstructed") if excepted else "",
            doubled=self._exception("one_if_doubled") if excepted else "",
        )

    def _exception(self, key: str) -> str:
        """Return the citation of an exception; "" where the book has it not."""
        if not self.entry.has(key):
            return self.citation
        return self.entry.cite(key) if self.entry.flag(key) else ""


def _of_item(item: Placed, situation: Situation) -> list[_Asked]:
    """Return what is asked of all that an item is or may be part of."""
    over = is_high_voltage(item, situation)
    return _of_boards(item, situation) if over else _of_large(item, situation)


def _of_large(item: Placed, situation: Situation) -> list[_Asked]:
    """Return what is asked of large equipment that an item is or may be part of."""
    found = large_pieces(item, situation)
    if not found:
        return []
    entry = situation.book.entry(TABLES[0])
    sizes = entry.figure("entrance_width"), entry.figure("entrance_height")
    unread = unread_figures(
        entry, (*sizes, entry.figure("width_over")), situation.measures
    )
    return [_asked(item, one, entry, sizes, unread, situation) for one in found]


def _of_boards(item: Placed, situation: Situation) -> list[_Asked]:
    """Return what is asked of a wide board at high voltage."""
    entry = situation.book.entry(TABLES[1])
    if not entry.given:
        return []
    widest = entry.figure("board_width_over")

    def is_wide(sections: Sections) -> tuple[bool, str]:
        boards = any(one.kind.board for one in sections)
        return boards and situation.is_over(breadth(sections), widest), ""

    sizes = entry.figure("width"), entry.figure("height")
    key = "board_width_over"
    unread = (
        *unread_figures(entry, sizes, situation.measures),
        *unread_figures(entry, [widest], situation.measures, key),
    )
    return [
        replace(
            _asked(item, one, entry, sizes, unread, situation),
            citation=entry.cite(key),
            where_practicable=entry.flag("where_practicable"),
        )
        for one in pieces(item, situation, is_wide)
    ]


def _asked(
    item: Placed,
    piece: Piece,
    entry: Entry,
    sizes: tuple[PrintedFigure, PrintedFigure],
    unread: tuple[str, ...],
    situation: Situation,
) -> _Asked:
    width, height = sizes
    texts = map(situation.printed, sizes)
    return _Asked(
        item,
        piece,
        entry,
        entry.citation,
        (situation.least(width), situation.least(height)),
        dict(zip(WIDTH_AND_HEIGHT, texts, strict=True)),
        say("{} wide and {} high", situation.told(width), situation.told(height)),
        unread,
    )


def _judged(asked: _Asked, situation: Situation) -> Judgement:
    """Judge one piece of gear; open where it is not known whether it is one."""
    wanted, tolerance = asked.wanted(situation), situation.survey_tolerance
    found = second_way(wanted, situation)
    doubts = [found.missing]
    if tolerance and any(
        second_way(wanted, situation, by).verdict != found.verdict
        for by in (-tolerance, tolerance)
    ):
        doubts.append(situation.survey_doubt)
    if found.verdict == "met":
        doubts.append(unmeasured(situation))
    if found.verdict == "not-met" and asked.where_practicable:
        doubts.append(_PRACTICABLE)
    if found.verdict != "met" or asked.piece.unsaid:
        doubts.append(asked.piece.missing)
    doubt = sentences(*doubts)
    verdict: Verdict = "open" if doubt else found.verdict
    told = say(_TOGETHER, found.reason) if asked.piece.unsaid else found.reason
    judged = _judgement(asked, verdict, sentences(told, doubt), found.citation)
    excepted = ""
    if verdict == "met" and found.citation:
        why = _DOUBLED if found.required else _STRAIGHT
        excepted = f"{found.citation} ({why})"
    judged = _with_sizes(replace(judged, missing=doubt, exception=excepted), found)
    return judged if verdict == "met" else shown(judged, wanted, found, situation)


_STRAIGHT: Final = "one way, continuous and unobstructed"
_DOUBLED: Final = "one way, and the depth doubled"


def _with_sizes(judged: Judgement, found: Answer) -> Judgement:
    """Return a judgement with what was measured, and of what."""
    required = found.required or judged.required
    spare = [size - required[name] for name, size in found.provided.items()]
    return replace(
        judged,
        required=required,
        printed=judged.printed if required is judged.required else {},
        provided=found.provided,
        margin=min(spare, default=None),
        short="width" if min(spare, default=0.0) < -CONTACT else "",
    )


def _either(judged: Judgement, together: Judgement, missing: str) -> Judgement:
    """Return what is known of an item where a wider line-up would be told otherwise."""
    return replace(
        judged,
        verdict="open",
        reason=sentences(judged.reason, say(_TOGETHER, together.reason), missing),
        missing=sentences(judged.missing, missing),
    )


def _judgement(
    asked: _Asked, verdict: Verdict, reason: str, citation: str = ""
) -> Judgement:
    return Judgement(
        requirement=REQUIREMENT,
        subject=asked.item.id,
        verdict=verdict,
        citation=citation or asked.citation,
        reason=reason,
        required=dict(zip(WIDTH_AND_HEIGHT, asked.figures, strict=True)),
        printed=asked.printed,
        unread=asked.unread,
    )
