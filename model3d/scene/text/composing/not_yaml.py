"""From a YAML parser's complaints to what a person should look for, and where."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any, Final

from model3d.scene.text.composing.nodes import START, Position
from model3d.scene.words.mistakes import found

if TYPE_CHECKING:
    import yaml

_NO_KEY: Final = "expected <block end>, but found ':'"
_CLOSING: Final = {"[": "]", "{": "}"}
_CLOSED: Final = re.compile(r"\[[^\[\]{}\n]*\]|\{[^\[\]{}\n]*\}")
_QUOTE_IT: Final = "right is the whole value in quotes"
_BEHIND: Final = {
    **dict.fromkeys("]}", "right is nothing behind it: a unit stands at each length"),
    "'": "right is '' for a ' within '...'",
    '"': r'right is \" for a " within "..."',
}
"""What is right behind the end of a value, by the sign that ended it."""
_ODD_SPACE: Final = r"[^\S \t\r\n]"
_LOOK_ALIKE: Final = tuple(
    (re.compile(pattern), right)
    for pattern, right in (
        (rf"[ ]*({_ODD_SPACE})", "a plain space"),
        (rf"[ ]*(?:- )?[\w$]+:({_ODD_SPACE})", "a plain space"),
        (r"[ ]*(?:- )?[\w$]+\s*(\N{FULLWIDTH COLON})", "a plain colon and a space"),
        (r"[ ]*([\u2010-\u2015\u2212\u2022\u00b7])\s*\w", '"- " before the first key'),
        (r"[ ]*(\*) ", '"- " before the first key'),
        (r"[ ]*(-)[A-Za-z]\w*:", '"- " before the first key'),
    )
)
"""Signs that look like what is meant, but for a parser; common practice."""
_ESCAPE: Final = re.compile(r"\\U(?!00(?:0\d|10))[0-9A-Fa-f]{8}")
"""An escape beyond the last character that there is."""


def explanation(error: yaml.MarkedYAMLError, text: str) -> tuple[Position, str]:
    """Return where a person should look, and for what."""
    place = error.problem_mark or error.context_mark
    problem = str(error.problem or error.context)
    if place is None:
        return unplaced(text)
    if problem == _NO_KEY and text[place.index : place.index + 1] == ":":
        return _mark(place), "found no key, right is each key written out"
    looked = _Glance(text, place, error.context_mark)
    mark, message = looked.at(problem, str(error.context or "")) or looked.sort()
    return _mark(mark), f"not YAML: {message}"


def unplaced(text: str) -> tuple[Position, str]:
    """Return where to look in a text that the parser only says to be broken."""
    if escape := _ESCAPE.search(text):
        before = text[: escape.start()]
        mark = Position(before.count("\n") + 1, len(before) - before.rfind("\n"))
        return mark, f"not YAML: found {escape[0]}, right is a character that there is"
    return START, "not YAML: found what cannot be read, right is plain YAML 1.2"


def _mark(place: Any) -> Position:  # noqa: ANN401 - the parser has no type for it
    if isinstance(place, Position):
        return place
    return Position(place.line + 1, place.column + 1)


class _Glance:
    """A look at the lines about the place where a parser gave up."""

    def __init__(self, text: str, place: Any, began: Any) -> None:  # noqa: ANN401 - as _mark
        self.lines = re.split(r"\r\n|\r|\n", text)
        self.place = place
        self.began = began
        self.line = self.lines[place.line] if place.line < len(self.lines) else ""

    def at(self, problem: str, context: str) -> tuple[Any, str] | None:
        """Return where to look and for what; None where nothing better is known."""
        margin = self.line[: len(self.line) - len(self.line.lstrip())]
        if "\t" in margin:
            mark = Position(self.place.line + 1, margin.index("\t") + 1)
            return mark, "found a tab, right is spaces: use spaces to indent"
        if like := self.look_alike():
            return like
        if "scalar" in context or "anchor" in context or "alias" in context:
            return self.value(problem, context)
        if "parsing a flow" in context:
            return self.bracket(problem)
        return self.block(problem)

    def look_alike(self) -> tuple[Any, str] | None:
        """Look for a sign that looks like another one, here or on the line above."""
        for number in (self.place.line, self.above(self.place.line)[0]):
            line = self.lines[number] if number < len(self.lines) else ""
            for pattern, right in _LOOK_ALIKE:
                if match := pattern.match(line):
                    sign, mark = match[1], Position(number + 1, match.start(1) + 1)
                    what = f'"{sign}"' if sign.isprintable() else f"U+{ord(sign):04X}"
                    return mark, f"found the sign {what}, right is {right}"
        return None

    def sort(self) -> tuple[Any, str]:
        """Look at what the parser takes for a word to itself, or of its own sort."""
        if self.line.startswith("%"):
            line = found(self.line.rstrip())
            mark = Position(self.place.line + 1, 1)
            return mark, f"found {line}, right is a scene without a line of %"
        sign = self.line.rfind("!", 0, self.place.column + 1)
        if sign >= 0:
            mark = Position(self.place.line + 1, sign + 1)
            return mark, f"found a tag at its start, {_QUOTE_IT}"
        return self.place, f"found {self.sign(self.place)} there, {_QUOTE_IT}"

    def value(self, problem: str, context: str) -> tuple[Any, str]:
        if "quoted scalar" in context:
            return self.quote(problem)
        return self.began, f"found {self.sign(self.began)} at its start, {_QUOTE_IT}"

    def block(self, problem: str) -> tuple[Any, str] | None:
        """Look at lines that are no part of a list or a mapping in brackets."""
        if "cannot start any token" in problem:
            return (
                self.place,
                f"found {self.sign(self.place)} at its start, {_QUOTE_IT}",
            )
        if "mapping values are not allowed" in problem:
            return self.second_colon()
        if "could not find expected ':'" in problem:
            return self.began, _without_colon(self.lines[self.began.line])
        if "sequence entries are not allowed" in problem:
            return self.place, "found - behind a key, right is - on a line of its own"
        if "<document start>" in problem:
            return self.place, "found text behind the end, right is one scene a file"
        if "<block end>" in problem:
            return self.out_of_line(problem)
        return None

    def sign(self, place: Any) -> str:  # noqa: ANN401 - as _mark
        return found(self.lines[place.line][place.column : place.column + 1])

    def quote(self, problem: str) -> tuple[Any, str]:
        if "end of stream" in problem or "document separator" in problem:
            sign = self.sign(self.began).replace('\\"', '"')[1:-1]
            return self.began, (
                f"found a quote that is not closed, right is another {sign} at the end "
                r'of the value; inside of "..." a " is written \"'
            )
        return self.place, (
            r"found \ before what it cannot stand before, right is \\, or the value in "
            "single quotes"
        )

    def bracket(self, problem: str) -> tuple[Any, str]:
        """Look at a list or a mapping in brackets that goes on where it should end."""
        sign = self.sign(self.began).strip('"')
        if sign not in _CLOSING:
            return self.no_value(problem)
        closing = _CLOSING[sign]
        if self.place.line > self.began.line or "<stream end>" in problem:
            return self.began, f"found {sign} that is not closed, right is {closing}"
        other = self.sign(self.place)
        if other.strip('"') in _CLOSING.values():
            return self.place, f"found {other}, right is {closing} to close {sign}"
        before = self.line[: self.place.column].rstrip()
        right = "right is a comma before the next entry"
        if before[-1:] in ("'", '"'):
            right = _BEHIND[before[-1]]
        return self.place, f"found {other} there, {right}"

    def no_value(self, problem: str) -> tuple[Any, str]:
        """Look at brackets in which something else stands where a value should."""
        if "<stream end>" not in problem:
            return self.place, f"found {self.sign(self.place)} there, right is a value"
        before = "\n".join([*self.lines[: self.place.line], self.line])
        # The last one that is open: what is closed behind it, is taken out.
        while before != (rest := _CLOSED.sub(lambda one: " " * len(one[0]), before)):
            before = rest
        last = max(before.rfind(sign) for sign in _CLOSING)
        mark = Position(
            before.count("\n", 0, last) + 1, last - before.rfind("\n", 0, last)
        )
        closing = _CLOSING.get(before[last], "]")
        return mark, f"found {before[last]} that is not closed, right is {closing}"

    def second_colon(self) -> tuple[Any, str]:
        before = self.line[: self.place.column]
        if ": " in before:
            return self.place, (
                "found a second colon in a line, right is the value in quotes, or the "
                "key on a line of its own"
            )
        number, above = self.above(self.place.line)
        if above and ":" not in above and not above.lstrip().startswith("#"):
            mark = Position(number + 1, len(above) - len(above.lstrip()) + 1)
            return mark, _without_colon(above)
        return self.indented()

    def out_of_line(self, problem: str) -> tuple[Any, str]:
        """Look at a line that belongs to nothing that is still open."""
        behind = self.line[self.place.column : self.place.column + 1]
        if behind in {"]", "}"}:
            return self.place, f"found {behind} too many, right is one for each bracket"
        before = self.line[: self.place.column].rstrip()
        if before.strip() and "'-'" not in problem:
            words = self.line[self.place.column :].split()
            # What is blank to us may end no line and be no blank to YAML.
            said = found(words[0]) if words else f"U+{ord(behind or ' '):04X}"
            what = f"found {said} there"
            return self.place, f"{what}, {_BEHIND.get(before[-1], _QUOTE_IT)}"
        return self.indented()

    def indented(self) -> tuple[Any, str]:
        own = len(self.line) - len(self.line.lstrip())
        dash = self.line.lstrip().startswith("- ")
        if dash and (first := self.without_dash(own)):
            return first
        number, above = self.above(self.place.line, dash=dash)
        start = re.match(r"\s*" if dash else r"\s*(?:- +)*", above)
        there = start.end() if start else 0
        what = "the - above" if dash else "the line above"
        if there == own:
            return self.too_far_left(number, own)
        mark = Position(self.place.line + 1, own + 1)
        return mark, (
            f"found a line indented by {own}, right is as many spaces as the lines it "
            f"belongs to: {what} has {there}"
        )

    def too_far_left(self, number: int, own: int) -> tuple[Any, str]:
        """Look for the line that ended a list, between two entries of it."""
        for one in range(number + 1, self.place.line):
            line = self.lines[one]
            margin = len(line) - len(line.lstrip())
            if line.strip() and margin <= own and not line.lstrip().startswith("#"):
                return Position(one + 1, margin + 1), (
                    f"found a line indented by {margin} within an entry that begins "
                    f"with - at {own}, right is {own + 2}"
                )
        mark = Position(self.place.line + 1, own + 1)
        return mark, "found a line that belongs to nothing above, right is none"

    def without_dash(self, own: int) -> tuple[Any, str] | None:
        """Look for a first entry of the list that has no dash, above one that has."""
        first = None
        for number in range(self.place.line - 1, -1, -1):
            line = self.lines[number]
            words = line.strip()
            if not words or words.startswith("#"):
                continue
            margin = len(line) - len(line.lstrip())
            if margin <= own:
                is_key = words.split("#")[0].rstrip().endswith(":")
                return first if is_key else None
            if words.startswith("-"):
                return None
            said = found(words.split(" #")[0].rstrip())
            mark = Position(number + 1, margin + 1)
            first = mark, f'found {said} without a dash, right is "- " before it'
        return None

    def above(self, number: int, *, dash: bool = False) -> tuple[int, str]:
        """Return the line that says something before one; with a dash, if asked for."""
        for one in range(number - 1, -1, -1):
            words = self.lines[one].strip()
            if words and not words.startswith("#") and (not dash or words[0] == "-"):
                return one, self.lines[one]
        return 0, ""


def _without_colon(line: str) -> str:
    words = line.split("#", maxsplit=1)[0].strip().removeprefix("- ")
    if match := re.match(r"([\w$-]+):(?=\S)", words):
        apart = f"{match[0]} {words[match.end() :]}"
        return f"found {found(words)}, right is a space behind the colon: {apart[:40]}"
    return f"found {found(words)} without a colon, right is a key, a colon and a space"
