"""``standclear lesson``: lessons as text and as JSON, and the exit status.

The rooms are invented; that 762 mm (30 in) are the least width and 150 mm (6 in) the
reach of what is above is published in NEC 110.26(A)(2) and (3).
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from rich.cells import cell_len

from model3d import read_scene
from model3d.lessons import run_lesson
from viewer.cli.main import main
from viewer.output.terminal import PLAIN_WIDTH
from viewer.report.text.lesson import lessons_text

Printed = pytest.CaptureFixture[str]

PANEL: dict[str, Any] = {
    "id": "LP1",
    "kind": "panelboard",
    "size": [500, 150, 900],
    "place": {"wall": "north", "along": 1500, "bottom": 900},
    "supply": {"system": "208Y/120", "amps": 200},
    "door": "left",
}
WIREWAY: dict[str, Any] = {
    "id": "WW1",
    "kind": "wireway",
    "size": [1200, 300, 150],
    "place": {"over": "LP1", "gap": 50},
}
DEEPER: dict[str, Any] = {
    "ask": "And 320?",
    "say": "No.",
    "do": [{"set": "WW1", "size": [1200, 320, 150]}],
    "expect": {"LP1": "not-met"},
}


def write(
    file: Path, *steps: dict[str, Any], title: str = "Wireways", units: str = "mm"
) -> str:
    """Write a scene, with a lesson where there are steps; JSON is YAML."""
    door = {"id": "D1", "wall": "south", "along": 500, "width": 900, "height": 2100}
    written: dict[str, Any] = {
        "title": "Annex",
        "units": units,
        "rules": "nec-2023",
        "room": {
            "size": [4000, 3000],
            "height": 2700,
            "walls": "gypsum",
            "doors": [{**door, "opens": "out", "hinge": "left"}],
            "lighting": {"control": "manual"},
        },
        "items": [PANEL, WIREWAY],
    }
    if steps:
        written["lesson"] = {"title": title, "steps": list(steps)}
    file.parent.mkdir(exist_ok=True, parents=True)
    file.write_text(json.dumps(written), encoding="utf-8")
    return str(file)


@pytest.fixture
def good(tmp_path: Path) -> str:
    first = {"say": "It is 300 deep.", "expect": {"LP1": {"working-space": "met"}}}
    return write(tmp_path / "good.yaml", first, DEEPER)


@pytest.fixture
def bad(tmp_path: Path) -> str:
    wrong = {"say": "It is 300 deep.", "expect": {"LP1": "open", "WW1": "met"}}
    return write(tmp_path / "bad.yaml", DEEPER, wrong, title="Wrong")


def test_a_good_lesson_is_0(good: str, capsys: Printed) -> None:
    assert main(["lesson", good]) == 0
    found = capsys.readouterr().out
    assert found.startswith("Wireways\nAnnex\n")
    assert "STEP 1 OF 2\nSay     It is 300 deep.\n" in found
    assert (
        "Ask     And 320?\nDo      WW1: size 1200 x 320 x 150\nAnswer  No.\n" in found
    )
    assert "LP1 working-space: met -> not met" in found
    assert "WW1 reaches 170 mm (6 11/16 in) past the front, 20 mm (13/16 in)" in found
    assert "Check   as expected: LP1 working-space met\n" in found
    assert "2 steps, all come out as the lesson says." in found
    assert "FAILED" not in found
    assert "Energised equipment can kill" in found


def test_a_lesson_that_does_not_come_true_is_1(
    good: str, bad: str, capsys: Printed
) -> None:
    assert main(["lesson", good, bad]) == 1
    found = capsys.readouterr().out
    second = found.partition("\nWrong\n")[2]
    line = "LP1 was expected to be open, but is not met (working-space)."
    assert f"FAILED  {line}\n" in second
    assert "WW1 was expected to be met, but is not judged.\n" in second
    assert "2 steps: step 2 fails.\n" in second
    assert "2 lessons, 1 fail: Wrong\n" in second


def test_steps_that_fail_are_all_named(tmp_path: Path, capsys: Printed) -> None:
    wrong = {"say": "x", "expect": {"LP1": "open"}}
    assert main(["lesson", write(tmp_path / "a.yaml", wrong, DEEPER, wrong)]) == 1
    assert "3 steps: steps 1, 3 fail.\n" in capsys.readouterr().out


def test_a_scene_without_a_lesson_is_2(
    tmp_path: Path, good: str, capsys: Printed
) -> None:
    bare = write(tmp_path / "bare.yaml")
    assert main(["lesson", good, bare]) == 2
    found = capsys.readouterr()
    assert found.out == ""
    assert found.err == (f"{bare}: found no lesson, right is a scene with a lesson\n")


def test_mistakes_of_all_scenes_are_told(tmp_path: Path, capsys: Printed) -> None:
    one = write(tmp_path / "one.yaml", {"say": "x", "expect": {"LP9": "met"}})
    two = write(
        tmp_path / "two.yaml",
        {"say": "x"},
        {"say": "x", "expect": {"LP1": {"door-swin": "met"}}},
    )
    missing = str(tmp_path / "missing.yaml")
    assert main(["lesson", one, two, missing]) == 2
    found = capsys.readouterr()
    lines = found.err.splitlines()
    assert len(lines) == 3
    assert '"LP9", right is an id that is there at this step' in lines[0]
    assert lines[1] == (
        f'{two}: step 2 of the lesson: found "door-swin" expected of LP1, right is the '
        "name of a requirement (nearest: door-swing)"
    )
    assert "found no such file" in lines[2]
    assert found.out == ""


def test_a_rule_book_that_is_none_is_2(tmp_path: Path, capsys: Printed) -> None:
    file = Path(write(tmp_path / "a.yaml", DEEPER))
    (tmp_path / "town.toml").write_text("amends = 3\n", encoding="utf-8")
    text = file.read_text(encoding="utf-8").replace("nec-2023", "town.toml")
    file.write_text(text, encoding="utf-8")
    assert main(["lesson", str(file)]) == 2
    assert capsys.readouterr().err.startswith(f"{file}: ")


def test_a_folder_stands_for_the_lessons_in_it(tmp_path: Path, capsys: Printed) -> None:
    write(tmp_path / "rooms" / "bare.yaml")
    write(tmp_path / "rooms" / "deep" / "b.yaml", DEEPER, title="Second")
    write(tmp_path / "rooms" / "a.yaml", DEEPER, title="First")
    assert main(["lesson", str(tmp_path / "rooms")]) == 0
    found = capsys.readouterr().out
    assert 0 <= found.index("First\n") < found.index("Second\n")
    assert "2 lessons, all come out as they say.\n" in found


def test_lessons_of_a_folder_come_by_their_number(
    tmp_path: Path, capsys: Printed
) -> None:
    names = {"a": None, "b": 10, "c": 9, "d": None, "e": 9}
    for name, number in names.items():
        write(tmp_path / "rooms" / f"{name}.yaml", DEEPER, title=f"L{name}")
        if number is not None:
            file = tmp_path / "rooms" / f"{name}.yaml"
            scene = json.loads(file.read_text(encoding="utf-8"))
            scene["lesson"]["number"] = number
            file.write_text(json.dumps(scene), encoding="utf-8")
    assert main(["lesson", str(tmp_path / "rooms")]) == 0
    titles = [one for one in capsys.readouterr().out.splitlines() if one[:1] == "L"]
    assert titles == ["Lc", "Le", "Lb", "La", "Ld"]
    first = str(tmp_path / "rooms" / "b.yaml")
    assert main(["lesson", first, str(tmp_path / "rooms" / "c.yaml")]) == 0
    titles = [one for one in capsys.readouterr().out.splitlines() if one[:1] == "L"]
    assert titles == ["Lb", "Lc"]


def test_a_folder_without_a_lesson_is_2(tmp_path: Path, capsys: Printed) -> None:
    write(tmp_path / "rooms" / "bare.yaml")
    assert main(["lesson", str(tmp_path / "rooms")]) == 2
    assert "found no lesson in this folder" in capsys.readouterr().err


def test_json_is_one_object_a_line(good: str, bad: str, capsys: Printed) -> None:
    assert main(["lesson", good, bad, "--format", "json"]) == 1
    one, two = map(json.loads, capsys.readouterr().out.splitlines())
    assert (one["lesson"], one["file"], one["passed"]) == (
        "Wireways",
        "good.yaml",
        True,
    )
    assert (two["passed"], two["steps"][0]["failed"]) == (False, [])
    failed = {(row["item"], row["found"]) for row in two["steps"][1]["failed"]}
    assert failed == {("LP1", "not-met"), ("WW1", None)}
    verdicts = [
        judgement["verdict"]
        for judgement in one["steps"][1]["report"]["judgements"]
        if judgement["requirement"] == "working-space"
    ]
    assert verdicts == ["not-met"]


def test_output_goes_to_a_file_and_never_over_a_scene(
    tmp_path: Path, good: str, capsys: Printed
) -> None:
    target = tmp_path / "lesson.txt"
    assert main(["lesson", good, "-o", str(target)]) == 0
    assert capsys.readouterr().out == ""
    assert target.read_text(encoding="utf-8").startswith("Wireways\n")
    before = Path(good).read_bytes()
    assert main(["lesson", good, "-o", good]) == 2
    assert "is a scene, right is another file" in capsys.readouterr().err
    assert Path(good).read_bytes() == before


def told(tmp_path: Path, *steps: dict[str, Any], **more: str) -> str:
    scene = read_scene(write(tmp_path / "told.yaml", *steps, **more))
    return lessons_text([(scene, run_lesson(scene))])


def test_every_change_is_said_in_words(tmp_path: Path) -> None:
    change = [
        {"move": "WW1", "by": [-25.4, 0, 76.2]},
        {"move": "WW1", "by": [0, 0, 0]},
        {
            "set": "LP1",
            "name": "Panel",
            "door": None,
            "doors": [{"hinge": "left", "width": 400}],
        },
        {
            "add": {
                "id": "B",
                "kind": "obstacle",
                "name": "Bin",
                "size": [9, 9, 9],
                "place": {"at": [99, 99]},
                "grounded": False,
            }
        },
        {"open": "LP1", "to": 45},
        {"open": "D1", "to": 0.5},
        {"remove": "B"},
    ]
    found = told(tmp_path, {"say": "x", "do": change})
    assert "Do      WW1 moved 25.4 mm (1 in) west and 76.2 mm (3 in) up\n" in found
    assert "        WW1 moved by 0\n" in found
    assert '        LP1: named "Panel", no door, doors hinge left width 400\n' in found
    assert "        B put in: obstacle (Bin)\n" in found
    assert "        LP1 opened to 45 degrees, or as far as it goes\n" in found
    assert "        D1 opened to 0.5 degrees, or as far as it goes\n" in found
    assert "        B taken away\n" in found


def test_sizes_that_are_asked_for_anew_are_told_with_the_old_ones(
    tmp_path: Path,
) -> None:
    """The width is the greater of 762 and the equipment's own: NEC 110.26(A)(2)."""
    wider = {
        "say": "x",
        "do": [{"set": "LP1", "size": [800, 150, 900]}],
        "expect": {"LP1": {"working-space": "met"}},
    }
    found = told(tmp_path, wider)
    assert "width: 800 mm (2 ft 7 1/2 in) required (before: 762 mm (30 in))" in found
    assert "dedicated-space" not in found


def test_the_place_of_a_space_that_slides_is_told(tmp_path: Path) -> None:
    """(762 - 500) / 2 = 131 on either side, where nothing is in the way."""
    found = told(tmp_path, {"say": "x", "expect": {"LP1": {"working-space": "met"}}})
    words = " ".join(found.split())
    assert "the space reaches 131 mm (5 3/16 in) past the left side of LP1" in words
    assert "and 131 mm (5 3/16 in) past its right side" in words


def test_what_is_new_and_met_is_told_in_a_line(tmp_path: Path) -> None:
    gear = {
        **PANEL,
        "id": "LP2",
        "place": {"wall": "west", "along": 1500, "bottom": 900},
    }
    found = told(tmp_path, {"say": "x", "do": [{"add": gear}]})
    assert "Result  LP2 clear-floor, dedicated-space, door-swing, entrance" in found


def test_nothing_changes_is_said(tmp_path: Path) -> None:
    found = told(tmp_path, {"say": "x", "do": [{"open": "LP1", "to": 90}]})
    assert "Result  No verdict changes.\n" in found


def test_what_is_open_says_what_to_ask(tmp_path: Path) -> None:
    step = {"say": "x", "do": [{"set": "LP1", "supply": None}]}
    found = told(tmp_path, step)
    assert "LP1 working-space: met -> open" in found
    assert "Say the supply of LP1" in found


@pytest.mark.parametrize("width", [40, 60, PLAIN_WIDTH, 200])
def test_no_line_is_wider_than_the_window(tmp_path: Path, width: int) -> None:
    scene = read_scene(write(tmp_path / "a.yaml", {**DEEPER, "say": "word " * 99}))
    text = lessons_text([(scene, run_lesson(scene))], width=width)
    assert max(map(cell_len, text.splitlines())) <= width


def test_colour_says_nothing_that_words_do_not(tmp_path: Path) -> None:
    scene = read_scene(write(tmp_path / "a.yaml", DEEPER))
    results = run_lesson(scene)
    plain = lessons_text([(scene, results)])
    coloured = lessons_text([(scene, results)], colour=True)
    assert "\x1b[" not in plain
    assert "\x1b[" in coloured


def test_hostile_words_do_no_harm_on_a_terminal(tmp_path: Path) -> None:
    words = "\x1b[2J\u202e\nSTEP 9 OF 9"
    step = {
        "ask": words,
        "say": words,
        "do": [{"set": "WW1", "name": words}],
        "expect": {"LP1": "open"},
    }
    found = told(tmp_path, step, title=words)
    assert "\x1b" not in found
    assert "\u202e" not in found
    assert "\nSTEP 9" not in found
