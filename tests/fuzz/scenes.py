"""Mutated scenes: read, or refused with lines that are right; nothing else happens."""

from __future__ import annotations

import base64
import copy
import json
import warnings
from functools import cache
from typing import TYPE_CHECKING, Any, Final

from model3d import BookError, LessonError, MeshError, SceneError, check
from model3d.lessons import run_lesson
from model3d.scene.text.reader import read_text
from tests.fuzz.rooms import room
from tests.paths import ROOT

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path
    from random import Random

    from tests.fuzz.part import Example

VALUES: Final[tuple[Any, ...]] = (
    *(None, True, False, 0, -1, 1, 2, 1e-9, 1e-3, 1e7, -7e8, 1e308, 10**400),
    *("", "0", "1/0 in", "-1 in", "9" * 70, "\u202ex", "a\nb", "north", "wall-1"),
    *([], {}, [[]], [None], {"at": [0, 0]}, {"stands_on": "G0"}, "G0", "B0", "floor"),
    *([0, 0, 0], [1e6, 1e6, 1e6], ["1 mm", "1 mm", "1 mm"], [-1, 5], "obstacle"),
    *("panelboard", "mesh.stl", "x.obj", "open", "outdoor", "battery-room", "pit"),
)
_SIGNS: Final = "\x00\t\n\r\x85\u2028\ufeff\u202e:-[]{}#&*!|>'\"%@`,? \ud800"
_LONGEST: Final = 20_000


def example(draw: Random) -> Example:
    """Make a scene and change its values, or its text."""
    if draw.random() < 0.6:
        scene = room(draw)
        for _ in range(draw.choice((1, 1, 2, 3, 8))):
            _change(draw, scene)
        return {"text": _encoded(json.dumps(scene))}
    text = draw.choice(_written())
    for _ in range(draw.choice((1, 1, 2, 5))):
        text = _torn(draw, text)
    return {"text": _encoded(text)}


def wrong(example: Example) -> str:
    """Say whether anything is raised but what is promised, or warned of."""
    text = base64.b64decode(example["text"]).decode("utf-8", "surrogatepass")
    file = ROOT / "scenes" / "mutated.yaml"
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            return _wrong(text, file)
    except Exception as error:  # noqa: BLE001 - that is what is looked for
        return f"{type(error).__name__}: {error}"


def _wrong(text: str, file: Path) -> str:
    try:
        scene = read_text(text, file)
        check(scene).json()
        if scene.lesson:
            run_lesson(scene)
    except SceneError as error:
        lines = text.count("\n") + text.count("\r") + 1
        for one in error.mistakes:
            if not (1 <= one.line <= lines and one.column >= 1 and one.message):
                return f"mistake without a place: {one}"
            if len(str(one).splitlines()) != 1 or not str(one).isprintable():
                return f"mistake of several lines: {one!r}"
    except (BookError, LessonError, MeshError) as error:
        return "" if str(error) else "refusal without a word: nothing"
    return ""


def smaller(example: Example) -> Iterator[Example]:
    """Yield the text with lines, or parts of it, left out."""
    text = base64.b64decode(example["text"]).decode("utf-8", "surrogatepass")
    for size in (len(text) // 2, len(text) // 4, len(text) // 8, len(text) // 32, 1):
        if size:
            for start in range(0, len(text), size):
                yield {"text": _encoded(text[:start] + text[start + size :])}


def _encoded(text: str) -> str:
    return base64.b64encode(text.encode("utf-8", "surrogatepass")).decode()


@cache
def _written() -> tuple[str, ...]:
    files = sorted((ROOT / "scenes").rglob("*.yaml"))
    return tuple(file.read_text(encoding="utf-8") for file in files)


def _change(draw: Random, scene: Any) -> None:  # noqa: ANN401 - plain data
    here = scene
    while True:
        keys = [*here] if isinstance(here, dict) else [*range(len(here))]
        if not keys:
            return
        key = draw.choice(keys)
        if isinstance(here[key], dict | list) and here[key] and draw.random() < 0.8:
            here = here[key]
            continue
        match draw.randrange(4):
            case 0:
                del here[key]
            case 1 if isinstance(here, dict):
                key = draw.choice((*keys, "why", "door", "from", "mesh", "x"))
                here[key] = copy.deepcopy(draw.choice(VALUES))
            case 2 if isinstance(here, list):
                here.append(copy.deepcopy(here[key]))
            case _:
                here[key] = copy.deepcopy(draw.choice(VALUES))
        return


def _torn(draw: Random, text: str) -> str:
    start = draw.randrange(len(text) + 1)
    end = min(start + draw.choice((0, 1, 3, 30, 300)), len(text))
    match draw.randrange(4):
        case 0:
            return text[:start] + text[end:]
        case 1:
            return (
                text[:start]
                + draw.choice(_SIGNS) * draw.choice((1, 1, 80))
                + text[end:]
            )
        case 2:
            return (text[:end] + text[start:])[:_LONGEST]
        case _:
            value = json.dumps(draw.choice(VALUES))
            return text[:start] + value + text[end:]
