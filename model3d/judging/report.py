"""All that a check answers of one scene.

Every length is in metres. Only ``Report.document`` and ``Report.json`` give the
contract's millimetres.
"""

from __future__ import annotations

import json
from collections import Counter
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from model3d.judging.document import plain
from model3d.judging.results import VERDICTS
from model3d.judging.rows import rows
from model3d.notebook import html_table
from model3d.wording import CAUTION

if TYPE_CHECKING:
    from model3d.judging.results import Judgement, Verdict
    from model3d.judging.rows import Row
    from model3d.standing.arrangement import Arrangement


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
    """

    scene: str
    file: str
    rules: str
    judgements: tuple[Judgement, ...]
    assumed: tuple[Assumption, ...] = ()
    unread: tuple[str, ...] = ()
    no_place: tuple[str, ...] = ()
    arrangement: Arrangement | None = field(default=None, repr=False, compare=False)

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
        found = Counter(judgement.verdict for judgement in self.judgements)
        return {verdict: found[verdict] for verdict in VERDICTS}

    @property
    def passed(self) -> bool:
        """Whether nothing is not met."""
        return not self.counts["not-met"]

    def of(self, subject: str, requirement: str | None = None) -> tuple[Judgement, ...]:
        """Return the judgements of one subject, of all requirements or of one."""
        return tuple(
            judgement
            for judgement in self.judgements
            if judgement.subject == subject
            and requirement in (None, judgement.requirement)
        )

    def document(self) -> dict[str, Any]:
        """Return the contract's JSON document, lengths in millimetres."""
        found: dict[str, Any] = {
            "format": 1,
            "scene": self.scene,
            "file": self.file,
            "rules": self.rules,
            "counts": self.counts,
            "judgements": [plain(judgement) for judgement in self.judgements],
            "assumed": [{"item": a.item, "what": a.what} for a in self.assumed],
        }
        if self.unread:
            found["unread"] = list(self.unread)
        if self.no_place:
            found["no_place"] = list(self.no_place)
        return found

    def table(self) -> list[Row]:
        """Return a plain row a judgement, ready for a data frame.

        The columns are those of ``check --format csv``; lengths are millimetres.
        """
        return rows(self.document())

    def json(self, *, indent: int | None = None) -> str:
        """Return the document as JSON text: the same bytes for the same scene."""
        return json.dumps(self.document(), ensure_ascii=False, indent=indent)
