"""Good scenes spoilt at random: a Scene comes of it, or a SceneError, nothing else."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from model3d.scene.scene import Scene
from model3d.scene.text.reader import SceneError, read_scene, read_text

if TYPE_CHECKING:
    from collections.abc import Callable

pytestmark = pytest.mark.many

GOOD = Path(__file__).parents[1] / "good"
TEXTS = {
    path.name: path.read_text(encoding="utf-8")
    for path in sorted(GOOD.iterdir())
    if path.suffix in {".yaml", ".json"}
}
JARGON = re.compile(
    r"Input should|Field required|Extra inputs|[Vv]alid |union|tuple|literal|"
    r"a value of another kind|constrained|function-|NoneType|model_"
)
ODD = st.sampled_from(
    [
        *("", "~", "null", "true", "no", "0", "-1", "1e400", ".nan", "-.inf", "0x10"),
        *("9" * 400, "1.5", '"12 in"', "[]", "{}", "[1, 2]", "[[1]]", "{a: 1}", "*a"),
        *("&a 3", "!!str 3", "!x 3", "!!python/name:os.system", "LP1", "none", "pair"),
        *("{<<: *a}", "? ", "- ", "|", ">", "%", "@", '"\\ud800"', "'", "2024-01-01"),
    ]
)
KEYS = st.sampled_from(
    [
        *("id", "kind", "size", "place", "wall", "at", "along", "from", "to", "mesh"),
        *("doors", "tiers", "set", "add", "open", "fields", "from_", "items", "room"),
        *("outline", "walls", "working_space", "turn", "supply", "expect", "<<", "1"),
    ]
)
QUICK = settings(
    deadline=None, max_examples=150, suppress_health_check=[HealthCheck.too_slow]
)


def _fair(read: Callable[[], Scene]) -> None:
    error = None
    try:
        scene = read()
    except SceneError as caught:
        error = caught
    else:
        assert isinstance(scene, Scene)
    if error is None:
        return
    lines = str(error).splitlines()
    assert len(lines) == len(error.mistakes) >= 1
    for mistake, line in zip(error.mistakes, lines, strict=True):
        assert mistake.line >= 1
        assert mistake.column >= 1
        assert line.isprintable()
        if "not YAML" not in mistake.message:
            what, right = mistake.message.rsplit(", right is ", 1)
            assert what.startswith("found ")
            assert not JARGON.search(right)


@st.composite
def spoilt_lines(draw: st.DrawFn) -> tuple[str, str]:
    """Draw a good scene with lines taken away, doubled, swapped or moved in."""
    name = draw(st.sampled_from(sorted(TEXTS)))
    lines = TEXTS[name].splitlines()
    for _ in range(draw(st.integers(1, 3))):
        number = draw(st.integers(0, len(lines) - 1))
        other = draw(st.integers(0, len(lines) - 1))
        how = draw(st.sampled_from(["drop", "double", "replace", "indent"]))
        if how == "drop" and len(lines) > 1:
            del lines[number]
        elif how == "double":
            lines.insert(other, lines[number])
        elif how == "replace":
            lines[number] = lines[other]
        else:
            lines[number] = draw(st.sampled_from([" ", "  ", "- "])) + lines[number]
    return name, "\n".join(lines)


@st.composite
def spoilt_words(draw: st.DrawFn) -> tuple[str, str]:
    """Draw a good scene with a few of its words replaced: keys, ids, values."""
    name = draw(st.sampled_from(sorted(TEXTS)))
    text = TEXTS[name]
    for _ in range(draw(st.integers(1, 4))):
        words = [*re.finditer(r"[\w.-]+|\[[^][]*\]|\{[^{}]*\}", text)]
        word = draw(st.sampled_from(words))
        others = st.sampled_from([other.group() for other in words])
        new = draw(st.one_of(ODD, KEYS, others))
        text = text[: word.start()] + new + text[word.end() :]
    return name, text


@given(spoilt_lines())
@QUICK
def test_spoilt_lines(spoilt: tuple[str, str]) -> None:
    name, text = spoilt
    _fair(lambda: read_text(text, GOOD / name))


@given(spoilt_words())
@QUICK
def test_spoilt_words(spoilt: tuple[str, str]) -> None:
    name, text = spoilt
    _fair(lambda: read_text(text, GOOD / name))


@pytest.fixture(scope="module")
def spoilt_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a file to write into."""
    return tmp_path_factory.mktemp("spoilt") / "scene.yaml"


@given(
    name=st.sampled_from(sorted(TEXTS)),
    where=st.floats(0, 1),
    data=st.binary(min_size=1, max_size=6),
    taken=st.integers(0, 6),
)
@QUICK
def test_spoilt_bytes(
    spoilt_file: Path, name: str, where: float, data: bytes, taken: int
) -> None:
    good = TEXTS[name].encode()
    start = int(where * len(good))
    spoilt_file.write_bytes(good[:start] + data + good[start + taken :])
    _fair(lambda: read_scene(spoilt_file))


@given(st.text(max_size=200))
@QUICK
def test_any_text(text: str) -> None:
    _fair(lambda: read_text(text, "any.yaml"))
