"""A building model that a command makes a scene of."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Final

from viewer.cli.given.progress import progress
from viewer.cli.given.target import check_target, tell_file
from viewer.cli.source.model_file import ENDINGS, model_fault
from viewer.cli.source.table import table_data
from viewer.output.outlet import write_whole
from viewer.wording.cleaning import clean
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from collections.abc import Callable
    from pathlib import Path

    from model3d.exchange.ifc.building_place import Location
    from model3d.exchange.ifc.element import Building, Element
    from model3d.exchange.ifc.gear.classes import ClassRow
    from model3d.exchange.ifc.gear.likely_front import FrontedBox
    from model3d.exchange.ifc.scene_entries import Imported

_BEYOND: Final = 1.0
"""Metres beyond an element's required space that are taken where the model has no space
there."""


def building_arguments(parser: ArgumentParser) -> None:
    """Take what of a building model is meant."""
    group = parser.add_argument_group("of a building model (.ifc, .ifczip)")
    group.add_argument("--storey", metavar="NAME", help="only spaces of this storey")
    group.add_argument(
        "--around",
        metavar="ID",
        help="the place where one works at this element: GlobalId, tag or name",
    )
    group.add_argument(
        "--within",
        metavar="LENGTH",
        help="with --around: leave out what is so far beyond its required space; "
        "default: the whole room, and 1 m where the model has none",
    )
    group.add_argument(
        "--front",
        metavar="ID=SIDE",
        action="append",
        default=[],
        help="where its front points, of a plan too: north, east, south, west, degrees",
    )


def without_building(arguments: Namespace) -> list[str]:
    """Return what was asked of a building model where there is none."""
    return [
        f"--{name}: found beside a list, right is a building model"
        for name in ("storey", "around", "within", "front")
        if getattr(arguments, name)
    ]


def is_building(files: list[Path]) -> bool:
    """Tell whether building models are named."""
    return any(file.suffix.lower() in ENDINGS for file in files)


def import_building(arguments: Namespace) -> int:
    """Make a scene of building models and return the exit status.

    Raises:
        UnusableError: They cannot be used, or do not say enough; nothing is written.
        OSError: The scene cannot be written.
    """
    from model3d.exchange.ifc.element import ModelError

    target: Path = arguments.output
    try:
        if target.suffix.lower() == ".toml":
            return _write_table(target)
        if target.suffix.lower() == ".ids":
            return _write_asked(target, _rows(arguments.mapping))
        _check(arguments)
        rows, fronts = _rows(arguments.mapping), fronts_of(arguments.front)
        within = _within(arguments)
        with progress() as tell:
            building = _building(arguments, tell)
            tell("making the scene")
            return _make(arguments, building, rows, fronts, within)
    except ModelError as error:
        raise UnusableError(error.mistakes) from error


def _write_table(target: Path) -> int:
    from model3d.exchange.ifc.gear.classes import table_text

    if target.exists():
        raise UnusableError([f"{target}: is there already, right is a new file"])
    check_target(target, "a table of kinds", ("toml",))
    write_whole(target, table_text().encode())
    tell_file(target)
    return 0


def _write_asked(target: Path, rows: tuple[ClassRow, ...]) -> int:
    from model3d.exchange.ifc.gear.ids import ids_text

    if target.exists():
        raise UnusableError([f"{target}: is there already, right is a new file"])
    check_target(target, "what models must say", ("ids",))
    try:
        text = ids_text(rows)
    except ImportError as error:
        msg = (
            'the classes of models need the extra [ifc]: pip install "standclear[ifc]"'
        )
        raise UnusableError([f"{target}: {msg}"]) from error
    write_whole(target, text)
    tell_file(target)
    return 0


def _check(arguments: Namespace) -> None:
    target: Path = arguments.output
    check_target(target, "a scene", ("yaml", "yml", "json"))
    mistakes = [
        f"{one}: is there already, right is a new file"
        for one in (target, target.with_suffix(".glb"))
        if one.exists()
    ]
    mistakes += [
        f"--{name}: found beside a building model, right is a list"
        for name in ("size", "into", "sheet")
        if getattr(arguments, name) is not None
    ]
    if arguments.rules is None:
        mistakes.append("--rules: found nothing, right is --rules BOOK")
    if arguments.within is not None and arguments.around is None:
        mistakes.append("--within: found without --around, right is both")
    mistakes += [
        f"--around: found beside --{name}, right is one of them"
        for name in ("space", "storey")
        if arguments.around is not None and getattr(arguments, name) is not None
    ]
    for file in arguments.list:
        if file.suffix.lower() not in ENDINGS:
            known = " or ".join(ENDINGS)
            mistakes.append(f"{file}: found beside a building model, right is {known}")
        elif fault := model_fault(file):
            mistakes.append(f"{file}: {fault}")
    if mistakes:
        raise UnusableError(mistakes)


def _rows(file: Path | None) -> tuple[ClassRow, ...]:
    from model3d.exchange.ifc.element import ModelError
    from model3d.exchange.ifc.gear.classes import table_of

    if file is None:
        return ()
    try:
        return table_of(table_data(file).decode("utf-8-sig"))
    except ModelError as error:
        raise UnusableError(f"{file}: {one}" for one in error.mistakes) from error
    except UnicodeDecodeError as error:
        raise UnusableError([f"{file}: found no text, right is TOML"]) from error


def fronts_of(given: list[str]) -> dict[str, float]:
    """Return the bearings of fronts that the command line says, by name.

    Raises:
        UnusableError: One is no such thing.
    """
    fronts = {}
    for one in given:
        name, _, side = one.rpartition("=")
        bearing = _bearing(side.strip())
        if not name or bearing is None:
            right = "ID=north, east, south, west or degrees clockwise from north"
            raise UnusableError([f"--front: found {one}, right is {right}"])
        fronts[name] = bearing
    return fronts


def _bearing(side: str) -> float | None:
    import math

    from model3d.scene.parts.placement import BEARING

    try:
        found = BEARING.get(side.casefold())
        degrees = float(side) if found is None else found
    except ValueError:
        return None
    return degrees % 360 if math.isfinite(degrees) else None


def _within(arguments: Namespace) -> float | None:
    from model3d.units import LengthError, to_metres

    text = arguments.within
    if text is None:
        return None
    right = "a length with its unit: 3 m, 10 ft"
    try:
        if not text.strip().replace(".", "", 1).isdecimal():
            return to_metres(text, "m")
    except LengthError as error:
        right = str(error)
    raise UnusableError([f"--within: found {text}, right is {right}"])


def _building(arguments: Namespace, tell: Callable[[str], None]) -> Building:
    from model3d.exchange.ifc.file.worker import building_of

    require_reader(arguments.list[0])
    return building_of(arguments.list, tell, arguments.drawn_in)


def require_reader(file: Path) -> None:
    """Make sure that building models can be read here.

    Raises:
        UnusableError: The extra is not installed; with the file that needs it.
    """
    import importlib.util

    if importlib.util.find_spec("ifcopenshell") is None:
        msg = 'a building model needs the extra [ifc]: pip install "standclear[ifc]"'
        raise UnusableError([f"{file}: {msg}"])


def _place(
    arguments: Namespace,
    building: Building,
    found: tuple[Element, FrontedBox] | None,
    deepest: float,
) -> Location:
    from model3d.exchange.ifc.building_place import (
        chosen_space,
        location_around,
        location_of_space,
        space_ahead,
        without_space,
    )
    from model3d.exchange.ifc.element import ModelError

    if found is None:
        space = chosen_space(building, arguments.space, arguments.storey)
        if space is None:
            raise ModelError(without_space(building))
        return location_of_space(building, space)
    element, stand = found
    space = space_ahead(building, stand)
    if space is not None:
        return location_of_space(building, space)
    within = _within(arguments)
    reach = deepest + (_BEYOND if within is None else within)
    return location_around(building, element, stand, reach)


def _make(
    arguments: Namespace,
    building: Building,
    rows: tuple[ClassRow, ...],
    fronts: dict[str, float],
    within: float | None,
) -> int:
    from model3d.exchange.ifc.building_place import chosen_element
    from model3d.exchange.ifc.element import ModelError
    from model3d.exchange.ifc.gear.stated_front import stand_in, unknown_fronts
    from model3d.exchange.ifc.imported import imported
    from model3d.exchange.ifc.reach import deepest_space
    from model3d.exchange.ifc.scene_entries import ModelWish

    target: Path = arguments.output
    around: Element | None = None
    found, deepest = None, 0.0
    if wrong := unknown_fronts(building, fronts):
        right = "right is a GlobalId, a tag or a name of the model"
        raise ModelError(*(f"--front: found {one}, {right}" for one in wrong))
    if arguments.around is not None:
        around = chosen_element(building, arguments.around)
        found = around, stand_in(building, around, rows, fronts)
        deepest = deepest_space(arguments.rules, target.parent, around)
    place = _place(arguments, building, found, deepest)
    wish = ModelWish(
        title=place.name,
        units=arguments.units or ("in" if building.feet else "mm"),
        rules=arguments.rules,
        mesh_file=target.with_suffix(".glb").name,
        rows=rows,
        fronts=fronts,
        around=around,
        within=within,
        deepest=deepest,
    )
    scene = imported(building, place, wish)
    write_imported(target, scene, arguments.list)
    for note in scene.told:
        print(clean(note), file=sys.stderr)
    tell_file(target)
    return 0


def write_imported(target: Path, found: Imported, models: list[Path]) -> None:
    """Write the scene and its meshes, once both are known to be good.

    Raises:
        UnusableError: What was made is no scene; nothing is written.
        OSError: It cannot be written.
    """
    from model3d import SceneError, read_text
    from model3d.exchange.gltf import glb
    from model3d.scene.manuscript import comment, entry_lines, scene_text

    names = ", ".join(comment(model.name) for model in models)
    lines = [f"# From {names}.", *scene_text(found.data).splitlines(), "items:"]
    if not found.entries:
        lines[-1] = "items: []"
    for entry, notes in found.entries:
        lines += [f"  {line}" for line in entry_lines(entry, notes)]
    text = "".join(f"{line}\n" for line in lines)
    beside = target.with_suffix(".glb")
    if found.parts:
        write_whole(beside, glb(found.parts, {"units": "m"}))
    try:
        read_text(text, target)
        write_whole(target, text.encode())
    except (SceneError, OSError) as error:
        if found.parts:
            beside.unlink()
        if isinstance(error, SceneError):
            raise UnusableError(map(str, error.mistakes)) from error
        raise
