"""What DEVELOPERS.md says of adding is all that it takes, tried in a copy of the tree.

All of it is invented: a rule, an edition, a kind, a command and a format of a report.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from typing import TYPE_CHECKING, Any, Final

import pytest

from model3d.codebook import BOOKS, load_book, table_names
from tests.paths import ROOT

if TYPE_CHECKING:
    from pathlib import Path

pytestmark = pytest.mark.many

FOLDERS: Final = ("model3d", "viewer", "tests", "scenes")
FILES: Final = ("pyproject.toml", "README.md", "DEVELOPERS.md")
MADE: Final = ("__pycache__", "node_modules", "*_cache")


class Tree:
    """A copy of the tree, to add to."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        for name in FOLDERS:
            unwanted = shutil.ignore_patterns(*MADE)
            shutil.copytree(ROOT / name, folder / name, ignore=unwanted)
        for name in FILES:
            shutil.copy(ROOT / name, folder)

    def write(self, name: str, text: str) -> None:
        """Add a file, or write one again."""
        (self.folder / name).write_text(text, encoding="utf-8")

    def change(self, name: str, old: str, new: str) -> None:
        """Change a file where it says something once."""
        text = (self.folder / name).read_text(encoding="utf-8")
        assert text.count(old) == 1
        self.write(name, text.replace(old, new))

    def run(self, *arguments: str, status: int = 0) -> str:
        """Run Python there and return what it prints."""
        done = subprocess.run(  # noqa: S603 - this Python, in the copy
            [sys.executable, *arguments],
            cwd=self.folder,
            env={**os.environ, "PYTHONUTF8": "1", "COLUMNS": "100"},
            capture_output=True,
            encoding="utf-8",
            check=False,
        )
        assert done.returncode == status, f"{done.stdout}\n{done.stderr}"
        return done.stdout

    def test(self, *arguments: str) -> None:
        """Run tests there; all must pass."""
        self.run("-m", "pytest", "-q", "-p", "no:cacheprovider", *arguments)


@pytest.fixture
def tree(tmp_path: Path) -> Tree:
    return Tree(tmp_path / "tree")


RULE = '''"""Room for a lamp.

Applies to: every panelboard.

Measures: from the front outwards as far as the book says.

Breach: any solid there, by more than contact.

Exceptions: none.

Source: NEC 110.26; invented.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from model3d.judging.requirement import requirement_of
from model3d.judging.space import ANY, Space, Stretch
from model3d.working.front import front_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.situation import Situation
    from model3d.standing.placed import Placed

TABLES: Final = ("lamp-room",)
REQUIREMENT: Final = requirement_of(__name__)


def claims(item: Placed, situation: Situation) -> Iterator[Space]:
    """Ask for the room before a panelboard."""
    entry = situation.book.entry(TABLES[0])
    if not (entry.given and item.front and item.kind.name == "panelboard"):
        return
    front = front_of(item)
    depth = entry.figure("depth").at_least(situation.measures)

    def limit(placed: Placed) -> Stretch | None:
        may = placed is item or placed.id == "floor"
        return None if may else Stretch(0.0, depth)

    yield Space(
        requirement=REQUIREMENT,
        subject=item.id,
        frame=front.frame,
        width=front.width,
        depth=depth,
        bottom=front.bottom,
        top=front.top,
        limit=limit,
        required={"depth": depth},
        measures={"depth": "out"},
        citations={ANY: entry.cite("depth")},
        clear="There is room for a lamp.",
    )
'''
TABLE = """# Invented, from memory.
title = "Room for a lamp"

[keys]
depth = { is = "length", about = "least depth" }

[nec-2014]
section = "110.26"
checked = "memory"
depth = { si = "300 mm", inch_pound = "12 in" }
"""
CASES = """
bases:
  closet:
    units: mm
    measures: si
    rules: nec-2023
    room: {size: [2000, 2000], height: 2500, walls: gypsum}
    items:
      - id: LP1
        kind: panelboard
        size: [500, 150, 900]
        place: {wall: north, along: 500, bottom: 900}
        supply: {system: 208Y/120}
        door: left
never: {open: nothing has to be known of it}
cases:
  - {name: There is room, kind: met, source: invented, from: closet,
     expect: {LP1: {verdict: met, required: {depth: 300}}}}
  - {name: A wall at the limit, kind: at-the-limit, source: invented, from: closet,
     with: {room: {size: [2000, 450]}}, expect: {LP1: {verdict: met, margin: 0}}}
  - {name: A wall 1 mm nearer, kind: past-by-1-mm, source: invented, from: closet,
     with: {room: {size: [2000, 449]}}, expect: {LP1: {verdict: not-met}}}
  - {name: A disconnect, kind: not-applicable, source: invented, from: closet,
     items: [{id: LP1, kind: disconnect}], expect: {LP1: none}}
"""
STORY = """\
# A closet with a lamp: invented, to try what it takes to add a rule to the others.
# One panelboard has the room that the rule asks for, and before the
# other one stands a box of goods, so that nobody can hold a lamp there.
#
# What to learn: that a rule is a file, its table, its cases and a room like this one.
title: Closet with a lamp
units: mm
rules: nec-2023
room: {size: [6000, 4000], height: 3000, walls: gypsum}
items:
  - id: LP1
    kind: panelboard
    size: [500, 150, 900]
    place: {wall: north, along: 500, bottom: 900}
    supply: {system: 208Y/120}
    door: left
  - id: LP2
    kind: panelboard
    size: [500, 150, 900]
    place: {wall: north, along: 4500, bottom: 900}
    supply: {system: 208Y/120}
    door: left
  - {id: BOX, kind: storage, size: [500, 500, 1500], place: {at: [4750, 3400]}}
"""


def as_in(other: str, *books: str) -> str:
    """Return blocks of editions that print what another one prints."""
    blocks = (f'[{book}]\nas_in = "{other}"\nchecked = "memory"\n' for book in books)
    return "\n".join(("", *blocks))


def test_a_rule(tree: Tree) -> None:
    tree.write("model3d/rules/lamp_room.py", RULE)
    nec = tuple(book for book in BOOKS[1:] if book.startswith("nec"))
    absent = "".join(
        f'\n[{book}]\nabsent = "it says nothing of lamps"\nchecked = "read"\n'
        for book in BOOKS
        if not book.startswith("nec")
    )
    table = TABLE + as_in("nec-2014", *nec) + absent
    tree.write("model3d/codebook/tables/lamp-room.toml", table)
    tree.write("tests/rules/lamp-room.yaml", CASES)
    tree.write("scenes/lamp-closet.yaml", STORY)
    tree.run("-m", "model3d.catalogue")
    rooms = ("tests/scenes/test_golden.py", "tests/scenes/test_stories.py")
    tree.test(
        *rooms, "--update-golden", "-k", "golden or schema or story_first or list"
    )
    tree.test("tests/codebook", "tests/rules", "-k", "lamp or catalogue or rule")
    tree.test(*rooms, "-k", "lamp or best_and or list")
    told = tree.run("-m", "viewer.cli", "check", "scenes/lamp-closet.yaml", status=1)
    assert "LP2   lamp-room" in told
    assert "Room for a lamp" in tree.run("-m", "viewer.cli", "rules", "nec-2020")


def test_an_edition(tree: Tree) -> None:
    latest = [book for book in BOOKS if book.startswith("nec")][-1]
    name = f'    "{latest}": "{load_book(latest).name}",\n'
    new = '    "nec-2099": "NEC 2099",\n'
    tree.change("model3d/codebook/books.py", name, name + new)
    for table in table_names():
        file = f"model3d/codebook/tables/{table}.toml"
        text = (tree.folder / file).read_text(encoding="utf-8")
        _, head, said = text.partition(f"[{latest}]\n")
        said = said[: said.index("\n[")]
        block = said if "as_in" in said else f'as_in = "{latest}"\nchecked = "memory"\n'
        tree.change(file, f"{head}{said}", f"{head}{said}\n[nec-2099]\n{block}")
    tree.run("-m", "model3d.catalogue")
    tree.test("tests/codebook", "tests/viewer/cli/test_cli.py", "-k", "not leaves")
    room = "scenes/clean-small-room.yaml"
    tree.run("-m", "viewer.cli", "check", room, "--rules", "nec-2099")
    assert "NEC 2099 110.26(A)(2)" in tree.run("-m", "viewer.cli", "rules", "nec-2099")


def test_a_kind(tree: Tree) -> None:
    row = '    _row("transfer-switch", '
    new = '    _row("capacitor", "Capacitor bank", "gear"),\n'
    tree.change("model3d/scene/kinds.py", row, new + row)
    tree.run("-m", "model3d.catalogue")
    listed = (tree.folder / "scenes" / "format.md").read_text(encoding="utf-8")
    assert "| `capacitor` | Capacitor bank |" in listed
    tree.test("tests/scene", "tests/viewer/stage", "tests/rules/test_cases.py")
    room = tree.folder / "scenes" / "clean-small-room.yaml"
    text = room.read_text(encoding="utf-8")
    assert "kind: disconnect" in text
    room.write_text(text.replace("kind: disconnect", "kind: capacitor"), "utf-8")
    told = tree.run("-m", "viewer.cli", "check", str(room), "--format", "json")
    judged = {(one["subject"], one["requirement"]) for one in judgements(told)}
    assert ("DS1", "working-space") in judged
    assert '"Capacitor bank"' in tree.run("-m", "viewer.cli", "schema")
    page = tree.folder / "room.html"
    tree.run("-m", "viewer.cli", "page", str(room), "-o", str(page))
    assert "capacitor" in page.read_text(encoding="utf-8")


def judgements(told: str) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = json.loads(told)["judgements"]
    return found


COMMAND = '''"""Count the items of a scene."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from viewer.cli.given.arguments import scene_argument
from viewer.output.outlet import emit

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace

RANK: Final = 50


def take(parser: ArgumentParser) -> None:
    """Take a scene."""
    scene_argument(parser)


def run(arguments: Namespace) -> int:
    """Print how many items there are, and return the exit status."""
    from model3d import read_scene

    emit(f"{len(read_scene(arguments.scene).items)} items\\n")
    return 0
'''
FORMAT = '''"""Every scene is its count of what is met, on a line."""

from __future__ import annotations

from typing import TYPE_CHECKING

from viewer.output.outlet import emit
from viewer.wording.refusal import Refused

TELLS_REMEDIES = False

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from model3d import Report
    from viewer.report.basis import Basis
    from viewer.report.formats import Manner


def part(one: Report | Refused, basis: Basis, manner: Manner) -> str:
    """Return how much is met, and whether remedies are asked for."""
    more = ", to be mended" if manner.mend else ""
    return "" if isinstance(one, Refused) else f"{one.counts['met']} met{more}\\n"


def write(parts: Sequence[str], output: Path | None, manner: Manner) -> None:
    """Write a line a scene."""
    emit("".join(parts), output)
'''


def test_a_command_and_a_format(tree: Tree) -> None:
    tree.write("viewer/cli/count.py", COMMAND)
    tree.write("viewer/report/formats/tally.py", FORMAT)
    tree.test("tests/viewer/cli/test_cli.py")
    room = "scenes/pump-station.yaml"
    assert "Count the items of a scene." in tree.run("-m", "viewer.cli", "--help")
    assert tree.run("-m", "viewer.cli", "count", room).endswith(" items\n")
    told = tree.run("-m", "viewer.cli", "check", room, "--format", "tally", status=1)
    assert told == "36 met\n"
    told = " ".join(tree.run("-m", "viewer.cli", "check", "--help").split())
    assert "{text,csv,json,jsonl,parquet,tally}" in told
    assert "With --format tally every scene is its count of what is met" in told
