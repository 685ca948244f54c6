"""What is said of a room keeps its parts: whoever looks for them finds no others.

The house rule is that nothing is printed and parsed back. What is said in the cases of
the rules is held to the same beside their answers.
"""

from __future__ import annotations

import ast
import pickle
from typing import Final

import pytest

from model3d.wording.said import (
    Amount,
    Named,
    parts_of,
    renamed,
    say,
)
from tests.judging.parts_kept import parts_lost
from tests.paths import ROOT
from tests.scenes import examples
from viewer.wording.cleaning import clean

READS_WORDS: Final = frozenset({"partition", "rpartition", "removeprefix", "split"})
FACES: Final = ("figure", "page", "sheet", "stage", "window", "wording", "report/text")
"""Folders of the viewer to which no person writes a word."""
LAYS_OUT: Final = frozenset({"letters.py", "typeface.py", "cleaning.py", "rules.py"})
"""Files that break lines at blanks, or between the paragraphs of a rule's page."""


@pytest.mark.parametrize("scene", examples.NAMES)
def test_what_is_said_of_an_example_room_keeps_its_parts(scene: str) -> None:
    assert [*parts_lost(examples.report(scene))] == []


def test_parts_outlast_another_process_and_cleaning() -> None:
    text = say("{} is {} ahead.", Named("LP1"), Amount("20 mm"))
    for kept in (pickle.loads(pickle.dumps(text)), clean(text)):  # noqa: S301 - own
        assert kept == "LP1 is 20 mm ahead."
        assert [type(part) for part in parts_of(kept)] == [Named, str, Amount, str]


def test_another_thing_with_the_same_beginning_keeps_its_name() -> None:
    text = say("{} stands before {}.", Named("LP1.2"), Named("LP1"))
    assert renamed(text, "LP1", "each") == "LP1.2 stands before each."


@pytest.mark.long
@pytest.mark.parametrize("folder", FACES)
def test_no_face_takes_words_apart(folder: str) -> None:
    """Where no person writes, no words are searched and none are cut."""
    for file in (ROOT / "viewer" / folder).rglob("*.py"):
        tree = ast.parse(file.read_text(encoding="utf-8"))
        for node in ast.walk(tree):
            if isinstance(node, ast.Import):
                assert "re" not in {one.name for one in node.names}, file
            if isinstance(node, ast.Attribute) and file.name not in LAYS_OUT:
                assert node.attr not in READS_WORDS, f"{file}: {node.lineno}"
