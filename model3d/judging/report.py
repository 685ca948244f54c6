"""All that a check answers of one scene.

Every length is in metres. Only ``Report.document`` and ``Report.json`` give the
contract's millimetres.
"""

from __future__ import annotations

import json
from collections import Counter
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Final

from model3d.judging.results import ROOM, VERDICTS
from model3d.judging.written.document import plain
from model3d.judging.written.rows import rows
from model3d.scene.notebook import html_table
from model3d.scene.words.mistakes import found
from model3d.scene.words.nearest import hint
from model3d.wording import CAUTION

if TYPE_CHECKING:
    from model3d.judging.results import Judgement, Verdict
    from model3d.judging.written.rows import Row
    from model3d.standing.arrangement import Arrangement

_MOST_NAMES: Final = 12
"""A longer list of what would be right helps nobody."""


@dataclass(frozen=True, slots=True)
class Assumption:
    """Something that was not said and was taken for granted."""

    item: str
    what: str


@dataclass(frozen=True, slots=True)
class Report:
    """All judgements of one scene; lengths in metres, in ``document`` in millimetres.

    Attributes:
        scene: Title of the scene.
        file: The scene's file, or "".
        rules: Id of the rule book.
        judgements: In a stable order: by subject, requirement, leaf, tier and side.
        assumed: What was taken for granted.
        unread: Citations of what decides here and was not read in any source: to be
            verified against the adopted code.
        no_place: Ids of the items that have no place yet: they are not judged, and in
            nobody's way.
        arrangement: The scene as it was judged, for what draws it.
        asked: What the rules are called that were asked, also those that do not apply.
    """

    scene: str
    file: str
    rules: str
    judgements: tuple[Judgement, ...]
    assumed: tuple[Assumption, ...] = ()
    unread: tuple[str, ...] = ()
    no_place: tuple[str, ...] = ()
    arrangement: Arrangement | None = field(default=None, repr=False, compare=False)
    asked: tuple[str, ...] = field(default=(), repr=False, compare=False)

    def __repr__(self) -> str:
        return f"<Report {self.scene!r} ({self.rules}): {self._told_counts}>"

    def _repr_html_(self) -> str:
        columns = "subject requirement part verdict measure required provided margin"
        names = (*columns.split(), "reason")
        order = {"not-met": 0, "open": 1, "met": 2}
        table = sorted(self.table(), key=lambda row: order[str(row["verdict"])])
        title = f"{self.scene} ({self.rules}): {self._told_counts}; lengths in mm"
        rows_told = [[row[name] for name in names] for row in table]
        notes = [
            f"{item} has no place yet: it is not judged." for item in self.no_place
        ]
        return html_table(title, names, rows_told, (*notes, *CAUTION))

    @property
    def _told_counts(self) -> str:
        return ", ".join(f"{count} {verdict}" for verdict, count in self.counts.items())

    @property
    def counts(self) -> dict[Verdict, int]:
        """How many judgements there are of each verdict."""
        counted = Counter(judgement.verdict for judgement in self.judgements)
        return {verdict: counted[verdict] for verdict in VERDICTS}

    @property
    def passed(self) -> bool:
        """Whether nothing is not met."""
        return not self.counts["not-met"]

    def of(self, subject: str, requirement: str | None = None) -> tuple[Judgement, ...]:
        """Return the judgements of one subject, of all requirements or of one.

        Raises:
            LookupError: There is no such item or room door, or no such requirement.
                Of one of which nothing is asked there are no judgements.
        """
        mine = tuple(
            judgement
            for judgement in self.judgements
            if judgement.subject == subject
            and requirement in (None, judgement.requirement)
        )
        if mine:
            return mine
        subjects = self._subjects()
        if subject not in subjects:
            near = _near(str(subject), subjects)
            right = f"the id of an item or a room door, or {ROOM} ({near})"
            msg = f"found {found(subject)}, right is {right}"
            raise LookupError(msg)
        if requirement not in (None, *self._requirements()):
            right = f"one of the rules{hint(str(requirement), self._requirements())}"
            msg = f"found {found(requirement)}, right is {right}"
            raise LookupError(msg)
        return ()

    def _subjects(self) -> set[str]:
        told = {ROOM, *self.no_place, *(one.subject for one in self.judgements)}
        scene = self.arrangement.scene if self.arrangement else None
        if scene is not None:
            told |= {one.id for one in scene.items}
            told |= {one.id for one in (scene.room.doors if scene.room else ())}
        return told

    def _requirements(self) -> set[str]:
        return {*self.asked, *(judgement.requirement for judgement in self.judgements)}

    def document(self) -> dict[str, Any]:
        """Return the contract's JSON document, lengths in millimetres."""
        said: dict[str, Any] = {
            "format": 1,
            "scene": self.scene,
            "file": self.file,
            "rules": self.rules,
            "counts": self.counts,
            "judgements": [plain(judgement) for judgement in self.judgements],
            "assumed": [{"item": a.item, "what": a.what} for a in self.assumed],
        }
        if self.unread:
            said["unread"] = list(self.unread)
        if self.no_place:
            said["no_place"] = list(self.no_place)
        return said

    def table(self) -> list[Row]:
        """Return a plain row a judgement, ready for a data frame.

        The columns are those of ``check --format csv``; lengths are millimetres.
        """
        return rows(self.document())

    def json(self, *, indent: int | None = None) -> str:
        """Return the document as JSON text: the same bytes for the same scene."""
        return json.dumps(self.document(), ensure_ascii=False, indent=indent)


def _near(word: str, names: set[str]) -> str:
    """Return the names most like a word, or the first of all."""
    # Only a mistake needs it, so a good scene does not pay for the import.
    from difflib import get_close_matches  # noqa: PLC0415

    by_small = {name.casefold(): name for name in sorted(names)}
    like = get_close_matches(word.casefold(), by_small, n=4)
    some = [by_small[one] for one in like] or sorted(names)[:_MOST_NAMES]
    return ", ".join(some) + ", ..." * (len(names) > len(some))
