"""Print the JSON Schema of the scene file, for editors that complete and check."""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import TYPE_CHECKING, Final

from viewer.cli.given.arguments import output_argument
from viewer.cli.given.target import check_target
from viewer.output.outlet import emit, write_whole
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from collections.abc import Iterable

RANK: Final = 14
MORE: Final = """\
examples:
  standclear schema -o scene.schema.json
  standclear schema -o scene.schema.json --link room.yaml annex.yaml

With --link the first line of each scene says where the schema is, and an editor that
knows YAML schemas completes and checks while you write. All else in it stays as it is.
"""


def take(parser: ArgumentParser) -> None:
    """Take a file to write to, and scenes that are to name it."""
    output_argument(parser)
    parser.add_argument(
        "--link",
        metavar="SCENE",
        nargs="+",
        type=Path,
        default=[],
        help="name the schema in the first line of these scenes; with -o",
    )


def run(arguments: Namespace) -> int:
    """Write the schema, link it and return the exit status.

    Raises:
        UnusableError: There is no file to link, or a scene cannot be used.
        OSError: The output cannot be written.
    """
    from model3d.scene.text.schema import json_schema

    target: Path | None = arguments.output
    scenes: list[Path] = arguments.link
    if target is not None:
        check_target(target, "a schema", scenes=scenes)
    elif scenes:
        raise UnusableError(["--link: found no -o, right is -o FILE beside it"])
    texts = _linked(scenes, target) if target is not None else []
    text = json.dumps(json_schema(), indent=2, ensure_ascii=False)
    emit(f"{text}\n", target, exact=True)
    for file, data in texts:
        write_whole(file, data)
    return 0


def _linked(scenes: Iterable[Path], schema: Path) -> list[tuple[Path, bytes]]:
    """Return each scene with its link; none is written before all can be."""
    from model3d import SceneError, read_scene
    from model3d.scene.text.schema_link import linked

    found, mistakes = [], []
    for file in scenes:
        try:
            read_scene(file)
        except SceneError as error:
            mistakes += [*map(str, error.mistakes)]
            continue
        text = file.read_bytes().decode()
        as_json = file.suffix.lower() == ".json"
        found.append(
            (file, linked(text, _from(file, schema), as_json=as_json).encode())
        )
    if mistakes:
        raise UnusableError(mistakes)
    return found


def _from(scene: Path, schema: Path) -> str:
    """Return the way from a scene to its schema, as an editor takes it."""
    there = Path(os.path.realpath(schema))
    try:
        way = os.path.relpath(there, Path(os.path.realpath(scene)).parent)
    except ValueError:  # on another drive
        return there.as_uri()
    return Path(way).as_posix()
