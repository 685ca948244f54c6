"""YAML is read alike with and without libyaml, and lines end where YAML 1.2 says."""

from __future__ import annotations

from typing import TYPE_CHECKING

import yaml

from model3d.scene.text.composing.composer import compose
from model3d.scene.text.composing.nodes import NotReadError

if TYPE_CHECKING:
    from pathlib import Path

    import pytest


def _read(text: str) -> object:
    try:
        return compose(text)
    except NotReadError as error:
        return error.mark, str(error)


def _assert_alike(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    text = path.read_text(encoding="utf-8")
    with_it = _read(text)
    monkeypatch.setattr(yaml, "__with_libyaml__", False)
    assert _read(text) == with_it


def test_good_files_are_read_alike(good: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    _assert_alike(good, monkeypatch)


def test_broken_files_are_read_alike(
    broken: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    _assert_alike(broken, monkeypatch)


def test_json_with_tabs_is_read_alike(monkeypatch: pytest.MonkeyPatch) -> None:
    text = '{\n\t"a": [\n\t\t1,\n\t\t"x\ty"\n\t]\n}'
    with_it = compose(text)
    monkeypatch.setattr(yaml, "__with_libyaml__", False)
    assert compose(text) == with_it
    assert with_it[0] is not None
    assert with_it[0].value == {"a": [1, "x\ty"]}


def test_lines_end_where_yaml_1_2_says() -> None:
    # YAML 1.2.2, 5.4: these end no line, as they did in YAML 1.1.
    node, _ = compose("a: x\u2028y\nb: 'x\x85y\u2029'\nc: 1")
    assert node is not None
    assert node.value == {"a": "x\u2028y", "b": "x\x85y\u2029", "c": 1}
    assert node.mark_of(("c",)) == (3, 4)
