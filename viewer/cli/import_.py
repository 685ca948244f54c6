"""Make a scene of a list of equipment, a plan or a building model."""

from __future__ import annotations

import sys
from argparse import ArgumentTypeError
from pathlib import Path
from typing import TYPE_CHECKING, Final

from viewer.cli.given.scene import unusable_explained
from viewer.cli.given.target import check_target
from viewer.cli.source.building import (
    building_arguments,
    import_building,
    is_building,
    without_building,
)
from viewer.cli.source.plan import import_plan, is_plan, plan_arguments, without_plan
from viewer.cli.source.table import table_data
from viewer.output.outlet import emit, write_whole
from viewer.wording.cleaning import clean
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from collections.abc import Mapping, Sequence

    from model3d import Scene
    from model3d.exchange.schedule.grid import Grid
    from model3d.exchange.schedule.joined import Joined
    from model3d.exchange.schedule.schedule import Schedule

RANK: Final = 20
MORE: Final = """\
examples:
  standclear import LIST.csv --size 6000x4000x3000 --units mm --rules nec-2023
      -o room.yaml
  standclear import LIST.xlsx --into room.yaml -o joined.yaml
  standclear import LIST.csv --space "ELEC 215" --mapping kinds.toml ... -o room.yaml

  standclear import PLAN.dxf -o layers.csv
  standclear import PLAN.dxf --layers layers.csv --rules nec-2023 -o room.yaml

  standclear import MODEL.ifc SERVICES.ifc --rules nec-2023 --around LP1 -o room.yaml
  standclear import MODEL.ifc -o kinds.toml
  standclear import MODEL.ifc -o gear.ids

A list has one row an item: tag, kind, width, depth, height, and what else is known:
name, system, amps, door, wall and along (from the wall's left end, seen from inside,
facing it), or x, y and facing of the middle of the back, stands on, bottom. Lengths
need a unit in the cell or in the heading. What has no place yet is listed by check.
With --into what the list says of an item that is there (by its id, or the name, tag or
GlobalId that a model gave it) takes the place of what the scene says, and is told. A
row may name a type of the scene as its kind. A workbook (.xlsx) needs the extra [xlsx].

Of a plan the closed lines are taken: layers.csv lists its layers, to be filled in with
what each becomes (room outline, wall, column, a kind, ignore) and how high that is.
Needs the extra [dxf].

Of a building model one space is taken: --space, or where one works at --around. What is
no box goes into a mesh file beside the scene. kinds.toml is the table that says which
class is which kind, to be edited and given by --mapping. gear.ids (an open standard)
tells modellers what every board must say; what one does not is listed by each import.
Needs the extra [ifc].
"""
_TEXT: Final = ("csv", "tsv", "txt")
_WORKBOOK: Final = "xlsx"
_FLAT, _FULL = 2, 3


def take(parser: ArgumentParser) -> None:
    """Take a list, the room or the scene it is put into, and where that goes."""
    parser.add_argument(
        "list",
        metavar="LIST",
        type=Path,
        nargs="+",
        help="a list (.csv, .tsv, .xlsx), a plan (.dxf) or models (.ifc, .ifczip)",
    )
    parser.add_argument(
        "-o",
        "--output",
        metavar="SCENE",
        type=Path,
        required=True,
        help="the scene that is made: a new file",
    )
    parser.add_argument(
        "--into", metavar="SCENE", type=Path, help="join the list to this scene"
    )
    parser.add_argument(
        "--size",
        metavar="WIDTHxDEPTH[xHEIGHT]",
        type=_lengths,
        help="of the room, between its walls, without --into",
    )
    parser.add_argument(
        "--units", choices=("mm", "m", "in", "ft"), help="of the scene, without --into"
    )
    parser.add_argument(
        "--rules", metavar="BOOK", help="the rule book of the scene, without --into"
    )
    parser.add_argument(
        "--space",
        metavar="ROOM",
        help="only the rows of this room, by column Room; of a model or plan this one",
    )
    parser.add_argument(
        "--mapping",
        metavar="KINDS.toml",
        type=Path,
        help='what words of the list mean: lines such as "LTG PNL" = "panelboard"',
    )
    parser.add_argument(
        "--sheet", metavar="NAME", help="of a workbook with several lists"
    )
    building_arguments(parser)
    plan_arguments(parser)


def _lengths(text: str) -> tuple[float | str, ...]:
    """Read lengths with x between them.

    >>> _lengths("6000x4000"), _lengths("20 ft x 14 ft x 10 ft")
    ((6000.0, 4000.0), ('20 ft', '14 ft', '10 ft'))
    """
    from model3d.units import LengthError, check_length

    found: list[float | str] = []
    for part in text.lower().split("x"):
        word = part.strip()
        try:
            bare = word.replace(".", "", 1).isdecimal()
            found.append(check_length(float(word) if bare else word, above_zero=True))
        except LengthError as error:
            msg = f"found {text}, right is {error}, with x between width and depth"
            raise ArgumentTypeError(msg) from None
    if len(found) not in (_FLAT, _FULL):
        msg = f"found {text}, right is width x depth or width x depth x height"
        raise ArgumentTypeError(msg)
    return tuple(found)


def run(arguments: Namespace) -> int:
    """Read the list, write the scene and return the exit status.

    Raises:
        UnusableError: The list, the scene or the command line cannot be used; with
            all mistakes.
        OSError: The scene cannot be written.
    """
    if is_plan(arguments.list):
        return import_plan(arguments)
    _refuse(without_plan(arguments))
    if is_building(arguments.list):
        return import_building(arguments)
    if len(arguments.list) > 1:
        more = arguments.list[1:]
        _refuse([f"{one}: found another list, right is one" for one in more])
    (arguments.list,) = arguments.list
    ending = arguments.list.suffix.lower().removeprefix(".")
    target: Path = arguments.output
    _refuse([*_mistakes(arguments, ending), *without_building(arguments)])
    into: Path | None = arguments.into
    as_json = into is not None and into.suffix.lower() == ".json"
    check_target(target, "a scene", ("json",) if as_json else ("yaml", "yml"))
    if target.exists():
        raise UnusableError([f"{target}: is there already, right is a new file"])
    base, text = _base(arguments)
    schedule = _schedule(arguments, base)
    whole, notes = _text(base, text, schedule, target)
    write_whole(target, whole.encode())
    for note in (*notes, *_notes(schedule), *_taken(arguments, base)):
        print(clean(note), file=sys.stderr)
    emit(f"{target}\n")
    return 0


def _refuse(mistakes: Sequence[str]) -> None:
    if mistakes:
        raise UnusableError(mistakes)


def _mistakes(arguments: Namespace, ending: str) -> list[str]:
    found = []
    if ending not in (*_TEXT, _WORKBOOK):
        # What else is wrong depends on what the file is meant to be.
        known = f"{', '.join(f'.{one}' for one in _TEXT)} or .{_WORKBOOK}"
        others = "a plan in .dxf, or models in .ifc or .ifczip"
        return [f"{arguments.list}: right is a list that ends in {known}, {others}"]
    if arguments.sheet is not None and ending != _WORKBOOK:
        found.append("--sheet: found no workbook, right is a list that ends in .xlsx")
    for name in ("size", "units", "rules"):
        given = getattr(arguments, name) is not None
        if given and arguments.into is not None:
            found.append(f"--{name}: found --into beside it, right is one of them")
        if not given and arguments.into is None:
            found.append(f"--{name}: found nothing, right is --{name}, or --into SCENE")
    return found


def _base(arguments: Namespace) -> tuple[Scene, str]:
    """Return the scene that the list is put into, and its text."""
    from model3d import SceneError, read_scene, read_text
    from model3d.scene.manuscript import comment
    from viewer.cli.source.skeleton import as_yaml, skeleton_of_list

    if arguments.into is not None:
        with unusable_explained(arguments.into):
            return read_scene(arguments.into), arguments.into.read_bytes().decode()
    stem = arguments.list.stem.replace("-", " ").replace("_", " ").strip()
    text = skeleton_of_list(
        comment(arguments.space or stem.capitalize() or "Room"),
        arguments.units,
        arguments.rules,
        [as_yaml(one) for one in arguments.size],
        comment(arguments.list.name),
    )
    try:
        return read_text(text, arguments.output), text
    except SceneError as error:
        lines = [
            f"--{'rules' if one.field == 'rules' else 'size'}: {one.message}"
            for one in error.mistakes
        ]
        raise UnusableError(lines) from error


def _schedule(arguments: Namespace, base: Scene) -> Schedule:
    from model3d.exchange.schedule.grid import GridError
    from model3d.exchange.schedule.joined import names_in
    from model3d.exchange.schedule.listing import ScheduleError
    from model3d.exchange.schedule.schedule import read_schedule
    from model3d.scene.text.reader import known_types

    file = arguments.list
    try:
        return read_schedule(
            _grids(file, arguments.sheet),
            str(file),
            units=base.units,
            kinds=_mapping(arguments.mapping),
            room=arguments.space,
            there=names_in(base),
            types=known_types(base),
        )
    except GridError as error:
        raise UnusableError([f"{file}: {error}"]) from error
    except ScheduleError as error:
        raise UnusableError(map(str, error.mistakes)) from error


def _grids(file: Path, sheet: str | None) -> list[Grid]:
    from model3d.exchange.schedule.grid import LARGEST, grids_of_text, grids_of_workbook

    data = table_data(file, LARGEST, "a smaller file")
    if file.suffix.lower() != f".{_WORKBOOK}":
        return grids_of_text(data)
    try:
        return grids_of_workbook(data, sheet)
    except ImportError as error:
        msg = 'a workbook needs the extra [xlsx]: pip install "standclear[xlsx]"'
        raise UnusableError([f"{file}: {msg}"]) from error


def _mapping(file: Path | None) -> dict[str, str]:
    from model3d.exchange.schedule.kind_words import KindError, mapping_of

    if file is None:
        return {}
    try:
        return mapping_of(table_data(file).decode("utf-8-sig"))
    except (KindError, UnicodeDecodeError) as error:
        raise UnusableError([f"{file}: {error}"]) from error


def _text(
    base: Scene, text: str, schedule: Schedule, target: Path
) -> tuple[str, list[str]]:
    """Return the text of the scene with the list, and what else is to be told."""
    from model3d.exchange.schedule.joined import joined
    from model3d.exchange.schedule.listing import ScheduleError
    from model3d.scene.text.reader import known_types
    from viewer.live.saving.appended import appended
    from viewer.live.saving.save import SaveError, edited

    try:
        found = joined(base, schedule, known_types(base))
        beside = base.file or target
        if base.items:
            text = edited(text, base, found.old, beside)
        entries = [(entry.data, entry.notes) for entry in found.new]
        return appended(text, entries, found.scene, beside), _told(base, found)
    except ScheduleError as error:
        raise UnusableError(map(str, error.mistakes)) from error
    except SaveError as error:
        raise UnusableError([f"{target}: {error}"]) from error


def _told(base: Scene, found: Joined) -> list[str]:
    from model3d.exchange.schedule.joined import overruled

    changed = [
        new.id
        for old, new in zip(base.items, found.old.items, strict=True)
        if old.written() != new.written()
    ]
    waiting = found.scene.no_place
    low = [one.id for one in found.new if _is_low(one.data.get("place", {}))]
    told = [f"changed: {', '.join(changed)}"] if changed else []
    told += overruled(base, found.old)
    told += [f"no Bottom or Top, so on the floor: {', '.join(low)}"] if low else []
    return told + ([f"no place yet: {', '.join(waiting)}"] if waiting else [])


def _is_low(place: Mapping[str, object]) -> bool:
    """Tell whether an item is put somewhere, and how high is said nowhere."""
    keys = set(place)
    return bool(keys & {"wall", "at"}) and not keys & {"bottom", "top"}


def _taken(arguments: Namespace, base: Scene) -> list[str]:
    """Return what was taken of the room that nobody has said."""
    if arguments.into is not None or len(arguments.size) == _FULL or base.room is None:
        return []
    taken = f"{base.room.height:g} {base.units}"
    return [f"--size: found no height, {taken} is taken: say how high the ceiling is"]


def _notes(schedule: Schedule) -> list[str]:
    file, titles = schedule.file, ", ".join(schedule.unread)
    asides = [
        f"{file}: row {row}: passed over, no item: {text}"
        for row, text in schedule.asides
    ]
    return asides + ([f"{file}: kept as comments only: {titles}"] if titles else [])
