"""What a result of a check stands on."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Basis:
    """What a result stands on: with the same basis it would be the same.

    Attributes:
        path: The scene's file as it was named, with slashes.
        hash: Of its text and of every file that it uses; None where that was not
            asked for, or it cannot be read.
        version: Of the program.
        asked: What was asked for instead of what the scene says, or None.
        shown: The scene's file as the system writes it, for people.
    """

    path: str
    hash: str | None
    version: str
    asked: str | None
    shown: str = field(default="", compare=False)
