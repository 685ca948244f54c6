"""Every rule, as its module says it, found by looking in the folder."""

from __future__ import annotations

import ast
import inspect
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from model3d.judging.requirement import requirement_of

RULES: Final = Path(__file__).parents[1] / "rules"
"""The folder of the rules, one module each."""


@dataclass(frozen=True, slots=True)
class RulePage:
    """One rule, as its module says it.

    Attributes:
        name: The module's name in kebab-case.
        title: First line of its docstring.
        body: The rest of it, Markdown.
        tables: The tables of the rule books it reads.
    """

    name: str
    title: str
    body: str
    tables: tuple[str, ...]


def rule_pages(folder: Path = RULES) -> tuple[RulePage, ...]:
    """Return every rule by looking in the folder, sorted by name.

    Modules whose name starts with an underscore are no rules. The modules are read,
    not run.

    Raises:
        ValueError: A module has no docstring or no tuple of names called TABLES.
    """
    files = sorted(folder.glob("*.py"))
    return tuple(_page(file) for file in files if not file.name.startswith("_"))


def _page(file: Path) -> RulePage:
    tree = ast.parse(file.read_text(encoding="utf-8"))
    docstring = inspect.cleandoc(ast.get_docstring(tree) or "")
    title, _, body = docstring.partition("\n")
    if not title:
        msg = f"{file.name}: no docstring; right would be the rule's page"
        raise ValueError(msg)
    name = requirement_of(file.stem)
    return RulePage(name, title.rstrip("."), body.strip(), _tables_of(tree, file.name))


def _tables_of(tree: ast.Module, file: str) -> tuple[str, ...]:
    for node in tree.body:
        targets: list[ast.expr] = []
        if isinstance(node, ast.Assign):
            targets = node.targets
        elif isinstance(node, ast.AnnAssign):
            targets = [node.target]
        else:
            continue
        named = any(isinstance(one, ast.Name) and one.id == "TABLES" for one in targets)
        if named and isinstance(node.value, ast.Tuple):
            found = ast.literal_eval(node.value)
            if all(isinstance(table, str) for table in found):
                return tuple(found)
    msg = f"{file}: no TABLES; right would be a tuple of the tables' names"
    raise ValueError(msg)
