"""What is said of several things in the same words, told once."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, TypeVar

from model3d.wording.said import renamed

if TYPE_CHECKING:
    from collections.abc import Iterable

_Thing = TypeVar("_Thing")

EACH: Final = "each"
"""Stands for the thing itself where several share a sentence."""
_MOST_NAMES: Final = 60
"""So many things are named where the same is said of them; the JSON names them all."""


def listed(names: Iterable[str]) -> str:
    """Return names as a list, each once; of very many how many more there are.

    >>> listed(["MCC1", "MCC2", "MCC1"]), listed(map(str, range(70)))[-19:]
    ('MCC1, MCC2', '58, 59, and 10 more')
    """
    named = list(dict.fromkeys(names))
    more = len(named) - _MOST_NAMES
    if more > 0:
        named[_MOST_NAMES:] = [f"and {more} more"]
    return ", ".join(named)


def told_once(
    told: Iterable[tuple[str, _Thing, tuple[str, ...]]],
) -> list[tuple[list[_Thing], tuple[str, ...]]]:
    """Gather what is told in the same words of several things.

    Args:
        told: The id of each thing, what stands for it, and what is said of it.

    Returns:
        What stands for the things, in their order, and what is said of them: with its
        own id where there is one, with "each" where there are several.
    """
    groups: dict[tuple[str, ...], list[tuple[_Thing, tuple[str, ...]]]] = {}
    for subject, thing, texts in told:
        key = tuple(renamed(text, subject, EACH) for text in texts)
        groups.setdefault(key, []).append((thing, texts))
    return [
        ([thing for thing, _ in group], group[0][1] if len(group) == 1 else key)
        for key, group in groups.items()
    ]
