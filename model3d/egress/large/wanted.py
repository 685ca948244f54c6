"""What is asked of the ways out of a piece of gear, and what is answered."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    from model3d.egress.large.span import End, Span
    from model3d.judging.results import Sizes, Verdict


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is asked of a piece of gear.

    Attributes:
        span: Its working space.
        width, height: Of each way, metres.
        size: The same as the rule book prints it.
        unobstructed, doubled: Citations of the exceptions; "" where the book has none.
    """

    span: Span
    width: float
    height: float
    size: str
    unobstructed: str
    doubled: str


@dataclass(frozen=True, slots=True)
class Answer:
    """Whether it is kept, and why.

    Attributes:
        verdict: Open where one way leads along the front only.
        reason: In some sentences, without what is missing.
        citation: Of the exception that decides; "" where none does.
        missing: What a person must decide, where it is open.
        required, provided: The sizes that were measured, metres; where nothing is
            ``required`` they are those of each way.
        widest: How wide the widest way is that leaves at each end, metres; 0 where
            none does. Nothing where one way is enough: they take long to find.
    """

    verdict: Verdict
    reason: str
    citation: str = ""
    missing: str = ""
    required: Sizes = field(default_factory=dict)
    provided: Sizes = field(default_factory=dict)
    widest: Mapping[End, float] = field(default_factory=dict)
