"""A text that keeps the parts it was put together from, so that none is read back.

To whoever prints it a sentence is a text like any other. Whoever needs a part of it,
its first sentence, a name in it, a length, asks for that part and never looks for it.
"""

from __future__ import annotations

from itertools import chain
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable
    from typing import Self


class Named(str):
    """The id of a thing, in a sentence about it."""

    __slots__ = ()


class Amount(str):
    """A length or an angle with its unit, in one system."""

    __slots__ = ()


def thing(name: str) -> str:
    """Return an id as a part; what is called in words, as a leaf is, has its ids."""
    return name if isinstance(name, Said) else Named(name)


def in_degrees(number: str) -> Amount:
    """Write an angle with its unit."""
    return Amount(f"{number} degrees")


class Other(str):
    """The same length in the other system, in its brackets."""

    __slots__ = ()


class Gap(str):
    """What stands between two sentences, or two lines."""

    __slots__ = ()


GAP: Final = Gap(" ")
LINE: Final = Gap("\n")


class Said(str):
    """A text and the parts that it was put together from.

    Attributes:
        parts: Words, ``Named``, ``Amount``, ``Other`` and ``Gap``, in their order.
    """

    __slots__ = ("parts",)

    parts: tuple[str, ...]

    def __new__(cls, *parts: str) -> Self:
        """Put parts together; what is such a text itself brings its own parts."""
        kept = tuple(filter(None, chain.from_iterable(map(parts_of, parts))))
        made = super().__new__(cls, "".join(kept))
        made.parts = kept
        return made

    def __getnewargs__(self) -> tuple[str, ...]:  # type: ignore[override]
        """Return what it is made from, for a copy of it in another process."""
        return self.parts


def parts_of(text: str) -> tuple[str, ...]:
    """Return the parts of a text; one that was never put together is its own part."""
    return text.parts if isinstance(text, Said) else (text,)


def say(words: str, *parts: str) -> Said:
    """Put parts into words, one in the place of each pair of braces.

    >>> say("{} is {} ahead.", Named("LP1"), Amount("20 mm")).parts
    ('LP1', ' is ', '20 mm', ' ahead.')
    """
    first, *others = words.split("{}")
    pairs = zip(parts, others, strict=True)
    return Said(first, *chain.from_iterable(pairs))


def joined(between: str, parts: Iterable[str]) -> Said:
    """Put parts together with the same words between them."""
    pairs = ((between, part) for part in parts)
    return Said(*[*chain.from_iterable(pairs)][1:])


def ids(names: Iterable[str]) -> Said:
    """Return ids as a list in a sentence."""
    return joined(", ", map(Named, names))


def sentences_of(text: str) -> list[Said]:
    """Return the sentences of a text."""
    return _parted(text, GAP)


def lines_of(text: str) -> list[Said]:
    """Return the lines of a text that ``LINE`` parts."""
    return _parted(text, LINE)


def _parted(text: str, mark: Gap) -> list[Said]:
    found: list[list[str]] = [[]]
    for part in parts_of(text):
        if isinstance(part, Gap) and part == mark:
            found.append([])
        else:
            found[-1].append(part)
    return [Said(*one) for one in found]


def renamed(text: str, name: str, new: str) -> str:
    """Return a text with another word in place of the id of one thing.

    >>> renamed(say("Say the supply of {}.", Named("MCC1")), "MCC1", "each")
    'Say the supply of each.'
    """
    if not isinstance(text, Said):
        return new if isinstance(text, Named) and text == name else text
    return Said(*(renamed(part, name, new) for part in text.parts))


def lowered(text: str) -> Said:
    """Return a text as it goes on behind a colon: small, unless an id begins it."""
    return _begun(text, str.lower)


def raised(text: str) -> Said:
    """Return a text as it begins a sentence: tall, unless an id begins it."""
    return _begun(text, str.upper)


def _begun(text: str, change: Callable[[str], str]) -> Said:
    first, *others = parts_of(text) or ("",)
    if not isinstance(first, Named):
        others = [first[1:], *others]
        first = change(first[:1])
    return Said(first, *others)
