"""What the codes print: one TOML file a limit, every rule book in it, no logic."""

from __future__ import annotations

from model3d.codebook.books import BOOKS
from model3d.codebook.entry import Entry
from model3d.codebook.errors import BookError
from model3d.codebook.figures import Mark, Measures, PrintedFigure, VoltageRow
from model3d.codebook.rule_book import RuleBook, load_book
from model3d.codebook.tables import read_table, table_names

__all__ = [
    "BOOKS",
    "BookError",
    "Entry",
    "Mark",
    "Measures",
    "PrintedFigure",
    "RuleBook",
    "VoltageRow",
    "load_book",
    "read_table",
    "table_names",
]
