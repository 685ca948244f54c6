"""What is asked of every room of many."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from viewer.report.formats import Manner


@dataclass(frozen=True, slots=True)
class Question:
    """What is asked of every room.

    Attributes:
        rules: The rule book, instead of the scene's own.
        measures: Which published figure counts, instead of the scene's own.
        form: The word of the format in which it is answered.
        manner: How it is told.
        hashed: Each answer says what it stands on.
        version: Of the program.
    """

    rules: str | None
    measures: str | None
    form: str
    manner: Manner
    hashed: bool = False
    version: str = ""
