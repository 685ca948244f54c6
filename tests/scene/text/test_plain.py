"""What is read without its places is what is read with them, or is not read so."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from model3d.scene.text.composing.composer import compose
from model3d.scene.text.composing.nodes import NotReadError
from model3d.scene.text.composing.plain import plain_data

ROOT = Path(__file__).parents[3]
WRITTEN = sorted(
    [*(ROOT / "scenes").rglob("*.yaml"), *(ROOT / "tests" / "scene").rglob("*.yaml")]
)


@pytest.mark.parametrize("file", WRITTEN, ids=lambda file: file.stem)
def test_a_scene_is_read_alike(file: Path) -> None:
    assert read_alike(file.read_text(encoding="utf-8", errors="surrogateescape"))


def test_an_example_is_read_without_its_places() -> None:
    text = (ROOT / "scenes" / "pump-station.yaml").read_text(encoding="utf-8")
    assert plain_data(text) is not None


SIGNS = [
    "a",
    "b",
    "1",
    "0x1F",
    "~",
    "true",
    "id",
    "\u00e9",
    "\u2028",
    "<<",
    "...",
    "---",
]
SIGNS += [
    *":?-,[]{}&*!#|>'\" \t\n",
    "\n  ",
    ": ",
    "- ",
    "&a ",
    "*a",
    "!!str ",
    '"\\ud83d"',
]


@given(st.lists(st.sampled_from(SIGNS), max_size=14).map("".join))
@example("a: &x 1\nb: *x")
@example("a: 1\na: 2")
@example("a: 1\n---\nb: 2")
@example("? [1]\n: 2")
@example('a: "\\ud83d\\ude00"')
@example("[" * 70 + "]" * 70)
@example("a: " + "[" * 63 + "]" * 63)
@example("a: " + "[" * 64 + "]" * 64)
def test_any_text_is_read_alike(text: str) -> None:
    assert read_alike(text)


def read_alike(text: str) -> bool:
    data = plain_data(text)
    if data is None:
        return True
    try:
        node, faults = compose(text)
    except NotReadError:
        return False
    return node is not None and not faults and repr(node.value) == repr(data)
