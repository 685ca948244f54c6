"""What a part of the fuzzer offers, how its failures are made smaller, and kept."""

from __future__ import annotations

import base64
import hashlib
import json
import time
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, Protocol

if TYPE_CHECKING:
    from collections.abc import Iterator
    from random import Random

Example = dict[str, Any]
"""Plain data, from which all is made again."""

CASES: Final = Path(__file__).parent / "cases"
_MOST_SECONDS: Final = 60.0
"""How long smaller examples are tried."""


class Part(Protocol):
    """One way to try to break the product."""

    def example(self, draw: Random) -> Example:
        """Make an example."""

    def wrong(self, example: Example) -> str:
        """Say what is wrong with it, the kind of it before a colon; "" if nothing."""

    def smaller(self, example: Example) -> Iterator[Example]:
        """Yield examples with less in them, those with much less first."""


def shrunk(part: Part, example: Example) -> Example:
    """Return the smallest example found with which the same is wrong."""
    kind = _kind(part.wrong(example))
    end = time.monotonic() + _MOST_SECONDS
    found = True
    while found:
        found = False
        for less in part.smaller(example):
            if time.monotonic() > end:
                return example
            if _kind(part.wrong(less)) == kind:
                example, found = less, True
                break
    return example


def smaller_files(example: Example) -> Iterator[Example]:
    """Yield an example with parts of its file, which is its data, left out."""
    data = base64.b64decode(example["data"])
    for size in (len(data) // 2, len(data) // 8, len(data) // 32, 1):
        if size:
            for start in range(0, len(data), size):
                less = base64.b64encode(data[:start] + data[start + size :])
                yield {**example, "data": less.decode()}


def save(name: str, example: Example, wrong: str) -> Path:
    """Keep an example as a case of a part."""
    text = json.dumps({"part": name, "wrong": wrong, "example": example}, indent=1)
    CASES.mkdir(exist_ok=True)
    digest = hashlib.sha256(text.encode()).hexdigest()[:8]
    file = CASES / f"{name}-{digest}.json"
    file.write_text(f"{text}\n", encoding="utf-8")
    return file


def _kind(wrong: str) -> str:
    return wrong.partition(":")[0]
