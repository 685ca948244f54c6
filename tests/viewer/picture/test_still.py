"""Still pictures: what is in them, and what happens where none can be made.

Pictures are drawn in processes of their own with a time limit: without a usable OpenGL
the drawing library ends its process.
"""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from PIL import Image

from model3d import check
from tests.paths import ROOT, SCENES
from tests.scenes import examples
from tests.viewer.panel_room import ITEMS, scene, stage
from viewer.picture.composition import draw_signs
from viewer.picture.drawing import graphics
from viewer.picture.drawing.graphics import DrawingError, require_graphics
from viewer.picture.still import LARGEST, SMALLEST, picture
from viewer.sheet.captions import write_captions
from viewer.sheet.layout import layout, spoken
from viewer.sheet.letters import WrittenPicture
from viewer.sheet.meanings import meanings
from viewer.sheet.sign_places import Rectangle
from viewer.sheet.signage import PlacedSign, Signs
from viewer.stage import palette
from viewer.stage.layers import SPACES, SPACES_MET, WORKING_MET
from viewer.stage.looking.about import about
from viewer.stage.looking.views import seen_past, view_of_item, view_of_place, visible

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from viewer.stage.drawn import Dimension

PATIENCE = 240
"""Seconds one picture may take on a busy machine without a graphics card."""
DRAW = """
import sys
from pathlib import Path
from model3d import check
from tests.viewer.panel_room import scene
from viewer.picture.still import picture
made = scene()
of = sys.argv[2] or None
picture(made, check(made), Path(sys.argv[1]), of=of, size=(1050, 700))
"""


def run(program: str, *arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(  # noqa: S603 - this interpreter, a program of our own
        [sys.executable, "-c", program, *arguments],
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=PATIENCE,
        check=False,
    )


def near(image: Image.Image, colour: str, within: int = 40) -> int:
    """Return how many pixels have about a colour."""
    pixels = np.asarray(image.convert("RGB"), dtype=int)
    away = np.abs(pixels - palette.channels(colour)).max(axis=2)
    return int((away < within).sum())


# Drawn


@pytest.fixture(scope="module")
def drawn(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Image.Image]:
    file = tmp_path_factory.mktemp("still") / "room.png"
    done = run(DRAW, str(file), "")
    assert done.returncode == 0, done.stderr[-2000:]
    with Image.open(file) as image:
        yield image.copy()
    assert [one.name for one in file.parent.iterdir()] == ["room.png"]


@pytest.mark.render
def test_a_picture_has_its_size_and_the_colours_of_the_result(
    drawn: Image.Image,
) -> None:
    assert drawn.size == (1050, 700)
    assert near(drawn, palette.INTRUSION) > 400
    assert near(drawn, palette.SPACE_EDGE) > 200
    assert near(drawn, palette.SPACE, 60) > 1500


@pytest.mark.render
def test_the_crate_is_vermilion_where_the_camera_says_it_is(drawn: Image.Image) -> None:
    """The drawing's own camera and ours agree: the crate is where it is."""
    from viewer.sheet.projection import Projection  # noqa: PLC0415 - used here only

    made = stage()
    plan = layout(made, (1050, 700))
    view = view_of_place(made, plan.aspect)
    seen = Projection(view, *plan.room_size, 0, round(plan.room.top))
    grid = [(x, 1.55, z) for x in (0.5, 0.6, 0.7) for z in (0.2, 0.5, 0.8, 1.1)]
    spots = [seen.pixel(point) for point in grid]
    red, _, blue = np.asarray(drawn.convert("RGB"), dtype=int).transpose(2, 1, 0)
    vermilion = sum(
        red[round(x), round(y)] > blue[round(x), round(y)] + 60 for x, y in spots
    )
    assert vermilion >= 9


ENCLOSED = """
import sys
from dataclasses import replace
from tests.viewer.panel_room import stage
from viewer.picture.drawing.canvas import Studio
from viewer.stage.looking.views import view_of_place, visible
made = stage()
view = view_of_place(made, 1.5)
def larger(shape):
    middle = shape.vertices.mean(axis=0)
    return replace(shape, vertices=middle + 1.3 * (shape.vertices - middle))
with Studio((600, 400)) as studio:
    drawn = [one for one in visible(made, view) if one.item == "CRATE"]
    drawn = [larger(one) if one.role == "solid" else one for one in drawn]
    studio.show(drawn)
    studio.shoot(view).save(sys.argv[1])
"""


@pytest.mark.render
def test_what_is_in_the_way_inside_another_thing_is_filled_over_it(
    tmp_path: Path,
) -> None:
    """A part of a crate that is wholly inside it: grey print loses a mere outline."""
    file = tmp_path / "enclosed.png"
    done = run(ENCLOSED, str(file))
    assert done.returncode == 0, done.stderr[-2000:]
    with Image.open(file) as image:
        red, _, blue = np.asarray(image.convert("RGB"), dtype=int).transpose(2, 0, 1)
    # Lines, which shine through in any case, are darker.
    assert int(((red > blue + 60) & (red > 150)).sum()) > 1000


def test_a_picture_of_one_item_marks_it() -> None:
    """It is lighter than the rest, in no strong colour, and has heavy edges."""
    before = stage()
    after = about(before, "DS1")
    one, was = after.shape("DS1"), before.shape("DS1")
    assert sum(palette.channels(one.colour)) > sum(palette.channels(was.colour)) + 100
    red, _, blue = palette.channels(one.colour)
    assert abs(red - blue) < 40
    assert one.edge_width > 2 * was.edge_width
    assert after.shape("LP1").colour == before.shape("LP1").colour


@pytest.mark.render
def test_nothing_is_written_where_a_picture_cannot_go(tmp_path: Path) -> None:
    done = run(DRAW, str(tmp_path / "nowhere" / "room.png"), "")
    assert done.returncode == 1
    assert "FileNotFoundError" in done.stderr
    assert not list(tmp_path.iterdir())


@pytest.mark.render
def test_a_picture_loads_nothing_that_plots_curves() -> None:
    program = (
        f"{DRAW}\nheavy = ('matplotlib',)\n"
        "print([name for name in heavy if name in sys.modules])"
    )
    with TemporaryDirectory() as folder:
        done = run(program, str(Path(folder) / "room.png"), "")
    assert done.stdout.strip() == "[]", done.stderr[-2000:]


# Where none can be made


@pytest.mark.render
@pytest.mark.skipif(sys.platform != "linux", reason="says how EGL looks for drivers")
def test_without_a_driver_a_process_goes_on_and_says_so(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """The drawing library would end it: no file of a driver is found."""
    monkeypatch.setenv("__EGL_VENDOR_LIBRARY_FILENAMES", str(tmp_path / "none.json"))
    done = run(DRAW, str(tmp_path / "room.png"), "")
    assert done.returncode == 1
    assert "DrawingError: pictures cannot be drawn here" in done.stderr
    assert "WARN" not in done.stderr
    assert not list(tmp_path.iterdir())


@pytest.mark.long
def test_asking_for_a_picture_loads_no_graphics_before_it_is_drawn() -> None:
    program = (
        "import sys, viewer.picture.still, viewer.picture.moving.film\n"
        "print([n for n in ('pyvista', 'vtkmodules', 'matplotlib') "
        "if n in sys.modules])"
    )
    assert run(program).stdout.strip() == "[]"


@pytest.mark.long
def test_a_picture_loads_nothing_that_it_does_not_need(tmp_path: Path) -> None:
    """What is in the way there is in part a pipe: no box, to be cut for the picture."""
    program = (
        "import sys\n"
        "from viewer.cli.main import main\n"
        "main(['picture', 'scenes/pump-station.yaml', '-o', sys.argv[1]])\n"
        "names = 'trimesh', 'scipy', 'networkx', 'matplotlib'\n"
        "print([name for name in names if name in sys.modules])"
    )
    done = run(program, str(tmp_path / "room.png"))
    assert done.stdout.splitlines()[-1] == "[]"


def test_a_machine_that_cannot_draw_says_so_in_a_line(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """139 is how a process ends that the system has stopped for a bad access."""

    def ended(*_: object, **__: object) -> subprocess.CompletedProcess[bytes]:
        return subprocess.CompletedProcess([], 139)

    monkeypatch.setattr(subprocess, "run", ended)
    monkeypatch.setattr(graphics, "_is_ready", lambda: False)
    require_graphics.cache_clear()
    try:
        made = scene()
        with pytest.raises(DrawingError, match="no usable OpenGL") as caught:
            picture(made, check(made), tmp_path / "room.png")
    finally:
        require_graphics.cache_clear()
    assert "\n" not in str(caught.value)
    assert not list(tmp_path.iterdir())


def test_a_trial_that_hangs_is_given_up(monkeypatch: pytest.MonkeyPatch) -> None:
    def hung(*_: object, **__: object) -> None:
        raise subprocess.TimeoutExpired([], 1)

    monkeypatch.setattr(subprocess, "run", hung)
    monkeypatch.setattr(graphics, "_is_ready", lambda: False)
    require_graphics.cache_clear()
    try:
        with pytest.raises(DrawingError, match="did not end"):
            require_graphics()
    finally:
        require_graphics.cache_clear()


@pytest.mark.long
@pytest.mark.parametrize(
    "size",
    [(SMALLEST[0] - 1, 600), (900, SMALLEST[1] - 1), (LARGEST[0] + 1, 600), (0, 0)],
)
def test_a_size_that_cannot_be_is_refused(
    size: tuple[int, int], tmp_path: Path
) -> None:
    made = scene()
    with pytest.raises(ValueError, match="pixels, right is from 480 x 320"):
        picture(made, check(made), tmp_path / "room.png", size=size)


def test_a_view_that_is_none_is_refused() -> None:
    with pytest.raises(ValueError, match="found the view upstairs, right is"):
        view_of_place(stage(), 1.6, looking_from="upstairs")


# What a picture shows


def test_walls_seen_from_behind_are_left_out() -> None:
    made = stage()
    view = view_of_place(made, 1.6, looking_from="south-east")
    shown = {shape.id for shape in visible(made, view)}
    assert {"wall-north", "wall-west"} <= shown
    assert not {"wall-south", "wall-east"} & shown
    assert {"wall-south/cut", "wall-east/cut"} <= shown


def test_layers_that_are_off_are_left_out() -> None:
    made = stage()
    view = view_of_place(made, 1.6)
    layers = {shape.layer for shape in visible(made, view)}
    assert {SPACES, WORKING_MET} <= layers
    assert SPACES_MET not in layers


@pytest.mark.long
def test_a_picture_of_one_item_is_about_it_alone() -> None:
    made = about(stage(of="DS1"), "DS1")
    spaces = {s.item for s in made.shapes if s.role in {"space", "footprint"}}
    assert spaces == {"DS1"}
    assert not made.badges
    assert {line.item for line in made.dimensions} == {"DS1"}
    others = {s.id: s.colour for s in stage(of="DS1").shapes}
    changed = {s.item for s in made.shapes if s.colour != others[s.id]}
    assert changed == {"DS1"}


def test_a_picture_of_a_door_shows_the_working_space_that_its_leaf_sweeps() -> None:
    """And no outline of what is not met elsewhere: its legend would not tell of it."""
    whole = examples.stage("around-the-corner")
    (row,) = (one for one in whole.judgements if one.subject == "D1")
    assert "sweeps the working space of DS1" in row.reason
    assert any(one.edge_colour == palette.INTRUSION for one in whole.shapes)
    of_door = about(whole, "D1")
    spaces = {one.item for one in of_door.shapes if one.role == "space"}
    assert spaces == {"DS1"}
    assert all(one.edge_colour != palette.INTRUSION for one in of_door.shapes)


def test_what_stands_before_one_item_is_seen_through() -> None:
    tall: dict[str, Any] = {
        "id": "TALL",
        "kind": "machine",
        "size": [900, 900, 2500],
        "place": {"at": [2500, 2400]},
    }
    made = about(stage(of="DS1", items=[*ITEMS, tall]), "DS1")
    view = view_of_item(made, "DS1", 1.6, looking_from="south")
    shown = {s.id: s for s in seen_past(list(visible(made, view)), view, "DS1")}
    assert shown["TALL"].ghost
    assert not shown["CRATE"].ghost
    assert not shown["DS1"].ghost


def test_what_hides_the_foot_of_a_size_is_seen_through() -> None:
    aside: dict[str, Any] = {
        "id": "ASIDE",
        "kind": "machine",
        "size": [600, 600, 1200],
        "place": {"at": [600, 2400]},
    }
    made = about(stage(of="DS1", items=[*ITEMS, aside]), "DS1")
    view = view_of_item(made, "DS1", 1.6, looking_from="south")
    shapes = list(visible(made, view))
    size = made.dimensions[0]
    behind = replace(size, start=(0.6, 3.0, 0.05), end=(0.6, 3.0, 2.5))
    clear = replace(size, start=(0.6, 3.0, 2.0), end=(0.6, 3.0, 2.5))

    def faint(*sizes: Dimension) -> bool:
        shown = {one.id: one for one in seen_past(shapes, view, "DS1", sizes)}
        return shown["ASIDE"].ghost

    assert not faint()
    assert not faint(clear)
    assert faint(clear, behind)


@pytest.mark.long
def test_the_view_of_a_hidden_clash_goes_to_where_it_is_seen() -> None:
    """From the south-east a tall machine hides the crate before LP1."""
    wall: dict[str, Any] = {
        "id": "TALL",
        "kind": "machine",
        "size": [3000, 300, 2900],
        "place": {"at": [1900, 1100], "facing": "south"},
    }
    usual, moved = (
        view_of_place(stage(items=items), 1.6) for items in (ITEMS, [*ITEMS, wall])
    )
    south = [view.eye[1] < view.target[1] for view in (usual, moved)]
    assert south == [True, False]


# Captions


def text_of(image: Image.Image, box: Rectangle) -> int:
    """Return how many dark pixels there are in a part of a picture."""
    part: NDArray[Any] = np.asarray(
        image.convert("L").crop(
            (round(box.left), round(box.top), round(box.right), round(box.bottom))
        )
    )
    return int((part < 90).sum())


@pytest.mark.long
@pytest.mark.parametrize("size", [(1600, 1000), (900, 600), (600, 900)])
def test_the_list_of_numbers_keeps_to_its_panel(size: tuple[int, int]) -> None:
    made = stage()
    plan = layout(made, size)
    sheet = WrittenPicture(Image.new("RGB", (size[0] * 2, size[1] * 2), "white"))
    write_captions(sheet, made, plan)
    image = sheet.finished()
    assert image.size == size
    assert plan.panel is not None
    assert text_of(image, plan.panel) > 500
    assert text_of(image, plan.room.wider(-3)) == 0


def test_a_room_where_all_is_met_has_no_list() -> None:
    made = stage(items=ITEMS[:1], room={"size": [5000, 4000], "height": 3000})
    met = [f for f in made.judgements if f.verdict == "met"]
    plan = layout(made, (1600, 1000))
    assert (plan.panel is None) == (len(met) == len(made.judgements))
    alone = layout(about(made, "LP1"), (1600, 1000), of="LP1")
    assert alone.panel is not None
    assert {f.subject for f in alone.listed} == {"LP1"}


def test_words_of_a_film_are_written_below_the_room() -> None:
    plan = spoken((960, 640), "The leaf opens.")
    sheet = WrittenPicture(Image.new("RGB", (1920, 1280), "white"))
    write_captions(sheet, stage(), plan)
    assert plan.panel is None
    assert plan.said is not None
    assert plan.said.top == plan.room.bottom
    assert text_of(sheet.finished(), plan.said) > 50


@pytest.mark.long
@pytest.mark.parametrize("size", [(1600, 1000), (900, 600), (600, 900)])
def test_a_step_has_its_words_below_and_its_numbers_beside(
    size: tuple[int, int],
) -> None:
    made = stage()
    plan = layout(made, size, words="A crate is set down.", title="Mind the crate")
    sheet = WrittenPicture(Image.new("RGB", (size[0] * 2, size[1] * 2), "white"))
    write_captions(sheet, made, plan)
    image = sheet.finished()
    assert plan.panel is not None
    assert plan.said is not None
    assert not plan.said.overlaps(plan.panel)
    assert not plan.said.overlaps(plan.room)
    assert plan.said.left == 0
    assert plan.said.right == size[0]
    assert text_of(image, plan.said) > 50
    assert text_of(image, plan.panel) > 300
    assert text_of(image, plan.room.wider(-3)) == 0


@pytest.mark.long
def test_a_legend_tells_what_must_be_clear_from_what_is() -> None:
    words = dict(meanings(stage()))
    assert words["space"] == "must be clear"
    assert words["clear"] == "clear, as required"
    met = stage(items=[one for one in ITEMS if one["id"] == "DS1"])
    assert {"space", "clear"} & {*dict(meanings(met))} == {"clear"}


def test_text_that_does_not_fit_ends_in_an_ellipsis() -> None:
    sheet = WrittenPicture(Image.new("RGB", (8, 8)))
    short = sheet.fitted("a very long sentence indeed", 14, 80)
    assert short.endswith("…")
    assert sheet.wide(short, 14) <= 80
    assert sheet.fitted("short", 14, 80) == "short"
    assert sheet.fitted("anything", 14, 1) == ""


def test_signs_are_drawn_where_they_are_placed() -> None:
    sheet = WrittenPicture(Image.new("RGB", (400, 400), "white"))
    box, point = Rectangle(90, 90, 116, 116), (0.0, 0.0, 0.0)
    badge = PlacedSign("not-met", ("1",), (40, 150), box, ("LP1",), point)
    draw_signs(sheet, Signs((badge,), ()), 1.0)
    image = sheet.finished()
    assert near(image.crop((90, 90, 116, 116)), palette.INTRUSION) > 200
    assert near(image.crop((120, 0, 200, 200)), palette.PAPER) == 80 * 200
    assert text_of(image, Rectangle(36, 110, 90, 155)) > 10


@pytest.mark.render
def test_the_same_scene_gives_the_same_bytes(tmp_path: Path) -> None:
    """On one machine: what draws may differ from one to the other."""
    files = [tmp_path / name for name in ("one.png", "other.png")]
    for file in files:
        done = run(DRAW, str(file), "")
        assert done.returncode == 0, done.stderr
    one, other = (file.read_bytes() for file in files)
    assert one == other


@pytest.mark.render
def test_a_map_of_free_places_is_drawn_green(tmp_path: Path) -> None:
    target = tmp_path / "places.png"
    done = run(
        "import sys; from viewer.cli.main import main; sys.exit(main(sys.argv[1:]))",
        "picture",
        str(SCENES / "pump-station.yaml"),
        "--free",
        "TP1",
        "-o",
        str(target),
        "--size",
        "800x500",
    )
    assert done.returncode == 0, done.stderr
    pixels = np.array(Image.open(target).convert("RGB")).reshape(-1, 3).astype(int)
    red, green, blue = pixels.T
    assert ((green - red > 60) & (green - blue > 15)).sum() > 500
