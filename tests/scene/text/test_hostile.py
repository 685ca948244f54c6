"""Files that are no scene at all, or mean harm: one line each, and no more."""

from __future__ import annotations

import json
import time
from typing import TYPE_CHECKING

import pytest

from model3d.scene.text import reader as reading
from model3d.scene.text.composing.composer import compose
from model3d.scene.text.composing.loaders import has_too_many
from model3d.scene.text.reader import SceneError, read_scene, read_text

if TYPE_CHECKING:
    from pathlib import Path

HEAD = "title: T\nunits: mm\nrules: nec-2023\n"


def _one_line(path: Path | str) -> str:
    with pytest.raises(SceneError) as caught:
        read_scene(path)
    (mistake,) = caught.value.mistakes
    line = str(mistake)
    assert line == str(caught.value)
    assert line.startswith(f"{path}:{mistake.line}:{mistake.column}: ")
    return line.removeprefix(f"{path}:")


def _bytes(tmp_path: Path, data: bytes) -> str:
    path = tmp_path / "scene.yaml"
    path.write_bytes(data)
    return _one_line(path)


@pytest.mark.long
@pytest.mark.parametrize(
    ("data", "line"),
    [
        (b"", "1:1: found an empty file, right is a scene"),
        (b"\xef\xbb\xbf", "1:1: found an empty file, right is a scene"),
        (b"---\n...\n", "1:1: found an empty file, right is a scene"),
        (b"title: \xe4\n", "1:8: found the byte 0xE4, right is UTF-8 text"),
        (
            b"# \xc3\xa4\ntitle: \xc3\xa4\xff\n",
            "2:9: found the byte 0xFF, right is UTF-8 text",
        ),
        (
            "title: T\n".encode("utf-16"),
            "1:1: found the byte 0xFF, right is UTF-8 text",
        ),
        (
            b"title: T\nunits: \x00\n",
            "2:8: found the character U+0000, right is text without control characters",
        ),
        (b"\x89PNG\r\n\x1a\n", "1:1: found the byte 0x89, right is UTF-8 text"),
        (b"[" * 100_000, "1:65: found more than 64 levels, right is less nesting"),
        (b"{a: " * 100_000, "1:257: found more than 64 levels, right is less nesting"),
        (b"- " * 100_000, "1:129: found more than 64 levels, right is less nesting"),
        (
            b'a: "\\U00110000"\n',
            "1:5: not YAML: found \\U00110000, right is a character that there is",
        ),
        (b"%YAML 3.0\n---\na: 1\n", None),
        (b"a: 'never closed\n", None),
        (b"@: 1\n", None),
    ],
)
def test_no_scene_at_all(tmp_path: Path, data: bytes, line: str | None) -> None:
    said = _bytes(tmp_path, data)
    assert said == line if line else "not YAML: " in said


def test_a_folder_and_a_missing_file(tmp_path: Path) -> None:
    assert _one_line(tmp_path).endswith("found a folder, right is a scene file")
    missing = tmp_path / "none.yaml"
    assert _one_line(str(missing)).endswith("found no such file, right is a scene file")


def test_a_file_that_cannot_be_opened(tmp_path: Path) -> None:
    said = _one_line(tmp_path / ("x" * 5000))
    assert "found a file that cannot be read" in said or "no such file" in said
    with pytest.raises(SceneError, match=r"found (a file that cannot|no such file)"):
        read_scene("a\0b")


def test_an_enormous_file(tmp_path: Path) -> None:
    path = tmp_path / "scene.yaml"
    with path.open("wb") as stream:
        stream.truncate(reading.LARGEST + 1)
    assert _one_line(path).endswith("found more than 32 MiB, right is a smaller file")
    with pytest.raises(SceneError, match="found more than 33554432 characters"):
        read_text(" " * (reading.LARGEST + 1), path)


def test_aliases_without_end_take_no_time() -> None:
    laughs = "a0: &a0 [x, x, x, x, x, x, x, x, x, x]\n" + "".join(
        f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 10)}]\n" for n in range(1, 40)
    )
    start = time.perf_counter()
    with pytest.raises(SceneError, match="found more than 5000000 values"):
        read_text(laughs, "laughs.yaml")
    # Written out it would be 10 to the 40th values.
    assert time.perf_counter() - start < 5


def test_aliases_that_nest_deeper_than_the_text() -> None:
    chain = "a0: &a0 [x]\n" + "".join(
        f"a{n}: &a{n} [*a{n - 1}]\n" for n in range(1, 100)
    )
    with pytest.raises(SceneError, match="found more than 64 levels"):
        read_text(chain, "chain.yaml")


@pytest.mark.long
def test_every_mistake_of_a_long_file_up_to_a_bound() -> None:
    row = "  - {{id: A{}, kind: pad, size: [0, 1, 1], place: {{at: [0, 0]}}}}\n"
    items = "".join(row.format(number) for number in range(600))
    room = "room: {size: [4000, 3000], height: 2700}\nitems:\n"
    with pytest.raises(SceneError) as caught:
        read_text(HEAD + room + items, "long.yaml")
    assert len(caught.value.mistakes) == 600
    assert caught.value.mistakes[-1].item == "A599"


def test_mistakes_beyond_the_bound_are_counted(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(reading, "MOST_MISTAKES", 3)
    with pytest.raises(SceneError) as caught:
        read_text("a: 1\nb: 1\nc: 1\nd: 1\ne: 1\n", "many.yaml")
    lines = str(caught.value).splitlines()
    assert len(lines) == 4
    assert "found at least" in lines[-1]


def test_a_line_break_in_an_id_stays_on_its_line() -> None:
    item = r'  - {id: "A\nB\e[31m", kind: pad, size: [0, 1, 1], place: {at: [0, 0]}}'
    room = "room: {size: [4000, 3000], height: 2700}\nitems:\n"
    with pytest.raises(SceneError) as caught:
        read_text(HEAD + room + item, "two\nlines.yaml")
    first, second = str(caught.value).splitlines()
    assert r"A\nB\x1b[31m: id: found" in first
    assert r"A\nB\x1b[31m: size #1: found 0" in second


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_a_missing_value_is_told_whatever_ends_lines(end: str) -> None:
    # YAML 1.2.2, 5.4: a carriage return alone ends a line as well.
    lines = ("title: T", "units: mm", "rules:  # none yet", "room: {size: [4, 3]}")
    with pytest.raises(SceneError) as caught:
        read_text(end.join(lines), "ends.yaml")
    (said,) = [one for one in str(caught.value).splitlines() if "rules" in one]
    assert said.startswith("ends.yaml:3:")
    assert "rules: found nothing, right is a rule book" in said


def test_half_a_character_in_text_is_refused() -> None:
    # YAML 1.2.2, 5.7: escapes stand for Unicode characters; half a pair is none.
    with pytest.raises(SceneError) as caught:
        read_text('title: "\\ud800"\nunits: mm\n"\\udfff": 1\n', "half.yaml")
    assert str(caught.value).encode("ascii")
    assert "text of whole characters" in str(caught.value)


def test_a_link_out_of_the_folder_is_refused(tmp_path: Path) -> None:
    outside = tmp_path / "outside.stl"
    outside.write_text("solid\nendsolid\n", encoding="utf-8")
    folder = tmp_path / "scene"
    folder.mkdir()
    (folder / "mesh.stl").symlink_to(outside)
    mesh = "room: {size: [1, 1], height: 1}\nitems: [{id: A, kind: obstacle, mesh: %s}]"
    with pytest.raises(SceneError, match="right is a file in the scene's folder"):
        read_text(HEAD + mesh % "mesh.stl", folder / "scene.yaml")
    triangle = (
        "solid\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 1 0 0\n"
        "vertex 0 1 0\nendloop\nendfacet\nendsolid\n"
    )
    (folder / "own.STL").write_text(triangle, encoding="utf-8")
    scene = read_text(HEAD + mesh % "own.STL", folder / "scene.yaml")
    assert scene.items[0].mesh == "own.STL"


@pytest.mark.parametrize("name", ["x" * 5000 + ".stl", "no/such/folder.stl", "."])
def test_a_mesh_that_cannot_be(name: str, tmp_path: Path) -> None:
    mesh = "room: {size: [1, 1], height: 1}\nitems: [{id: A, kind: obstacle, mesh: %s}]"
    with pytest.raises(SceneError, match=r"A: mesh: found .*, right is a file "):
        read_text(HEAD + mesh % name, tmp_path / "scene.yaml")


def test_a_folder_is_no_mesh(tmp_path: Path) -> None:
    (tmp_path / "folder.stl").mkdir()
    mesh = "room: {size: [1, 1], height: 1}\nitems: [{id: A, kind: obstacle, mesh: %s}]"
    with pytest.raises(SceneError, match="right is a plain file"):
        read_text(HEAD + mesh % "folder.stl", tmp_path / "scene.yaml")


def test_a_mesh_that_is_too_large(tmp_path: Path) -> None:
    with (tmp_path / "big.ply").open("wb") as stream:
        stream.truncate(512 * 2**20 + 1)
    mesh = "room: {size: [1, 1], height: 1}\nitems: [{id: A, kind: obstacle, mesh: %s}]"
    with pytest.raises(SceneError, match="right is a file of at most 512 MiB"):
        read_text(HEAD + mesh % "big.ply", tmp_path / "scene.yaml")


MANY = 200_000


@pytest.mark.long
@pytest.mark.parametrize(
    ("more", "right"),
    [
        (
            "# \u00e9 a comment of about forty characters\n" * MANY,
            "room: found nothing",
        ),
        (f"# {'x' * 40 * MANY}\n", "room: found nothing"),
        (f'use: "{"x " * 20 * MANY}"\n', "text of at most 10000 characters"),
        ("# a comment of about forty characters\n" * MANY + "a: [\n", "not YAML"),
        ("x: {" + ", ".join(f"a{n}" for n in range(20_000)) + "}\n", "unknown key"),
    ],
)
def test_a_long_text_is_read_in_seconds(more: str, right: str) -> None:
    start = time.perf_counter()
    with pytest.raises(SceneError, match=right):
        read_text(HEAD + more, "long.yaml")
    assert time.perf_counter() - start < 10


def test_a_word_of_a_large_file_holds_nothing_of_its_own() -> None:
    node, faults = compose("a: [1, {b: c}]\n")
    assert not faults
    assert node is not None
    one, other = node.parts["a"].parts[0], node.parts["a"].parts[1].parts["b"]
    assert one.parts is other.parts
    assert not one.parts
    assert not one.keys


@pytest.mark.long
def test_a_list_without_end_is_refused_at_a_glance() -> None:
    text = f"size: [{'1,' * 15_000_000}1]\n"
    start = time.process_time()
    with pytest.raises(SceneError, match="found more than 5000000 values"):
        read_text(text, "long.yaml")
    # Reading it value by value takes a minute.
    assert time.process_time() - start < 10


def test_signs_in_words_are_no_values() -> None:
    assert not has_too_many("title: 'a, b - c: d'  # e, f: g", 3)
    assert not has_too_many('title: "a \\" , , , ,"', 3)
    assert has_too_many("- a\n- b\n- c\n- d\n", 3)
    assert has_too_many("{a: 1, b: 2}", 2)


def test_a_long_name_of_an_alias_is_cut() -> None:
    with pytest.raises(SceneError) as caught:
        read_text(f"a: *{'x' * 10_000}\n", "a.yaml")
    assert len(str(caught.value)) < 200


def test_an_outline_has_a_bound() -> None:
    corners = ", ".join(f"[{n}, {n * n}]" for n in range(1001))
    text = f"title: T\nunits: mm\nrules: nec-2023\nroom: {{outline: [{corners}]}}\n"
    with pytest.raises(SceneError, match="a list of at most 1000"):
        read_text(text, "a.yaml")


@pytest.mark.parametrize("name", ["a.yaml", "a.json"])
def test_a_character_in_two_halves_is_one(name: str) -> None:
    """As RFC 8259, 7, writes what does not fit into sixteen bits."""
    data = {"title": "Room \U0001f600", "units": "mm", "rules": "nec-2023"}
    room = {"room": {"size": [5000, 5000], "height": 3000}}
    assert read_text(json.dumps(data | room), name).title == "Room \U0001f600"
    lone = json.dumps(data | room).replace("\\ude00", "")
    with pytest.raises(SceneError, match="whole characters"):
        read_text(lone, name)
