"""What a drawing shows, in sentences, for somebody who cannot see it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from viewer.wording.cleaning import clean
from viewer.wording.words import WORDS, requirement_words

if TYPE_CHECKING:
    from viewer.figure.things.subject import Subject


def told_of(subject: Subject) -> str:
    """Return what the drawing of an item shows."""
    placed = subject.placed
    name = placed.item.name if placed.item else None
    who = f"{placed.id}, {name}" if name else placed.id
    found = [f"Drawing to scale of {who}: {placed.kind.about.lower()}."]
    for one in subject.judgements:
        what = requirement_words(one.requirement)
        found.append(f"{what}: {WORDS[one.verdict]}. {one.reason}")
    return clean(" ".join(found))
