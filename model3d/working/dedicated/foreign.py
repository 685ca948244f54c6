"""What is foreign to the electrical installation; of a sprinkler only its piping is."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model3d.wording.said import Named, say

if TYPE_CHECKING:
    from model3d.standing.placed import Placed


def needs_protection(placed: Placed) -> bool:
    """Tell whether what leaks from a body above the zone must be kept off."""
    return bool(is_foreign(placed)) and not placed.kind.leak_guard


def is_foreign(placed: Placed) -> bool | None:
    """Tell whether a body is foreign; of a sprinkler only its piping is."""
    written = placed.item
    if not placed.kind.sprinkler or written is None:
        return placed.foreign
    if written.foreign is not None or written.associated:
        return placed.foreign
    if is_piping(placed):
        return True
    return False if written.size is not None else None


def is_piping(placed: Placed) -> bool:
    """Tell whether a body is the piping of sprinklers: drawn as a run."""
    written = placed.item
    return placed.kind.sprinkler and written is not None and written.from_ is not None


def question_about(placed: Placed) -> str:
    """Ask what nobody says: whether a body is foreign."""
    if placed.kind.sprinkler:
        return say(
            "Say whether {} is piping (foreign: true) or a sprinkler head.",
            Named(placed.id),
        )
    return say("Say whether {} is foreign to the installation.", Named(placed.id))
