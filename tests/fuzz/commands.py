"""Changed scenes through every command: an exit status, lines, no half of a file."""

from __future__ import annotations

import base64
import contextlib
import copy
import io
import json
import re
import shutil
import tempfile
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import yaml

from tests.fuzz import scenes
from tests.paths import ROOT
from viewer.cli.main import NOT_USABLE, main

if TYPE_CHECKING:
    from collections.abc import Iterator
    from random import Random

    from tests.fuzz.part import Example

_COMMANDS: Final = (
    *("check --format text", "check --format csv", "check --format json --rules ca"),
    *("check --format jsonl --measures si", "check --format json --rules nec-2026"),
    *("lesson", "lesson --format json", "page -o made.html", "report -o made.html"),
    *("figure -o made.svg", "figure ITEM -o made.svg", "figure ITEM -o made.dxf"),
    *("figure ITEM --view ways -o made.svg", "figure ITEM --view rack -o made.svg"),
    *("place ITEM", "place ITEM --format json", "mend", "mend --slack --format json"),
    *("export -o made.glb", "export -o made.dxf", "export -o made.csv"),
    *("export -o made.bcf", "compare OTHER", "compare OTHER --format json"),
)
"""What is asked; the scene's file stands behind the first word."""
_FEW: Final = 3
"""Items that are kept of a room: ways out of a full one take seconds."""
_LINE: Final = re.compile(r"(scene\.yaml|gear\.yaml|other\.yaml|standclear)(:\d+)*: \S")
_ODD: Final = re.compile(
    r"[^\n\x20-\x7e\xa0-\u1fff\u2010-\u2027\u2030-\ufeee\U00010000-\U0001fbff]"
)
"""Signs that a terminal may obey; some that it does not."""


def example(draw: Random) -> Example:
    """Take some things of an example room, put others' values in, choose a command."""
    scene = copy.deepcopy(draw.choice(_rooms()))
    items = scene.get("items")
    if isinstance(items, list) and len(items) > _FEW:
        scene["items"] = draw.sample(items, draw.randint(1, _FEW))
    for _ in range(draw.choice((0, 1, 1, 2, 3, 5))):
        _change(draw, scene)
    command = draw.choice(_COMMANDS)
    if not command.startswith("lesson") and draw.random() < 0.8:
        scene.pop("lesson", None)
    text = json.dumps(scene, default=str)
    if draw.random() < 0.5:
        text = yaml.safe_dump(json.loads(text), sort_keys=False)
    found = scene.get("items")
    first = found[0] if isinstance(found, list) and found else None
    name = first.get("id") if isinstance(first, dict) else None
    if not isinstance(name, str) or not name.isprintable() or name.startswith("-"):
        name = "LP1"
    return {"text": text, "command": command.replace("ITEM", name[:40])}


def wrong(example: Example) -> str:
    """Say whether anything comes out but what is promised."""
    with tempfile.TemporaryDirectory() as name, contextlib.chdir(name):
        folder = Path(name)
        for file in ("gear.yaml", "quillhaven.toml"):
            shutil.copy(ROOT / "scenes" / file, folder)
        (folder / "meshes").symlink_to(ROOT / "scenes" / "meshes")
        (folder / "scene.yaml").write_text(
            example["text"], encoding="utf-8", errors="surrogatepass"
        )
        (folder / "other.yaml").write_text(_text_of_another(), encoding="utf-8")
        before = {file.name for file in folder.iterdir()}
        word, *more = example["command"].replace("OTHER", "other.yaml").split(" ")
        out, err = io.StringIO(), io.StringIO()
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            status = main([word, "scene.yaml", *more])
        made = {file.name for file in folder.iterdir()} - before
    return _wrong(status, out.getvalue(), err.getvalue(), made)


def _wrong(status: int, out: str, err: str, made: set[str]) -> str:
    lines = err.splitlines()
    if status not in (0, 1, NOT_USABLE) or "a fault of standclear" in err:
        return f"fault: {status} {err}"
    if odd := _ODD.search(out + err):
        return f"a sign that is obeyed: {odd[0]!r}"
    if status != NOT_USABLE:
        return f"said beside an answer: {err}" if err else ""
    if made:
        return f"written though refused: {made}"
    if not lines or any(not _LINE.match(line) for line in lines):
        return f"no line with its place: {err}"
    if len({*lines}) < len(lines):
        return f"said twice: {err}"
    return ""


def smaller(example: Example) -> Iterator[Example]:
    """Yield the scene with parts of it left out."""
    try:
        scene = yaml.safe_load(example["text"])
    except yaml.YAMLError:
        scene = None
    for less in _less(scene):
        yield {**example, "text": json.dumps(less, default=str)}
    if not isinstance(scene, dict | list):
        text = base64.b64encode(example["text"].encode("utf-8", "surrogatepass"))
        for one in scenes.smaller({"text": text.decode()}):
            plain = base64.b64decode(one["text"]).decode("utf-8", "surrogatepass")
            yield {**example, "text": plain}


def _less(data: Any) -> Iterator[Any]:  # noqa: ANN401 - plain data
    if not isinstance(data, dict | list):
        return
    keys = [*data] if isinstance(data, dict) else [*range(len(data))]
    for key in reversed(keys):
        less = copy.copy(data)
        del less[key]
        yield less
    for key in keys:
        for part in _less(data[key]):
            less = copy.copy(data)
            less[key] = part
            yield less


def _change(draw: Random, scene: dict[str, Any]) -> None:
    """Put a value from anywhere, or none, at some place, or a key from anywhere."""
    places = [*_places(scene)]
    if not places:
        return
    here, key = draw.choice(places)
    match draw.randrange(8):
        case 0:
            del here[key]
        case 1 | 2:
            here[key] = copy.deepcopy(draw.choice(scenes.VALUES))
        case 3 if isinstance(here[key], int | float):
            by = (-1, 0.001, 0.5, 0.999999999, 1.000000001, 2, 25.4, 1000)
            here[key] = here[key] * draw.choice(by)
        case 4:
            here[key] = [copy.deepcopy(here[key])] * draw.choice((1, 2, 10))
        case 5 if isinstance(here, dict):
            other, name = draw.choice(_all_places())
            if isinstance(other, dict):
                here[name] = copy.deepcopy(other[name])
        case 6 if isinstance(here, list):
            here.insert(key, copy.deepcopy(here[key]))
        case _:
            other, name = draw.choice(_all_places())
            here[key] = copy.deepcopy(other[name])


def _places(data: Any) -> Iterator[tuple[Any, Any]]:  # noqa: ANN401 - plain data
    if isinstance(data, dict | list):
        for key, value in (
            [*data.items()] if isinstance(data, dict) else [*enumerate(data)]
        ):
            yield data, key
            yield from _places(value)


@cache
def _all_places() -> list[tuple[Any, Any]]:
    return [place for room in _rooms() for place in _places(room)]


@cache
def _rooms() -> list[dict[str, Any]]:
    files = sorted((ROOT / "scenes").rglob("*.yaml"))
    files += sorted((ROOT / "tests/scene/good").glob("*.yaml"))
    found = [yaml.safe_load(file.read_text(encoding="utf-8")) for file in files]
    return [json.loads(json.dumps(one, default=str)) for one in found]


@cache
def _text_of_another() -> str:
    return (ROOT / "scenes/clean-small-room.yaml").read_text(encoding="utf-8")
