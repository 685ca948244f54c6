"""What is wrong with a command line, in one line, from the parser's own words."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from viewer.wording.cleaning import clean

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

_MISSING: Final = re.compile(r"the following arguments are required: (?P<what>.+)")
_ARGUMENT: Final = re.compile(r"argument (?P<what>[^:]+): (?P<why>.+)", re.DOTALL)
_CHOICE: Final = re.compile(
    r"invalid choice: (?P<found>.+) \(choose from (?P<known>.+)\)", re.DOTALL
)
_TYPE: Final = re.compile(r"invalid (?P<kind>\w+) value: (?P<found>.+)", re.DOTALL)
_KINDS: Final = {"int": "a whole number", "float": "a number"}
_TOO_FEW: Final = re.compile(r"expected (?:at least )?(?:one|\d+) arguments?")


def misread(message: str) -> str:
    """Return a parser's complaint as what was found and what is right.

    >>> misread("argument --format: invalid choice: 'xml' (choose from 'a', 'b')")
    '--format: found xml, right is a or b'
    >>> misread("the following arguments are required: SCENE")
    'found no SCENE, right is SCENE behind the command'
    >>> misread("argument -o/--output: expected one argument")
    '--output: found nothing, right is --output with a value behind it'
    >>> misread("argument --seed: invalid int value: 'x'")
    '--seed: found x, right is a whole number'
    """
    if match := _MISSING.fullmatch(message):
        what = match["what"].split("/")[-1]
        return f"found no {what}, right is {what} behind the command"
    match = _ARGUMENT.fullmatch(message)
    if match is None:
        return message
    what, why = match["what"].split("/")[-1], match["why"]
    if _TOO_FEW.match(why):
        why = f"found nothing, right is {what} with a value behind it"
    elif choice := _CHOICE.fullmatch(why):
        known = [one.strip(" '\"") for one in choice["known"].split(",")]
        why = _chosen(what, choice["found"].strip("'\""), known)
    elif wrong := _TYPE.fullmatch(why):
        right = _KINDS.get(wrong["kind"], "a value of another kind")
        why = f"found {_word(wrong['found'])}, right is {right}"
    return f"{what}: {why}"


def unknown_words(words: Sequence[str], known: Iterable[str]) -> str:
    """Say which words of a command line mean nothing, and what may be meant.

    >>> unknown_words(["--formatt", "csv"], ["--format", "--rules"])
    'found --formatt, right is --format'
    >>> unknown_words(["b.yaml"], ["--format"])
    'found b.yaml, which means nothing here, right is the command without it'
    """
    from model3d.scene.words.nearest import nearest

    first = words[0].split("=")[0]
    near = nearest(first, known) if first.startswith("-") else None
    if near:
        return f"found {_word(first)}, right is {near}"
    right = "right is the command without it"
    return f"found {_word(first)}, which means nothing here, {right}"


def _chosen(what: str, found: str, known: list[str]) -> str:
    from model3d.scene.words.nearest import hint, listed, nearest

    said = f"found {_word(found)}"
    if what != "COMMAND":
        return f"{said}, right is {listed(known)}{hint(found, known)}"
    near = nearest(found, known)
    return f"{said}, right is {near or 'a command; standclear --help lists them'}"


def _word(text: str) -> str:
    return clean(text.strip("'\"")) or "nothing"
