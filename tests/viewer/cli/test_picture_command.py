"""The commands that draw: what they write, what they refuse, what they load."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from PIL import Image

from tests.paths import ROOT, SCENES
from tests.viewer.window.window_rooms import LESSON, ROOM
from viewer.cli.main import NOT_USABLE, main
from viewer.picture.drawing.graphics import DrawingError

SMALL = ("--size", "480x320")


@pytest.fixture
def room(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A scene file with a lesson, in the current folder."""
    monkeypatch.chdir(tmp_path)
    path = tmp_path / "room.yaml"
    path.write_text(ROOM + LESSON, encoding="utf-8")
    return path


def _refusal(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert main([*words]) == NOT_USABLE
    told = capsys.readouterr()
    assert told.out == ""
    (line,) = told.err.splitlines()
    return line


@pytest.mark.render
def test_a_picture_of_the_size_that_is_asked_for(
    room: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    words = ["picture", room.name, "-o", "lp1.png", "--of", "LP1", "--from", "north"]
    assert main([*words, *SMALL]) == 0
    assert capsys.readouterr().out == "lp1.png\n"
    with Image.open("lp1.png") as drawn:
        assert (drawn.format, drawn.size) == ("PNG", (480, 320))
        assert len(drawn.getcolors(480 * 320) or ()) > 50


@pytest.mark.render
def test_a_picture_of_a_door_of_the_room(tmp_path: Path) -> None:
    """A judgement may be about a door: then --of shows it, as it does an item."""
    scene, target = str(SCENES / "one-way-out.yaml"), tmp_path / "d1.png"
    assert main(["picture", scene, "-o", str(target), "--of", "D1", *SMALL]) == 0
    with Image.open(target) as drawn:
        assert len(drawn.getcolors(480 * 320) or ()) > 50


@pytest.mark.render
def test_without_a_name_the_picture_has_that_of_the_scene(room: Path) -> None:
    assert main(["picture", str(room), *SMALL]) == 0
    assert Path("room.png").is_file()


@pytest.mark.render
def test_a_picture_of_a_lesson_s_step(
    room: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for number in ("1", "2"):
        words = ["picture", room.name, "-o", f"{number}.png", "--step", number]
        assert main([*words, *SMALL]) == 0
        assert capsys.readouterr().out == f"{number}.png\n"
    drawn = []
    for number in ("1", "2"):
        with Image.open(f"{number}.png") as image:
            assert image.size == (480, 320)
            drawn.append(image.tobytes())
    assert drawn[0] != drawn[1]


@pytest.mark.render
def test_a_step_seen_from_somewhere_else(room: Path) -> None:
    words = ["picture", room.name, "-o", "plan.png", "--step", "1", "--from", "above"]
    assert main([*words, *SMALL]) == 0
    assert Path("plan.png").is_file()


def test_a_step_needs_a_lesson(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "room.yaml"
    path.write_text(ROOM, encoding="utf-8")
    told = _refusal(capsys, "picture", str(path), "--step", "1")
    assert "no lesson" in told
    assert [one.name for one in tmp_path.iterdir()] == ["room.yaml"]


@pytest.mark.long
@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--step", "9"], "found step 9, right is a step from 1 to"),
        (["--step", "0"], "found step 0, right is a step from 1 to"),
        (["--step=-1"], "found step -1"),
        (["--step", "1", "--of", "LP1"], "--step goes without --of"),
        (["--step", "1", "--from", "upwards"], "upwards"),
        (["--step", "1", "-o", "step.jpg"], "step.jpg"),
        (["--of", "LP9"], "LP9"),
        (["--from", "upwards"], "upwards"),
        (["--size", "10x10"], "10 x 10"),
        (["-o", "room.jpg"], "room.jpg"),
    ],
)
def test_a_picture_that_cannot_be_is_refused_in_a_line(
    room: Path, capsys: pytest.CaptureFixture[str], words: list[str], told: str
) -> None:
    assert told in _refusal(capsys, "picture", room.name, *words)
    assert [path.name for path in room.parent.iterdir()] == ["room.yaml"]


@pytest.mark.parametrize("command", ["picture", "film"])
def test_where_nothing_can_be_drawn_one_line_says_so(
    room: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    command: str,
) -> None:
    def refuse() -> None:
        msg = "pictures cannot be drawn here: no usable OpenGL"
        raise DrawingError(msg)

    for name in ("still", "moving.shots"):
        monkeypatch.setattr(f"viewer.picture.{name}.require_graphics", refuse)
    assert "no usable OpenGL" in _refusal(capsys, command, room.name, *SMALL)


@pytest.mark.parametrize("command", ["picture", "film", "show"])
def test_a_scene_with_mistakes_is_told_with_its_lines(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], command: str
) -> None:
    path = tmp_path / "bad.yaml"
    path.write_text(ROOM.replace("size: [500, 150, 900]", "size: [500]"))
    assert main([command, str(path)]) == NOT_USABLE
    assert f"{path}:15:" in capsys.readouterr().err


@pytest.mark.parametrize("size", ["axb", "800", "-3x4", "800x"])
def test_a_size_is_two_numbers(
    room: Path, capsys: pytest.CaptureFixture[str], size: str
) -> None:
    assert main(["picture", room.name, f"--size={size}"]) == NOT_USABLE
    assert "1600x1000" in capsys.readouterr().err


@pytest.mark.parametrize("size", ["10x10", "9000x600"])
def test_a_window_has_a_size_that_a_screen_may_have(
    room: Path, capsys: pytest.CaptureFixture[str], size: str
) -> None:
    assert "a window of" in _refusal(capsys, "show", room.name, "--size", size)


@pytest.mark.render
@pytest.mark.parametrize(
    "words", [["--door", "LP1", "-o", "a.gif"], ["--lesson", "-o", "a.webp"]]
)
def test_a_film_moves(room: Path, words: list[str]) -> None:
    assert main(["film", room.name, *words, *SMALL]) == 0
    with Image.open(words[-1]) as film:
        assert film.size == (480, 320)
        assert getattr(film, "n_frames", 1) > 3


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--door", "LP1:2"], "found leaf 2 of LP1, which has one leaf"),
        (["--door", "LP1:0"], "found leaf 0 of LP1"),
        (["--door", "S1"], "which has no leaf that is stated"),
        (["--door", "LP2"], "found LP2, right is the id of an item or a door"),
        (["-o", "room.avi"], "room.avi"),
    ],
)
def test_a_film_that_cannot_be_is_refused_in_a_line(
    room: Path, capsys: pytest.CaptureFixture[str], words: list[str], told: str
) -> None:
    assert told in _refusal(capsys, "film", room.name, *words)


def test_a_film_of_a_lesson_needs_one(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "room.yaml"
    path.write_text(ROOM, encoding="utf-8")
    assert "no lesson" in _refusal(capsys, "film", str(path), "--lesson")


@pytest.mark.long
@pytest.mark.parametrize(
    "program",
    [
        "from viewer.cli.main import main; status = main(['check', 'room.yaml'])",
        "import viewer.window.state; status = 0",
    ],
)
def test_who_draws_nothing_loads_no_graphics(room: Path, program: str) -> None:
    script = (
        f"import sys; sys.path.insert(0, {str(ROOT)!r}); {program};"
        "found = {'pyvista', 'vtkmodules', 'matplotlib'} & set(sys.modules);"
        "raise SystemExit(', '.join(found) or status)"
    )
    done = subprocess.run(  # noqa: S603 - the interpreter that runs this
        [sys.executable, "-c", script],
        cwd=room.parent,
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    assert done.returncode == 0, done.stderr
