"""Films: how many pictures, how long each is shown, what is said.

Films are drawn in processes of their own with a time limit, as still pictures are.
"""

from __future__ import annotations

import io
import subprocess
import sys
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from PIL import Image

from model3d import check
from model3d.wording.said import parts_of
from tests.paths import ROOT
from tests.scenes import examples
from tests.viewer.panel_room import ITEMS, scene, stage
from viewer.picture.drawing.bodies import COLOURS, edges_of, faces_of
from viewer.picture.lesson_step import in_words
from viewer.picture.moving import film
from viewer.picture.moving.animation import encoded
from viewer.picture.moving.film import door_film, lesson_film, turn_film
from viewer.picture.moving.shots import SIZE, Shot, plans_of
from viewer.picture.moving.swing import only_swing, tip
from viewer.sheet.captions import spoken_lines
from viewer.sheet.layout import spoken
from viewer.sheet.letters import WrittenPicture
from viewer.stage import StageStep, palette
from viewer.stage.bodies.hatched import hatched
from viewer.stage.kept import Kept
from viewer.stage.looking.about import about, sizes_about
from viewer.stage.looking.views import view_of_item, visible

if TYPE_CHECKING:
    from pathlib import Path

    from pyvista import PolyData  # noqa: TID251 - what the meshes are

    from viewer.stage import Stage

PATIENCE = 400
DRAW = """
import sys
from pathlib import Path
from model3d import check
from tests.viewer.panel_room import scene
from viewer.picture.moving.animation import encoded
from viewer.picture.moving.film import door_film, turn_film
made, told = scene(), []
report, size = check(made), (480, 320)
turn_film(made, report, Path(sys.argv[1]), frames=4, size=size,
          progress=lambda done, all: told.append((done, all)))
door_film(made, report, Path(sys.argv[2]), ("LP1", 0), frames=5, size=size)
print(told)
"""


def seen(file: Path) -> tuple[list[Image.Image], list[int]]:
    """Return the pictures of a film and the milliseconds each is shown."""
    with Image.open(file) as image:
        frames, shown = [], []
        for n in range(getattr(image, "n_frames", 1)):
            image.seek(n)
            frames.append(image.convert("RGB"))
            shown.append(image.info["duration"])
    return frames, shown


def vermilion(image: Image.Image) -> int:
    pixels = np.asarray(image, dtype=int)
    away = np.abs(pixels - palette.channels(palette.INTRUSION)).max(axis=2)
    return int((away < 12).sum())


@pytest.mark.render
def test_films_have_their_pictures_and_keep_their_colours(tmp_path: Path) -> None:
    turn, door = tmp_path / "turn.gif", tmp_path / "door.gif"
    done = subprocess.run(  # noqa: S603 - this interpreter, a program of our own
        [sys.executable, "-c", DRAW, str(turn), str(door)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=PATIENCE,
        check=False,
    )
    assert done.returncode == 0, done.stderr[-2000:]
    assert done.stdout.strip() == "[(1, 4), (2, 4), (3, 4), (4, 4)]"
    frames, shown = seen(turn)
    assert len(frames) == 4
    assert {frame.size for frame in frames} == {(480, 320)}
    assert len({frame.tobytes() for frame in frames}) == 4
    assert all(vermilion(frame) > 30 for frame in frames)
    frames, shown = seen(door)
    assert len(frames) == 5
    assert shown[-1] > 1000 > shown[0]
    assert sorted(path.name for path in tmp_path.iterdir()) == ["door.gif", "turn.gif"]


# What is in them, without drawing


def test_a_leaf_opens_from_closed_to_where_it_is_stopped() -> None:
    made = about(stage(of="LP1"), "LP1")
    hung = made.shape("LP1/leaf-0")
    frames = list(film._opening(made, hung, made.views[0], 4, "stopped"))  # noqa: SLF001
    angles = []
    for frame in frames:
        pivot = frame.stage.shape("LP1/leaf-0").pivot
        assert pivot is not None
        angles.append(pivot.shown)
    assert angles == pytest.approx([0.0, 10.0, 20.0, 30.0])
    assert [frame.notes[0].lines for frame in frames][::3] == [("0.0°",), ("30.0°",)]
    assert [frame.notes[0].look for frame in frames][::3] == ["size", "short-size"]
    assert frames[-1].words == "stopped"


def test_the_angle_is_written_at_the_free_end_of_the_leaf() -> None:
    """Hinged at y 2.0 on the west wall, 500 wide: at 90 degrees its end is 650 out."""
    hung = stage().shape("LP1/leaf-0")
    at = tip(hung)
    assert at(90.0)[0] == pytest.approx(0.65, abs=0.03)
    assert at(0.0)[0] == pytest.approx(0.15, abs=0.03)
    assert at(0.0)[2] == pytest.approx(1.8, abs=0.01)


def test_a_door_film_shows_the_swing_of_its_leaf_only() -> None:
    made = only_swing(about(stage(of="LP1"), "LP1"), 0)
    rules = {
        made.judgements[n].requirement
        for shape in made.shapes
        if shape.role in {"space", "footprint", "intrusion"}
        for n in shape.judgements
    }
    assert rules == {"door-swing"}


@pytest.mark.long
def same(shown: Stage, room: Stage) -> bool:
    """Tell whether a room is shown with nothing more in it than a person."""
    added = [one for one in shown.shapes if one not in room.shapes]
    kept = tuple(one for one in shown.shapes if one not in added)
    return kept == room.shapes and all(one.id == "person" for one in added)


def test_a_lesson_asks_on_the_stage_as_it_was_and_then_answers() -> None:
    first, second = stage(), stage(items=ITEMS[2:])
    steps = (
        StageStep(
            "A crate stands in the way.", "", first, sizes=sizes_about(first, None)
        ),
        StageStep(
            "Now it is clear.",
            "And without it?",
            second,
            look=second.views[3],
            sizes=sizes_about(second, None),
        ),
    )
    told = replace(first, lesson="Crates", steps=steps)
    frames = list(film._lesson(told, 1.6))  # noqa: SLF001
    words = [frame.words for frame in frames]
    assert words[0] == "1 / 2  A crate stands in the way."
    assert words[1] == "2 / 2  And without it?"
    assert words[-1] == "2 / 2  Now it is clear."
    assert same(frames[-1].stage, second)
    assert all(same(frame.stage, first) for frame in frames[:-1])
    assert {frame.title for frame in frames} == {"Crates"}
    assert frames[1].shown >= 2500
    assert len(frames) > 4
    sizes = [frame.sizes for frame in (frames[0], frames[-1])]
    assert sizes == [sizes_about(one, None) for one in (first, second)]


def test_the_layers_of_a_step_are_shown_in_its_frames_alone() -> None:
    first = stage()
    layers = ("gear", "room")
    steps = (
        StageStep("The gear.", "Which is it?", first, layers=layers),
        StageStep("All again.", "", first),
    )
    told = replace(first, lesson="Layers", steps=steps)
    shown = [
        tuple(layer.id for layer in frame.stage.layers if layer.shown)
        for frame in film._lesson(told, 1.6)  # noqa: SLF001
    ]
    whole = tuple(layer.id for layer in first.layers if layer.shown)
    assert shown == [whole, layers, whole]


def test_a_film_says_what_is_not_met() -> None:
    words = in_words(stage())
    assert words.startswith("Not met:")
    assert "LP1 working space" in words
    assert in_words(stage(items=[])) == "Nothing is not met."


@pytest.mark.parametrize("kind", ["GIF", "WEBP", "PNG"])
def test_a_film_has_as_many_pictures_as_it_was_given(kind: str) -> None:
    plain = Image.new("RGB", (64, 48), palette.BACKGROUND)
    images = []
    for n in range(5):
        image = plain.copy()
        image.paste(palette.channels(palette.INTRUSION), (n * 8, 8, n * 8 + 6, 14))
        images.append(image)
    made = encoded(images, [70] * 4 + [900], kind)
    with Image.open(io.BytesIO(made)) as read:
        assert read.format == kind
        assert getattr(read, "n_frames", 1) == 5
        assert read.info["loop"] == 0
        read.seek(4)
        colour = read.convert("RGB").getpixel((34, 11))
    assert isinstance(colour, tuple)
    wanted = palette.channels(palette.INTRUSION)
    assert all(abs(a - b) < 25 for a, b in zip(colour, wanted, strict=True))


@pytest.mark.long
def test_what_cannot_be_filmed_is_refused(tmp_path: Path) -> None:
    made = scene()
    report = check(made)
    with pytest.raises(ValueError, match=r"ends in \.gif, \.webp, \.png, not 'a.mov'"):
        turn_film(made, report, tmp_path / "a.mov")
    with pytest.raises(ValueError, match="1 frames: from 2"):
        turn_film(made, report, tmp_path / "a.gif", frames=1)
    with pytest.raises(ValueError, match="LP1 has no leaf 3"):
        door_film(made, report, tmp_path / "a.gif", ("LP1", 3))
    with pytest.raises(ValueError, match="NOTHING has no leaf 0"):
        door_film(made, report, tmp_path / "a.gif", ("NOTHING", 0))
    with pytest.raises(ValueError, match="without steps"):
        lesson_film(stage(), tmp_path / "a.gif")
    assert not list(tmp_path.iterdir())


def test_all_pictures_of_a_film_are_divided_alike_and_have_room_for_all_words() -> None:
    made, size = stage(), (480, 320)
    texts = ["Short.", "Long: " + "the crate is in the way, " * 9, "Short again."]
    frames = [Shot(made, made.views[0], words) for words in texts]
    plans = plans_of(frames, size)
    assert len({plan.room for plan in plans}) == 1
    assert plans[0].room.bottom < spoken(size, texts[0]).room.bottom
    sheet = WrittenPicture(Image.new("RGB", (8, 8)))
    for plan, words in zip(plans, texts, strict=True):
        assert " ".join(spoken_lines(sheet, plan)) == words.strip()


@pytest.mark.long
def test_the_longest_legend_of_a_film_has_room_above_the_caution() -> None:
    """In step 2 the legend has more signs than one row takes in a film's width."""
    lesson = examples.steps_shown("where-the-floor-is")
    frames = [*film._lesson(lesson, 1.6)]  # noqa: SLF001
    plans = plans_of(frames, SIZE)
    assert len({plan.room for plan in plans}) == 1
    needed = [
        spoken(SIZE, frame.words, frame.stage, title=frame.title).foot
        for frame in frames
    ]
    assert max(needed) > min(needed)
    assert plans[0].foot == max(needed)


@pytest.mark.long
def test_a_step_that_asks_nothing_is_told_while_the_camera_moves() -> None:
    """Common practice: no caption is left empty."""
    lesson = examples.steps_shown("where-the-floor-is")
    words = {frame.words for frame in film._lesson(lesson, 1.6)}  # noqa: SLF001
    assert all(len(one.split("  ", 1)[1]) > 0 for one in words)


@pytest.mark.long
def test_a_person_stands_in_the_film_of_a_lesson() -> None:
    lesson = examples.steps_shown("where-the-floor-is")
    for frame in film._lesson(lesson, 1.6):  # noqa: SLF001
        names = [parts_of(one.id)[-1] for one in frame.stage.shapes]
        assert names.count("person") == 1


@pytest.mark.long
def test_a_film_makes_again_only_the_bodies_that_change() -> None:
    """The outside source is what is made with nothing kept: it is the same."""
    room, kept = stage(of="LP1"), Kept()
    view = view_of_item(room, "LP1", 1.5)

    def meshes(kept: Kept, colour: str | None = None) -> list[PolyData]:
        shapes = [*hatched(visible(room, view), kept)]
        leaves = [one for one in shapes if one.role == "leaf"]
        leaves = [replace(one, colour=colour or one.colour) for one in leaves]
        crossed = [one for one in shapes if one.id.endswith("/hatch")]
        made = [
            faces_of(leaves, kept, "leaves", lit=True),
            edges_of(leaves, kept, "leaves"),
            edges_of(crossed, kept, "crossed"),
        ]
        kept.forget()
        return made

    first, again = meshes(kept), meshes(kept)
    assert all(one is other for one, other in zip(first, again, strict=True))
    now, anew = meshes(kept, "#123456"), meshes(Kept(), "#123456")
    assert [one is other for one, other in zip(first, now, strict=True)] == [
        False,
        True,
        True,
    ]
    for one, other in zip(now, anew, strict=True):
        assert np.array_equal(one.points, other.points)
        assert np.array_equal(one.cell_data[COLOURS], other.cell_data[COLOURS])
