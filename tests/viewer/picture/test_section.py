"""Pictures that are cut open, in grey, and with a person in them."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from PIL import Image

from model3d import check
from tests.scenes import examples
from viewer.cli.main import main
from viewer.picture.person import person_shape
from viewer.picture.section import cut_through, opened_up
from viewer.picture.still import Looks, in_grey, picture
from viewer.stage import build_stage, palette
from viewer.stage.looking.views import view_of_item, view_of_place

if TYPE_CHECKING:
    from pathlib import Path

NAME = "pump-station"
ROOM = f"scenes/{NAME}.yaml"


@pytest.mark.long
@pytest.mark.parametrize(
    ("item", "looking_from", "words"),
    [
        # MSB stands on the north wall: its right, as one faces it, is in the east.
        ("MSB", None, "looking west"),
        ("MSB", "west", "looking east"),
        ("MSB", "north-east", "looking west"),
        # LP1 hangs on the west wall: one faces it looking west, its right is north.
        ("LP1", None, "looking south"),
        ("LP1", "south", "looking north"),
    ],
)
def test_a_section_is_called_by_what_one_looks_at(
    item: str, looking_from: str | None, words: str
) -> None:
    cut = cut_through(examples.stage(NAME), item, looking_from)
    assert cut.words == f"Section, {words}"


@pytest.mark.long
def test_nothing_is_left_where_the_eye_is() -> None:
    stage = examples.stage(NAME)
    cut = cut_through(stage, "MSB", None)
    left = [*opened_up(stage.shapes, cut)]
    for shape in left:
        for points in (shape.vertices, shape.edges.reshape(-1, 3)):
            if len(points):
                assert cut.heights(points).max() < 1e-5, shape.id


@pytest.mark.long
def test_what_is_cut_through_is_closed_and_hatched() -> None:
    stage = examples.stage(NAME)
    cut = cut_through(stage, "MSB", None)
    left = {shape.id: shape for shape in opened_up(stage.shapes, cut)}
    face = left["MSB/cut"]
    assert np.abs(cut.heights(face.vertices)).max() < 1e-6
    whole = stage.shape("MSB").vertices
    corners = face.vertices
    assert np.ptp(corners[:, 2]) == pytest.approx(np.ptp(whole[:, 2]))
    assert np.ptp(corners[:, 1]) == pytest.approx(np.ptp(whole[:, 1]))
    assert len(left["MSB/cut/hatch"].edges) > 5


def test_a_section_needs_an_item_with_a_front() -> None:
    stage = examples.stage(NAME)
    with pytest.raises(ValueError, match="CW1 has none"):
        cut_through(stage, "CW1", None)
    with pytest.raises(ValueError, match="not from above"):
        cut_through(stage, "MSB", "above")


def test_the_plane_is_upright_and_goes_through_the_item() -> None:
    cut = cut_through(examples.stage(NAME), "MSB", None)
    assert cut.towards == pytest.approx((1.0, 0.0, 0.0))
    heights = cut.heights(examples.stage(NAME).shape("MSB").vertices)
    assert heights.min() == pytest.approx(-heights.max())


@pytest.mark.parametrize("item", ["MSB", "LP1", "PCP1", None])
def test_a_person_stands_at_the_work_and_in_nothing(item: str | None) -> None:
    stage = examples.stage(NAME)
    view = (
        view_of_place(stage, 1.6)
        if item is None
        else view_of_item(stage, item, 1.6, looking_from="south-east")
    )
    person = person_shape(stage, view, item)
    assert person is not None
    assert np.ptp(person.vertices[:, 2]) == pytest.approx(1.75)
    assert person.vertices[:, 2].min() == pytest.approx(0.0)
    middle = (person.vertices.max(axis=0) + person.vertices.min(axis=0))[:2] / 2
    for shape in stage.shapes:
        if shape.role == "solid" and len(shape.vertices):
            low, high = shape.vertices.min(axis=0), shape.vertices.max(axis=0)
            if low[2] < 1.75:
                inside = (middle > low[:2]).all() and (middle < high[:2]).all()
                assert not inside, shape.id


def test_nobody_stands_below_a_ceiling_that_is_lower_than_a_person() -> None:
    scene = examples.taught("above-the-tiles")
    stage = build_stage(scene, check(scene))
    assert stage.height == pytest.approx(1.0)
    view = view_of_item(stage, "DS1", 1.6, looking_from="south-east")
    assert person_shape(stage, view, "DS1") is None
    higher = replace(stage, height=1.8)
    assert person_shape(higher, view, "DS1") is not None


def test_nobody_is_seen_from_above() -> None:
    stage = examples.stage(NAME)
    view = view_of_place(stage, 1.6, looking_from="above")
    assert person_shape(stage, view, "MSB") is None


@pytest.mark.long
@pytest.mark.parametrize(
    ("more", "words"),
    [
        (["--section"], "it needs --of ITEM"),
        (["--section", "--of", "CW1"], "CW1 has none"),
        (["--section", "--of", "MSB", "--from", "above"], "not from above"),
    ],
)
def test_command_refuses_in_one_line(
    more: list[str], words: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    target = tmp_path / "room.png"
    assert main(["picture", ROOM, "-o", str(target), *more]) == 2
    err = capsys.readouterr().err
    assert words in err
    assert err.count("\n") == 1
    assert not target.exists()


@pytest.mark.render
def test_in_grey_what_is_there_is_darker_than_what_is_quoted() -> None:
    """Sizes that fall short were as faint as citations: both 96 to 100 of 255.

    Text has a contrast of 4.5 to 1: WCAG 2.2, 1.4.3, level AA.
    """

    def shade(colour: str) -> int:
        value = in_grey(Image.new("RGB", (1, 1), colour)).getpixel((0, 0))
        assert isinstance(value, int)
        return value

    assert shade(palette.INTRUSION_TEXT) < shade(palette.FAINT_INK) - 25
    assert shade(palette.INTRUSION) < shade(palette.SPACE) - 60
    assert shade(palette.PAPER) == 255
    for words in (palette.INTRUSION_TEXT, palette.SPACE_EDGE, palette.FAINT_INK):
        part = shade(words) / 255
        light = ((part + 0.055) / 1.055) ** 2.4
        assert 1.05 / (light + 0.05) >= 4.5, words


@pytest.mark.long
def test_a_grey_picture_is_grey(tmp_path: Path) -> None:
    target = tmp_path / "grey.png"
    looks = Looks(grey=True, person=True, section=True)
    scene, report = examples.scene(NAME), examples.report(NAME)
    picture(scene, report, target, of="PCP1", size=(480, 320), looks=looks)
    with Image.open(target) as image:
        assert image.mode == "L"
        assert image.size == (480, 320)
