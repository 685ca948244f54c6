"""Which kind of item a list means by its own words."""

from __future__ import annotations

import re
import tomllib
from typing import TYPE_CHECKING, Final

from model3d.exchange.schedule.headings import meanings, plain_text
from model3d.scene.kinds import KINDS
from model3d.scene.words.mistakes import found
from model3d.scene.words.nearest import hint, listed
from model3d.scene.words.trade import kinds_called, other_words

if TYPE_CHECKING:
    from collections.abc import Mapping

_IN_TEXT: Final = tuple(
    name
    for name, kind in KINDS.items()
    if kind.associated and not (kind.pad or kind.frame or kind.tray)
)
"""Kinds that are looked for within a longer text: a wall there is where it hangs."""
_KINDS_ABROAD: Final = meanings("kinds_abroad")


class KindError(ValueError):
    """Words that name no kind, or several; the message says what would be right."""


def mapping_of(text: str) -> dict[str, str]:
    """Return the kinds that a mapping file gives to the words of a list.

    It is TOML: ``"LTG PNL" = "panelboard"``, alone or in a table ``[kinds]``.

    Raises:
        KindError: It is none, or names what is no kind.
    """
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        line = '"LTG PNL" = "panelboard"'
        msg = f"found no mapping ({error}), right is lines of TOML such as {line}"
        raise KindError(msg) from None
    pairs = data.get("kinds", data)
    if not isinstance(pairs, dict):
        pairs = {"kinds": pairs}
    for words, kind in pairs.items():
        if not isinstance(kind, str) or kind not in KINDS:
            near = hint(kind, KINDS) if isinstance(kind, str) else ""
            msg = f"{words}: found {found(kind)}, right is a kind{near}"
            raise KindError(msg)
    return {_plain(words): kind for words, kind in pairs.items()}


def kind_of(words: str, mapping: Mapping[str, str]) -> str:
    """Return the kind that is meant by words.

    Args:
        words: A kind, another word for one, or a text in which one such word stands.
        mapping: What the user's own words mean; it is asked first.

    Raises:
        KindError: They name none, or several.

    >>> kind_of("MCC", {}), kind_of("Wall-mounted lighting panel", {})
    ('motor-control-center', 'panelboard')
    >>> kind_of("T-1 type", {"t 1 type": "transformer"})
    'transformer'
    """
    plain = _plain(words)
    named = plain.replace(" ", "-")
    if kind := _named(plain, mapping):
        return kind
    for one in (named, named.removesuffix("s"), named.removesuffix("es")):
        if one in KINDS:
            return one
        if called := kinds_called(one):
            return _only(words, called)
    return _only(words, _within(plain))


def kind_in(text: str, mapping: Mapping[str, str]) -> str:
    """Return the kind of equipment that a description speaks of.

    Only electrical kinds are looked for: a panel for "Lights" is no luminaire.

    Raises:
        KindError: It speaks of none, or of several.

    >>> kind_in("Dry-type transformer, 75 kVA", {})
    'transformer'
    """
    plain = _plain(text)
    return _named(plain, mapping) or _only(text, _within(plain))


def _named(plain: str, mapping: Mapping[str, str]) -> str | None:
    return mapping.get(plain) or _KINDS_ABROAD.get(plain)


def _within(plain: str) -> tuple[str, ...]:
    """Return the kinds whose words stand in a text, the longest words first."""
    text, kinds = f" {plain} ", []
    words = [
        (word.replace("-", " "), kind)
        for kind in _IN_TEXT
        for word in (kind, *other_words(kind))
    ]
    for word, kind in sorted(words, key=lambda pair: -len(pair[0])):
        pattern = rf" {re.escape(word)}(?:e?s)?(?= )"
        if re.search(pattern, text):
            # What is part of a longer word does not count again.
            text = re.sub(pattern, " .", text)
            kinds.append(kind)
    return tuple(dict.fromkeys(kinds))


def _only(words: str, kinds: tuple[str, ...]) -> str:
    if len(kinds) == 1:
        return kinds[0]
    if kinds:
        right = f"one of {listed(kinds)}, or a row of --mapping that says which"
    else:
        known = (*KINDS, *(word for kind in KINDS for word in other_words(kind)))
        line = f'{found(words)} = "panelboard"'
        right = f"a kind such as panelboard{hint(words, known)}"
        right += f", or in a file for --mapping a line such as {line}"
    msg = f"found {found(words)}, right is {right}"
    raise KindError(msg)


def _plain(words: str) -> str:
    return " ".join(re.split(r"[^\w]+|_", plain_text(words))).strip()
