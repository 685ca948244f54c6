"""The page of the scene format and its figures, from the models and the kinds."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final
from xml.sax.saxutils import escape

from model3d.scene.handbook.consequences import in_columns
from model3d.scene.handbook.drawings import FIGURES
from model3d.scene.handbook.forms import LENGTHS, UNITS, form
from model3d.scene.handbook.sections import GROUPS, KINDS_TITLE, NEEDED, head, sections
from model3d.scene.kinds import KINDS
from model3d.scene.text.schema import json_schema
from model3d.scene.words.trade import other_words

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

PAGE: Final = Path("scenes", "format.md")
FIGURE_FOLDER: Final = Path("scenes", "figures")
"""From the root of the tree."""
EXAMPLES: Final = Path(__file__).parent / "examples.toml"
_TOP: Final = 2
"""The level of the sections that the page's contents list, each with those below it."""
_NO_SIGNS: Final = str.maketrans("", "", "',.:")
"""Signs that a heading's anchor leaves out, as the places do where pages are shown."""
NOT_SHOWN: Final = ("GearType", "SetItem", *LENGTHS)
"""Parts of the schema that the page tells in words."""


def files() -> dict[Path, str]:
    """Return the page and its figures by their places in the tree."""
    made = {PAGE: page_markdown()}
    for name, draw in FIGURES.items():
        made[FIGURE_FOLDER / f"{name}.svg"] = draw().svg()
    return made


def parts() -> dict[str, dict[str, Any]]:
    """Return every part of the format by the name of its model, as its schema is."""
    schema = json_schema()
    inner = schema.pop("$defs")
    return {
        name: part
        for name, part in {"Scene": schema, **inner}.items()
        if name not in NOT_SHOWN
    }


def examples() -> dict[str, dict[str, str]]:
    """Return an example of each key, as it is written, by part and key."""
    return tomllib.loads(EXAMPLES.read_text(encoding="utf-8"))


def page_markdown() -> str:
    """Return the page."""
    return "\n\n".join([head(), _contents(), *_body()]) + "\n"


def _contents() -> str:
    lines = ["**On this page**"]
    for one in sections():
        words = one.title.lower().replace(" ", "-")
        link = f"[{one.title}](#{words.translate(_NO_SIGNS)})"
        if one.level == _TOP:
            lines.append(f"- {link}")
        else:
            lines[-1] += f"{', ' if ': ' in lines[-1] else ': '}{link}"
    return "\n\n".join((lines[0], "\n".join(lines[1:])))


def _body() -> Iterator[str]:
    there = parts()
    told = [section.part for section in sections()]
    for section in sections():
        mark = f'<a id="{section.part.lower()}"></a>' if section.part else ""
        yield f"{'#' * section.level} {section.title}"
        yield f"{mark}{section.about.strip()}"
        yield from _figures(section.figures)
        if section.part:
            yield from _keys(section.part, there[section.part])
        if section.title == KINDS_TITLE:
            yield _kinds()
    for name, part in there.items():
        if name not in told:
            yield f"### {name}"
            yield f'<a id="{name.lower()}"></a>{part["description"]}'
            yield from _keys(name, part)


def _figures(names: Iterable[str]) -> Iterator[str]:
    for name in names:
        about = escape(FIGURES[name]().about)
        yield f"![{about}]({FIGURE_FOLDER.name}/{name}.svg)"


def _keys(name: str, part: dict[str, Any]) -> Iterator[str]:
    keys = part["properties"]
    groups = GROUPS.get(name)
    if groups is None:
        yield _table(name, part, keys)
        return
    grouped = [key for one in groups.values() for key in one]
    for title, some in groups.items():
        yield f"**{title}**"
        yield _table(name, part, [key for key in some if key in keys])
    if rest := [key for key in keys if key not in grouped]:
        yield "**Further keys**"
        yield _table(name, part, rest)


def _table(name: str, part: dict[str, Any], keys: Iterable[str]) -> str:
    rows = [
        "| key | meaning | what is written | if left out | example |",
        "| --- | --- | --- | --- | --- |",
    ]
    shown = examples().get(name, {})
    for key in keys:
        said = part["properties"][key]
        example = f"`{key}: {shown[key]}`" if key in shown else ""
        about = said["description"].replace("|", r"\|")
        what = form(said, UNITS.get((name, key), ""))
        cells = [f"`{key}`", about, what, _default(name, part, key), example]
        rows.append("| " + " | ".join(cells) + " |")
    return "\n".join(rows)


def _default(name: str, part: dict[str, Any], key: str) -> str:
    if (name, key) in NEEDED:
        return NEEDED[name, key]
    if key in part.get("required", ()):
        return "**needed**"
    said = part["properties"][key]
    if "default" not in said:
        return ""
    match said["default"]:
        case bool() as flag:
            return f"`{str(flag).lower()}`"
        case int() | float() as number:
            return f"`{number:g}`"
        case str() as word:
            return f"`{word}`"
        case [*some] if some:
            return f"`[{', '.join(f'{one:g}' for one in some)}]`"
    return "none"


def _kinds() -> str:
    rows = [
        "| kind | what it is | space | above | of | surface | more | other words |",
        "| --- | --- | --- | --- | --- | --- | --- | --- |",
    ]
    for kind in KINDS.values():
        words = ", ".join(other_words(kind.name))
        cells = (f"`{kind.name}`", kind.about, *in_columns(kind), words)
        rows.append("| " + " | ".join(cells) + " |")
    return "\n".join(rows)
