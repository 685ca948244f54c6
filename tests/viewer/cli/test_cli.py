"""The ``standclear`` command as a person or a program meets it.

The rooms are invented. The JSON keys and the exit statuses are those of the product's
own contract; a storage box before a panelboard that leaves less than 900 mm is not met
by NEC 110.26(A)(1), condition 1.
"""

from __future__ import annotations

import csv
import io
import json
import os
import re
import stat
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from model3d import BOOKS, Scene
from tests.paths import ROOT
from tests.viewer.portfolio.rooms import PANEL
from viewer.cli.given.scene_files import scene_files
from viewer.cli.main import commands, main
from viewer.output.outlet import emit, write_whole
from viewer.report.formats import formats, is_for_files

DOOR = {
    "id": "D1",
    "wall": "west",
    "along": 500,
    "width": 1000,
    "height": 2100,
    "opens": "out",
    "hinge": "left",
    "hardware": "panic",
}
BOX = {
    "id": "BOX",
    "kind": "machine",
    "size": [600.123, 600, 600],
    "place": {"at": [2250, 3150], "facing": "south"},
    "grounded": False,
}
T1 = {
    "id": "T1",
    "kind": "transformer",
    "size": [600, 500, 800],
    "place": {"wall": "south", "along": 2000},
}


def scene(*items: dict[str, Any], title: str = "Annex") -> dict[str, Any]:
    return {
        "title": title,
        "units": "mm",
        "rules": "nec-2023",
        "room": {
            "size": [5000, 4000],
            "height": 3000,
            "walls": "gypsum",
            "doors": [DOOR],
        },
        "items": list(items),
    }


def write(file: Path, *items: dict[str, Any], title: str = "Annex") -> str:
    """Write a scene and return its name; JSON is YAML."""
    file.parent.mkdir(exist_ok=True)
    file.write_text(json.dumps(scene(*items, title=title)), encoding="utf-8")
    return str(file)


@pytest.fixture
def clear(tmp_path: Path) -> str:
    return write(tmp_path / "clear.yaml", PANEL, title="Clear")


@pytest.fixture
def blocked(tmp_path: Path) -> str:
    return write(tmp_path / "blocked.yaml", PANEL, BOX, title="Blocked")


@pytest.fixture
def broken(tmp_path: Path) -> str:
    wrong = PANEL | {"kind": "panelbord", "door": "top"}
    return write(tmp_path / "broken.yaml", wrong)


Printed = pytest.CaptureFixture[str]


def test_nothing_not_met_is_0_though_something_is_open(
    tmp_path: Path, clear: str, capsys: Printed
) -> None:
    asked = write(tmp_path / "open.yaml", PANEL, T1)

    assert main(["check", clear]) == 0
    assert main(["check", asked]) == 0
    found = capsys.readouterr().out
    assert "[ ] T1 working-space: " in found
    assert "NOT MET" not in found


def test_something_not_met_is_1(blocked: str, clear: str, capsys: Printed) -> None:
    assert main(["check", blocked, clear]) == 1
    found = capsys.readouterr()
    assert re.search(r"NOT MET \(\d+\)\nItem ", found.out)
    assert "LP1   working-space  900 mm" in found.out
    assert "\x1b" not in found.out
    assert not found.err


def test_one_scene_alone_with_mistakes_is_2_and_prints_nothing_else(
    broken: str, capsys: Printed
) -> None:
    for word, form in formats().items():
        if is_for_files(form):
            continue
        assert main(["check", broken, "--format", word]) == 2
        found = capsys.readouterr()
        assert not found.out
        assert len(found.err.splitlines()) == 2


def test_a_scene_with_mistakes_is_told_in_its_place_among_others(
    broken: str, blocked: str, tmp_path: Path, capsys: Printed
) -> None:
    missing = str(tmp_path / "missing.yaml")

    assert main(["check", broken, blocked, missing]) == 2

    found = capsys.readouterr()
    first, *_ = found.out.splitlines()
    assert first == f"{broken}: refused, 2 mistakes"
    assert "Blocked\n" in found.out
    assert f"{missing}: refused, 1 mistake\n" in found.out
    assert "3 scenes, 2 of them refused, 1 of them with something not met" in found.out
    lines = found.err.splitlines()
    assert len(lines) == 3
    assert all(line.startswith(broken) for line in lines[:2])
    assert "panelboard" in lines[0] + lines[1]
    assert lines[2].startswith(missing)


def test_json_and_csv_of_a_refused_scene_are_the_contract(
    broken: str, clear: str, capsys: Printed
) -> None:
    assert main(["check", clear, broken, "--format", "json"]) == 2
    good, bad = map(json.loads, capsys.readouterr().out.splitlines())
    assert good["scene"] == "Clear"
    assert {key: bad[key] for key in ("format", "file")} == {
        "format": 1,
        "file": "broken.yaml",
    }
    kind = next(one for one in bad["mistakes"] if one["field"] == "kind")
    assert set(kind) == {"line", "column", "item", "field", "text"}
    assert (kind["item"], kind["line"]) == ("LP1", 1)
    assert "nearest: panelboard" in kind["text"]

    assert main(["check", broken, clear, "--format", "csv"]) == 2
    printed = capsys.readouterr()
    row, *others = csv.DictReader(io.StringIO(printed.out))
    assert (row["file"], row["verdict"]) == ("broken.yaml", "refused")
    assert all(line in row["reason"] for line in printed.err.splitlines())
    assert not any(row[name] for name in ("scene", "subject", "margin"))
    assert {one["file"] for one in others} == {"clear.yaml"}


def test_what_is_refused_for_none_of_its_lines_has_none(
    clear: str, blocked: str, capsys: Printed
) -> None:
    words = ["check", clear, blocked, "--rules", "nec-2032", "--format", "json"]
    assert main(words) == 2
    for line in capsys.readouterr().out.splitlines():
        (mistake,) = json.loads(line)["mistakes"]
        assert (mistake["line"], mistake["column"]) == (None, None)
        assert "nec-2032" in mistake["text"]


def test_a_rule_book_that_is_not_known_is_a_mistake(
    clear: str, blocked: str, capsys: Printed
) -> None:
    assert main(["check", clear, blocked, "--rules", "nec-2032"]) == 2
    first, second = capsys.readouterr().err.splitlines()
    assert first.startswith(f"{clear}: 'nec-2032' is no rule book")
    assert second.startswith(blocked)


@pytest.mark.long
def test_another_rule_book_and_the_other_figures_can_be_asked_for(
    tmp_path: Path, capsys: Printed
) -> None:
    # Box 3085 to 2485: 910 mm ahead, which is 900 mm but not 3 ft, 914.4 mm.
    nearly = BOX | {"place": {"at": [2250, 2640], "facing": "south"}}
    file = write(tmp_path / "nearly.json", PANEL, nearly)

    assert main(["check", file]) == 0
    assert main(["check", file, "--measures", "inch-pound"]) == 1
    assert main(["check", file, "--measures", "either"]) == 0
    assert main(["check", file, "--rules", "osha-1910"]) == 0
    assert "nearly.json, osha-1910: " in capsys.readouterr().out


def numbers(value: object) -> list[float]:
    if isinstance(value, dict):
        return [
            n for key, one in value.items() if key != "volume" for n in numbers(one)
        ]
    if isinstance(value, list):
        return [n for one in value for n in numbers(one)]
    return [value] if isinstance(value, int | float) else []


def test_json_is_the_contract(blocked: str, capsys: Printed) -> None:
    assert main(["check", blocked, "--format", "json"]) == 1
    out = capsys.readouterr().out
    assert out.count("\n") == 1

    found = json.loads(out)

    keys = ["format", "scene", "file", "rules", "counts", "judgements", "assumed"]
    assert [key for key in found if key != "unread"] == keys
    assert found["format"] == 1
    assert (found["scene"], found["file"]) == ("Blocked", "blocked.yaml")
    verdicts = [one["verdict"] for one in found["judgements"]]
    assert found["counts"] == {
        verdict: verdicts.count(verdict) for verdict in ("met", "not-met", "open")
    }
    (space,) = (
        one for one in found["judgements"] if one["requirement"] == "working-space"
    )
    assert space["verdict"] == "not-met"
    assert space["citation"] == "NEC 2023 110.26(A)(1)"
    assert space["required"] == {"depth": 900, "width": 762, "height": 2000}
    assert space["provided"] == {"depth": 400}
    assert space["printed"] == {
        "depth": ["900 mm", "3 ft"],
        "width": ["762 mm", "30 in"],
        "height": ["2.0 m", "6 1/2 ft"],
    }
    assert space["margin"] == -500
    assert space["condition"] == 1
    (intrusion,) = space["intrusions"]
    assert {"item", "low", "high", "volume"} == set(intrusion)
    assert all(round(number, 2) == number for number in numbers(found))
    (swing,) = (
        one for one in found["judgements"] if one["requirement"] == "door-swing"
    )
    assert swing["leaf"] == 0
    assert swing["required"] == {"angle": 90}


def test_json_of_several_scenes_is_one_a_line(
    blocked: str, clear: str, capsys: Printed
) -> None:
    assert main(["check", clear, blocked, "--format", "json"]) == 1
    first = capsys.readouterr().out
    assert [json.loads(line)["scene"] for line in first.splitlines()] == [
        "Clear",
        "Blocked",
    ]
    main(["check", clear, blocked, "--format", "json"])
    assert capsys.readouterr().out == first


@pytest.mark.long
def test_a_folder_stands_for_the_scenes_below(tmp_path: Path, capsys: Printed) -> None:
    folder = tmp_path / "rooms"
    write(folder / "b.yaml", title="B")
    write(folder / "a.json", title="A")
    (folder / "c").mkdir()
    (folder / "c" / "c.yml").write_text(
        "# by hand\ntitle: C\nunits: ft\nrules: nec-2026\nuse: outdoor\n", "utf-8"
    )
    (folder / "notes.txt").write_text("title: no scene")
    (folder / "services.yaml").write_text("services:\n  title: no scene\n")
    (folder / ".draft.yaml").write_text("hidden")
    write(folder / ".git" / "d.yaml", title="D")
    assert main(["schema", "-o", str(folder / "scene.schema.json")]) == 0
    report = str(folder / "report.json")
    arguments = ["check", str(folder), "--format", "json", "-o", report]
    assert main(arguments) == 0
    assert main(arguments) == 0, "its own report is no scene"

    lines = Path(report).read_text("utf-8").splitlines()

    assert [json.loads(line)["scene"] for line in lines] == ["A", "B", "C"]
    assert not capsys.readouterr().out


def test_what_may_be_a_scene_with_mistakes_is_not_passed_over(tmp_path: Path) -> None:
    for number, text in enumerate(["", "{", "just words", "titel: x\nunits: mm\n"]):
        (tmp_path / f"{number}.yaml").write_text(text)
    (tmp_path / "a.json").write_text('{"title": "x", }')
    (tmp_path / "b.json").write_bytes(b"\xff")
    (tmp_path / "c.json").write_text("[1, 2]")

    files, mistakes = scene_files([tmp_path])

    assert [file.name for file in files] == [
        "0.yaml",
        "1.yaml",
        "2.yaml",
        "3.yaml",
        "a.json",
        "b.json",
    ]
    assert not mistakes


def test_a_folder_without_a_scene_is_a_mistake(
    tmp_path: Path, clear: str, capsys: Printed
) -> None:
    empty = tmp_path / "empty"
    empty.mkdir()

    assert main(["check", clear, str(empty)]) == 2
    found = capsys.readouterr()
    assert not found.out
    assert found.err.startswith(f"{empty}: found no scene")


def test_a_folder_that_cannot_be_read_is_a_mistake(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write(tmp_path / "a.yaml")
    refused = PermissionError(13, "Permission denied", str(tmp_path))

    with monkeypatch.context() as patched:
        patched.setattr(os, "scandir", failing(refused))
        files, mistakes = scene_files([tmp_path])

    assert not files
    assert mistakes[0] == f"{tmp_path}: cannot be read (Permission denied)"


def test_output_is_whole_or_not_at_all(
    tmp_path: Path, clear: str, broken: str, capsys: Printed
) -> None:
    file = tmp_path / "out" / "report.txt"
    assert main(["check", clear, "-o", str(file)]) == 2
    assert capsys.readouterr().err.startswith(f"{file}: there is no folder")
    file.parent.mkdir()
    file.write_text("old")
    assert main(["check", broken, "-o", str(file)]) == 2
    assert file.read_text() == "old"
    assert main(["check", clear, broken, "-o", str(file)]) == 2
    assert f"{broken}: refused, 2 mistakes" in file.read_text("utf-8")
    assert main(["check", clear, "-o", str(file)]) == 0
    assert file.read_bytes().startswith(b"Clear\n")
    assert [one.name for one in file.parent.iterdir()] == ["report.txt"]


def test_a_file_that_cannot_be_replaced_stays(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "a.txt"
    file.write_text("old")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)

    with pytest.raises(OSError, match=r"No space left.*a\.txt"):
        write_whole(file, b"new")
    assert file.read_text() == "old"
    assert list(tmp_path.iterdir()) == [file]


def test_a_file_keeps_who_may_read_it(tmp_path: Path) -> None:
    file = tmp_path / "a.txt"
    file.write_text("old")
    file.chmod(0o444)
    before = stat.S_IMODE(file.stat().st_mode)
    if os.name == "nt":  # Windows replaces no file that is read-only
        file.chmod(0o666)
        before = stat.S_IMODE(file.stat().st_mode)

    write_whole(file, b"new")

    assert file.read_bytes() == b"new"
    assert stat.S_IMODE(file.stat().st_mode) == before
    file.chmod(0o666)


def test_a_device_is_written_to_and_not_replaced(clear: str) -> None:
    assert main(["check", clear, "-o", os.devnull]) == 0
    assert not Path(os.devnull).is_file()


def test_a_scene_is_not_written_over(clear: str, capsys: Printed) -> None:
    before = Path(clear).read_bytes()

    assert main(["check", clear, "-o", clear]) == 2
    assert "is a scene" in capsys.readouterr().err
    assert Path(clear).read_bytes() == before


def test_rules_lists_the_books(capsys: Printed) -> None:
    assert main(["rules"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert [line.split()[0] for line in lines] == list(BOOKS)
    assert "nec-2023   NEC 2023" in lines


@pytest.mark.long
def test_rules_prints_values_in_both_systems_with_citations(capsys: Printed) -> None:
    """29 CFR 1910.303 Table S-1 and (g)(1)(i)(B); figures from memory are marked."""
    assert main(["rules", "osha-1910"]) == 0
    found = " ".join(capsys.readouterr().out.split())
    assert "working-space: Working space in front of equipment" in found
    section = r"29 CFR .{,40}1910\.303\(g\)\(1\)\(i\)\(B\)"
    assert re.search(rf"762 mm / 30 in {section}", found)

    assert main(["rules", "nec-2023"]) == 0
    found = " ".join(capsys.readouterr().out.split())
    assert "25 mm / 1 in NEC 2023 480.10(C)" in found
    assert "(verify against the" in found


def test_rules_of_an_amendment_file(tmp_path: Path, capsys: Printed) -> None:
    assert main(["rules", str(tmp_path / "city.toml")]) == 2
    assert "city.toml" in capsys.readouterr().err
    assert main(["rules", "nec-2032"]) == 2
    assert "did you mean" in capsys.readouterr().err


@pytest.mark.long
def test_schema_is_one_that_scenes_agree_with(capsys: Printed) -> None:
    """JSON Schema draft 2020-12, by the reference library."""
    assert main(["schema"]) == 0

    schema = json.loads(capsys.readouterr().out)

    Draft202012Validator.check_schema(schema)
    judge = Draft202012Validator(schema)
    assert judge.is_valid(scene(PANEL, BOX))
    assert not judge.is_valid(scene(PANEL) | {"units": "cubits"})


def test_help_and_version(capsys: Printed) -> None:
    assert main(["--version"]) == 0
    assert capsys.readouterr().out.startswith("standclear ")
    assert main(["--help"]) == 0
    found = capsys.readouterr().out
    assert all(word in found for word in commands())
    assert main(["check", "--help"]) == 0
    assert "examples:" in capsys.readouterr().out


@pytest.mark.parametrize(
    "line",
    [
        ["chek"],
        ["check"],
        ["check", "a", "--format", "pdf"],
        ["check", "a", "b", "--c"],
    ],
)
def test_a_command_line_with_mistakes_is_2(line: list[str], capsys: Printed) -> None:
    assert main(line) == 2
    found = capsys.readouterr()
    assert not found.out
    (said,) = found.err.splitlines()
    assert said.startswith("standclear: ")


@pytest.mark.parametrize(
    ("name", "line"),
    [
        ("SCENE", ["check", ""]),
        ("SCENE", ["check", "clear.yaml", ""]),
        ("--output", ["check", "clear.yaml", "-o", ""]),
        ("LIST", ["import", "", "-o", "made.yaml"]),
    ],
)
def test_an_empty_name_is_not_the_folder_one_is_in(
    name: str,
    line: list[str],
    clear: str,
    capsys: Printed,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A shell puts it in for a variable that is not there; all was judged then."""
    monkeypatch.chdir(Path(clear).parent)
    Path(clear).rename("clear.yaml")
    assert main(line) == 2
    found = capsys.readouterr()
    assert not found.out
    (told,) = found.err.splitlines()
    assert f"{name}: found an empty name, right is that of a file" in told


def test_no_command_is_2_and_shows_the_help(capsys: Printed) -> None:
    assert main([]) == 2
    assert capsys.readouterr().err.startswith("usage: standclear")


def test_every_command_has_a_place_of_its_own_in_the_help() -> None:
    ranks = [command.RANK for command in commands().values()]
    assert ranks == sorted({*ranks})
    assert all(callable(command.run) for command in commands().values())


def failing(error: BaseException) -> Any:  # noqa: ANN401 - stands in for a function
    def fail(*_: object) -> None:
        raise error

    return fail


def test_a_fault_is_one_line_and_hides_no_other_mistake(
    clear: str, broken: str, monkeypatch: pytest.MonkeyPatch, capsys: Printed
) -> None:
    for error, said in (
        (
            RuntimeError("a\nb"),
            "a fault of standclear, please report it: RuntimeError: a b",
        ),
        (OSError(5, "Input/output error", "a.glb"), "a.glb: Input/output error"),
    ):
        monkeypatch.setattr("model3d.check", failing(error))

        assert main(["check", clear, broken]) == 2
        lines = capsys.readouterr().err.splitlines()
        assert len(lines) == 3
        assert lines[0] == f"{clear}: {said}"


@pytest.mark.parametrize(
    ("error", "status", "said"),
    [
        (KeyboardInterrupt(), 130, ""),
        (OSError(5, "Input/output error", "a.glb"), 2, "a.glb: Input/output error"),
        (MemoryError(), 2, "MemoryError"),
    ],
)
def test_no_traceback_ever(
    error: BaseException,
    status: int,
    said: str,
    monkeypatch: pytest.MonkeyPatch,
    capsys: Printed,
) -> None:
    monkeypatch.setattr("model3d.load_book", failing(error))

    assert main(["rules"]) == status
    err = capsys.readouterr().err
    assert said in err
    assert err.count("\n") == bool(said)


def test_an_interrupted_check_is_quiet(
    clear: str, monkeypatch: pytest.MonkeyPatch, capsys: Printed
) -> None:
    monkeypatch.setattr("model3d.check", failing(KeyboardInterrupt()))

    assert main(["check", clear]) == 130
    assert capsys.readouterr() == ("", "")


def piped(encoding: str, monkeypatch: pytest.MonkeyPatch) -> io.BytesIO:
    """Put a pipe of some encoding in place of standard output."""
    raw = io.BytesIO()
    stream = io.TextIOWrapper(raw, encoding=encoding, newline="\r\n")
    monkeypatch.setattr(sys, "stdout", stream)
    return raw


def test_a_console_that_knows_few_characters_does_not_stop_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    raw = piped("cp1252", monkeypatch)

    emit("\N{CJK UNIFIED IDEOGRAPH-6F22} M\xfcller\n")

    assert raw.getvalue() == b"? M\xfcller\r\n"


def test_json_is_the_same_bytes_on_every_system(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """RFC 8259: UTF-8 (8.1); half a surrogate pair is written as an escape (8.2)."""
    raw = piped("cp1252", monkeypatch)

    emit('"M\xfcller \ud800"\n', exact=True)

    assert raw.getvalue() == '"M\xfcller \\ud800"\n'.encode()


def python(code: str) -> subprocess.Popen[str]:
    return subprocess.Popen(  # noqa: S603 - this Python, on code that stands here
        [sys.executable, "-c", code],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


@pytest.mark.long
def test_a_reader_that_leaves_is_no_error() -> None:
    run = python(
        "import sys; from viewer.cli.main import main; sys.exit(main(['rules']))"
    )
    assert run.stdout is not None
    run.stdout.close()

    _, err = run.communicate()

    assert not err
    assert run.returncode == 0


def test_the_command_line_alone_imports_little() -> None:
    code = (
        "import sys; from viewer.cli.main import main; main(['check', '--help']);"
        "heavy = {'model3d', 'rich', 'numpy', 'trimesh', 'pyvista'};"
        "sys.exit(', '.join(heavy & set(sys.modules)) or None)"
    )

    _, err = python(code).communicate()

    assert not err


@pytest.mark.long
def test_a_check_draws_nothing(clear: str) -> None:
    code = (
        f"import sys; from viewer.cli.main import main; main(['check', {clear!r}]);"
        "sys.exit(', '.join({'pyvista', 'vtkmodules'} & set(sys.modules)) or None)"
    )

    out, err = python(code).communicate()

    assert out.startswith("Clear")
    assert not err


def test_the_test_scenes_are_scenes() -> None:
    assert Scene.model_validate(scene(PANEL, BOX, T1)).title == "Annex"


def test_a_table_holds_no_formula_and_no_row_of_a_stranger(
    tmp_path: Path, capsys: Printed
) -> None:
    file = tmp_path / "room.yaml"
    text = (ROOT / "scenes" / "high-handles.yaml").read_text("utf-8")
    lines = text.splitlines()
    place = next(n for n, line in enumerate(lines) if line.startswith("title:"))
    lines[place] = 'title: "=cmd|1\\r=2"'
    file.write_text("\n".join(lines), encoding="utf-8")
    main(["check", str(file), "--format", "csv"])
    printed = capsys.readouterr().out
    assert "\r" not in printed
    rows = [*csv.DictReader(io.StringIO(printed))]
    assert {row["scene"] for row in rows} == {"'=cmd|1 =2"}
    assert any(row["margin"] for row in rows)


@pytest.mark.long
def test_standard_input_that_is_closed_is_a_line() -> None:
    command = [sys.executable, "-m", "viewer.cli", "check", "-"]
    done = subprocess.run(  # noqa: S603 - our own command
        command,
        cwd=ROOT,
        preexec_fn=lambda: os.close(0),
        capture_output=True,
        check=False,
        encoding="utf-8",
    )
    assert done.returncode == 2
    assert done.stderr == "standclear: standard input: it is closed\n"


@pytest.mark.long
def test_a_full_device_is_named(capsys: Printed) -> None:
    scene = str(ROOT / "scenes" / "rows.yaml")
    assert main(["check", scene, "--format", "csv", "-o", "/dev/full"]) == 2
    assert "/dev/full: No space left on device" in capsys.readouterr().err
