"""What the fuzzer once found, and a short run of it."""

from __future__ import annotations

import base64
import json
import random
from typing import TYPE_CHECKING

import pytest

from tests.fuzz import exchange
from tests.fuzz.__main__ import PARTS
from tests.fuzz.files import whole_files
from tests.fuzz.part import CASES, shrunk

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from tests.fuzz.part import Example

pytestmark = pytest.mark.many

SHORT = {
    "scenes": 150,
    "commands": 100,
    "relations": 25,
    "more-room": 25,
    "contact": 60,
    "meshes": 120,
    "exchange": 60,
}


@pytest.mark.parametrize("file", sorted(CASES.glob("*.json")), ids=lambda one: one.stem)
def test_what_was_found_once_is_mended(file: Path) -> None:
    case = json.loads(file.read_text(encoding="utf-8"))
    assert not PARTS[case["part"]].wrong(case["example"]), case["wrong"]


@pytest.mark.parametrize("name", PARTS)
def test_a_short_run(name: str) -> None:
    for number in range(SHORT[name]):
        made = PARTS[name].example(random.Random(number))  # noqa: S311 - no secret
        wrong = PARTS[name].wrong(made)
        assert not wrong, (number, wrong)


@pytest.mark.parametrize("name", whole_files())
def test_a_file_that_is_damaged_is_good_before(name: str) -> None:
    whole = base64.b64encode(whole_files()[name].data).decode()
    assert exchange.status_of({"name": name, "data": whole}) in (0, 1)
    assert not exchange.wrong({"name": name, "data": whole})


class _Long:
    """A part in whose examples a 7 is wrong."""

    @staticmethod
    def example(draw: random.Random) -> Example:
        return {"numbers": [draw.randrange(10) for _ in range(50)]}

    @staticmethod
    def wrong(example: Example) -> str:
        return "a seven: there" if 7 in example["numbers"] else ""

    @staticmethod
    def smaller(example: Example) -> Iterator[Example]:
        numbers = example["numbers"]
        for at in range(len(numbers)):
            yield {"numbers": numbers[:at] + numbers[at + 1 :]}


def test_a_failure_is_made_smaller() -> None:
    made = {"numbers": [1, 2, 7, 3, 7]}
    assert shrunk(_Long(), made) == {"numbers": [7]}
