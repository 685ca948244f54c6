"""Judgements as the rows of a list, as plain data."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from model3d.judging.results import Verdict
    from viewer.stage.drawn import View


@dataclass(frozen=True, slots=True)
class Size:
    """One size of a judgement in words, in both systems of units.

    Attributes:
        name: depth, width, ...
        required, provided: As the rule book prints it, and what is there: in the
            scene's own system and in the other, or "".
        brief: Of a size that is short: what is there beside what is required; else "".
        short: Whether this size decides.
        most: Whether what is required is a greatest figure, not a least one.
    """

    name: str
    required: tuple[str, str]
    provided: tuple[str, str]
    brief: str
    short: bool
    most: bool


@dataclass(frozen=True, slots=True)
class ListedJudgement:
    """One judgement as a row of a list.

    Attributes:
        number: From 1, of what is not met and then of what is open; None where met.
        verdict: met, not-met or open.
        requirement: The rule's name, as in the results.
        title: The requirement in words.
        subject: Id of the item judged.
        part: Which leaf, tier or side, in words, or "".
        leaf: Which leaf, from 0; None where none is meant.
        brief: In a line: the size that is short, else what is to be said, or why.
        sizes: What is required and what is there.
        in_the_way: Ids of the items in the space.
        named: What each is called: its id, or which part of the subject it is.
        citation: Of the sentence that decides.
        reason: Why, in a sentence or two.
        missing, measured: Where it is open: what is to be said or decided, and the
            sizes that were measured.
        exception: The exception it rests on, or "".
        select: Ids of the items to mark when the row is picked.
        shapes: Ids of the shapes to show when the row is picked.
        look: Where the camera goes.
    """

    number: int | None
    verdict: Verdict
    requirement: str
    title: str
    subject: str
    part: str
    leaf: int | None
    brief: str
    sizes: tuple[Size, ...]
    in_the_way: tuple[str, ...]
    named: tuple[str, ...]
    citation: str
    reason: str
    missing: str
    measured: str
    exception: str
    select: tuple[str, ...]
    shapes: tuple[str, ...]
    look: View
