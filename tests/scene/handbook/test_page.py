"""The page of the scene format: complete, true, fresh, and its figures can be read.

The models say what keys there are; the reader says whether an example is right.
"""

from __future__ import annotations

import json
import re
from itertools import chain
from typing import TYPE_CHECKING, Any
from xml.etree import ElementTree as ET

import pytest

from model3d import SceneError, check, read_text
from model3d.catalogue.__main__ import main, write_format
from model3d.scene.faults.salvage import optional, usable
from model3d.scene.handbook.drawings import FIGURES
from model3d.scene.handbook.format_page import (
    FIGURE_FOLDER,
    PAGE,
    examples,
    files,
    page_markdown,
    parts,
)
from model3d.scene.handbook.forms import UNITS, form
from model3d.scene.handbook.sections import GROUPS, NEEDED, sections
from model3d.scene.kinds import KINDS
from model3d.scene.parts.repeat import Short
from model3d.scene.scene import Scene
from model3d.scene.text.composing.composer import compose
from model3d.scene.text.schema import parts_of
from model3d.scene.text.schema_link import KEY as LINK
from tests.paths import ROOT, SCENES

if TYPE_CHECKING:
    from pathlib import Path

    from model3d.scene.parts.part import Part

SVG = "{http://www.w3.org/2000/svg}"
PARTS = parts()
MODELS: dict[str, type[Part]] = {
    part.__name__: part for part in chain(parts_of(Scene), parts_of(Short))
}
KEYS = [(name, key) for name, part in PARTS.items() for key in part["properties"]]


@pytest.fixture(scope="module")
def page() -> str:
    return page_markdown()


@pytest.mark.long
def test_the_page_and_its_figures_are_fresh() -> None:
    assert write_format(check=True, root=ROOT) == []


@pytest.mark.long
def test_what_is_stale_or_left_over_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    made = files()
    assert {*write_format(check=True, root=tmp_path)} == {*made}
    assert not [*tmp_path.iterdir()]
    write_format(root=tmp_path)
    assert write_format(check=True, root=tmp_path) == []
    figure = tmp_path / FIGURE_FOLDER / "along.svg"
    figure.write_text("else", encoding="utf-8")
    old = figure.with_name("old.svg")
    old.write_text("left", encoding="utf-8")
    stale = [FIGURE_FOLDER / "along.svg", FIGURE_FOLDER / "old.svg"]
    assert write_format(check=True, root=tmp_path) == stale
    write = write_format
    monkeypatch.setattr(
        "model3d.catalogue.__main__.write_format",
        lambda *, check: write(check=check, root=tmp_path),
    )
    assert main(["--check"]) == 1
    assert f"{stale[0].as_posix()} is stale" in capsys.readouterr().err
    write(root=tmp_path)
    assert not old.exists()
    assert main(["--check"]) == 0


@pytest.mark.parametrize(("name", "key"), KEYS)
def test_every_key_has_its_row_and_an_example_that_reads(
    name: str, key: str, page: str
) -> None:
    text = examples()[name][key]
    assert f"| `{key}: {text}` |" in page
    node, faults = compose(f"{key}: {text}")
    assert node is not None
    assert not faults
    node.value.pop(LINK, None)  # as the reader passes over it
    model = Short if key in Short.model_fields and name == "Item" else MODELS[name]
    _, mistakes = usable(optional(model), node.value)
    assert [loc for loc, _ in mistakes if loc[:1] != ("items",)] == []


def test_no_example_is_of_a_key_that_is_not_there() -> None:
    named = [(name, key) for name, part in examples().items() for key in part]
    assert {*named} <= {*KEYS}
    assert {*UNITS} <= {*KEYS}
    assert {*NEEDED} <= {*KEYS}
    for name, groups in GROUPS.items():
        grouped = [key for group in groups.values() for key in group]
        assert len(grouped) == len({*grouped})
        assert {(name, key) for key in grouped} <= {*KEYS}


@pytest.mark.parametrize(("name", "key"), [("Scene", "room"), ("Item", "kind")])
def test_what_is_needed_is_asked_for(name: str, key: str) -> None:
    item: dict[str, Any] = {
        "id": "P",
        "kind": "pad",
        "size": [1, 1, 1],
        "place": {"at": [9, 9]},
    }
    room = {"size": [90, 90], "height": 90}
    head = {"title": "x", "units": "mm", "rules": "nec-2023"}
    whole: dict[str, Any] = {**head, "room": room, "items": [item]}
    read_text(json.dumps(whole), SCENES / "room.yaml")
    (whole if name == "Scene" else item).pop(key)
    with pytest.raises(SceneError, match="found nothing"):
        read_text(json.dumps(whole), SCENES / "room.yaml")


def test_every_number_has_its_unit() -> None:
    for name, key in KEYS:
        said = PARTS[name]["properties"][key]
        if said.get("type") in ("integer", "number") and "enum" not in said:
            told = form(said, UNITS.get((name, key), ""))
            assert told == "degrees" or told.endswith(")"), f"{name}.{key}: {told}"


def test_every_part_has_a_section_of_its_own(page: str) -> None:
    told = [section.part for section in sections() if section.part]
    assert len(told) == len({*told})
    assert {*told} <= {*PARTS}
    for name in PARTS:
        assert page.count(f'<a id="{name.lower()}"></a>') == 1


def test_links_lead_somewhere(page: str) -> None:
    headings = re.findall(r"^#+ (.+)$", page, re.MULTILINE)
    marks = {*re.findall(r'<a id="([\w-]+)">', page)}
    # Common practice of what shows such pages: letters, figures, - and _ are kept.
    plain = (re.sub(r"[^\w -]", "", heading.lower()) for heading in headings)
    marks |= {heading.replace(" ", "-") for heading in plain}
    links = {*re.findall(r"\]\(#([\w-]+)\)", page)}
    assert links
    assert links <= marks
    for file in re.findall(r"\]\(([\w./-]+)\)", page):
        assert (ROOT / PAGE.parent / file).exists(), file


def test_the_scenes_on_the_page_are_right(page: str) -> None:
    whole, short, *_ = re.findall(r"```yaml\n(.*?)```", page, re.DOTALL)
    assert len(read_text(whole, SCENES / "room.yaml").items) == 2
    head, _, _ = whole.partition("items:")
    names = [one.id for one in read_text(head + short, SCENES / "room.yaml").items]
    assert names == ["LP1", "LP2", "R1", "R2", "R3", "R4"]


def test_every_kind_is_on_the_page(page: str) -> None:
    for kind in KINDS.values():
        assert page.count(f"| `{kind.name}` | {kind.about} | ") == 1


def test_every_figure_is_shown(page: str) -> None:
    shown = re.findall(r"\]\(figures/([\w-]+)\.svg\)", page)
    assert sorted(shown) == sorted(FIGURES)


@pytest.mark.parametrize("name", FIGURES)
def test_words_of_a_figure_stand_in_it(name: str) -> None:
    """Letters are taken as 0.62 of their size wide, as the bold ones are at most."""
    root = ET.fromstring(FIGURES[name]().svg())  # noqa: S314 - made by ourselves
    width, height = float(root.attrib["width"]), float(root.attrib["height"])
    title = root.find(f"{SVG}title")
    assert title is not None
    assert title.text
    texts = root.findall(f"{SVG}text")
    assert texts
    for text in texts:
        long = len(text.text or "") * 0.62 * float(text.attrib["font-size"])
        share = {"start": 0.0, "middle": 0.5, "end": 1.0}[text.attrib["text-anchor"]]
        left = float(text.attrib["x"]) - share * long
        assert left >= 0, text.text
        assert left + long <= width, text.text
        assert 10 <= float(text.attrib["y"]) <= height - 4, text.text


@pytest.mark.long
def test_rooms_on_the_page_are_read_and_are_as_they_are_drawn(page: str) -> None:
    """What a newcomer copies has no mistake, and leaves nothing open or not met."""
    blocks = re.findall(r"```yaml\n(.*?)```", page, re.DOTALL)
    rooms = [text for text in blocks if "\nroom:" in text]
    assert len(rooms) == 3
    counts = []
    for text in rooms:
        scene = read_text(text, SCENES / "copied.yaml")
        counts.append([one.verdict for one in check(scene).judgements])
        if scene.title.startswith("Larch Street"):
            assert {*counts[-1]} == {"met"}
    assert min(map(len, counts)) >= 5


def test_long_lists_of_words_are_written_out(page: str) -> None:
    rows = [
        line for line in page.splitlines() if line.startswith(("| `walls`", "| `lay"))
    ]
    walls, layers = rows
    assert "`gypsum`" in walls
    assert "`open`" in walls
    assert "`intrusions`" in layers
    assert "[kinds]" not in walls + layers
