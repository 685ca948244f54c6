"""A plan (DXF) that a command makes a scene of, by a table of its layers."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Final, NoReturn

from viewer.cli.given.progress import progress
from viewer.cli.given.target import check_target, tell_file
from viewer.cli.source.building import fronts_of, is_building, write_imported
from viewer.cli.source.table import table_data
from viewer.output.outlet import write_whole
from viewer.wording.cleaning import clean
from viewer.wording.refusal import UnusableError, refused

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from collections.abc import Callable
    from pathlib import Path

    from model3d.exchange.dxf.drawn_plan import Plan
    from model3d.exchange.dxf.layer_table import LayerTable

ENDING: Final = ".dxf"
_FILL_IN: Final = (
    "to be filled in: what each layer becomes (room outline, wall, column, door, "
    "ignore or a kind of standclear kinds) and how high that is; walls and columns "
    "without a height reach the ceiling"
)
_INCHES: Final = frozenset({"in", "ft", "US survey ft", "US survey in"})


def plan_arguments(parser: ArgumentParser) -> None:
    """Take what the layers of a plan are."""
    group = parser.add_argument_group("of a plan (.dxf)")
    group.add_argument(
        "--layers",
        metavar="LAYERS.csv",
        help="the table that says what is drawn on each layer, and how high it is",
    )
    group.add_argument(
        "--drawn-in",
        choices=("mm", "cm", "m", "in", "ft"),
        help="the unit of the plan, where it says none or a wrong one; of "
        "models (.ifc) that say none",
    )


def is_plan(files: list[Path]) -> bool:
    """Tell whether plans are named."""
    return any(file.suffix.lower() == ENDING for file in files)


def without_plan(arguments: Namespace) -> list[str]:
    """Return what was asked of a plan where there is none."""
    return [
        f"--{name.replace('_', '-')}: found without a plan, right is a plan (.dxf)"
        for name in ("layers", "drawn_in")
        if getattr(arguments, name)
        and not (name == "drawn_in" and is_building(arguments.list))
    ]


def import_plan(arguments: Namespace) -> int:
    """Make a scene of a plan, or a table of its layers; return the exit status.

    Raises:
        UnusableError: It cannot be used, or does not say enough; nothing is written.
        OSError: What is made cannot be written.
    """
    from model3d.exchange.ifc.element import ModelError

    try:
        if arguments.output.suffix.lower() == ".csv":
            return _write_table(arguments)
        _check(arguments)
        table = _table(arguments.layers)
        with progress() as tell:
            plan = _plan(arguments, tell)
            tell("making the scene")
            return _make(arguments, plan, table)
    except ModelError as error:
        raise UnusableError(error.mistakes) from error


def _write_table(arguments: Namespace) -> int:
    from model3d.exchange.dxf.found_layers import listed_layers, table_text

    target: Path = arguments.output
    mistakes = _alone(arguments)
    if target.exists():
        mistakes.append(f"{target}: is there already, right is a new file")
    if mistakes:
        raise UnusableError(mistakes)
    check_target(target, "a table of layers", ("csv",))
    with progress() as tell:
        plan = _plan(arguments, tell)
    write_whole(target, table_text(plan).encode("utf-8", "replace"))
    if not plan.unit and arguments.drawn_in is None:
        print("the plan says no unit: --drawn-in will have to", file=sys.stderr)
    for line in (*listed_layers(plan), _FILL_IN):
        print(clean(line), file=sys.stderr)
    tell_file(target)
    return 0


def _alone(arguments: Namespace) -> list[str]:
    if len(arguments.list) == 1:
        return []
    return [f"{arguments.list[1]}: found beside another file, right is one plan alone"]


def _check(arguments: Namespace) -> None:
    target: Path = arguments.output
    check_target(target, "a scene", ("yaml", "yml"))
    mistakes = _alone(arguments)
    mistakes += [
        f"{one}: is there already, right is a new file"
        for one in (target, target.with_suffix(".glb"))
        if one.exists()
    ]
    others = {
        "size": "a list",
        "into": "a list: join it to the scene of the plan",
        "sheet": "a workbook",
        "mapping": "a list or a building model; a plan has --layers",
        "storey": "a building model",
        "around": "a building model",
        "within": "a building model",
    }
    mistakes += [
        f"--{name}: found beside a plan, right is {what}"
        for name, what in others.items()
        if getattr(arguments, name) is not None
    ]
    if arguments.rules is None and arguments.layers is not None:
        mistakes.append("--rules: found nothing, right is --rules BOOK")
    if mistakes:
        raise UnusableError(mistakes)


def _table(file: str | None) -> LayerTable | None:
    from pathlib import Path

    from model3d.exchange.dxf.layer_table import table_of

    if file is None:
        return None
    return table_of(table_data(Path(file)), file)


def _plan(arguments: Namespace, tell: Callable[[str], None]) -> Plan:
    import importlib.util

    from model3d.exchange.dxf.file.worker import plan_of

    (file,) = arguments.list
    if importlib.util.find_spec("ezdxf") is None:
        msg = 'a plan needs the extra [dxf]: pip install "standclear[dxf]"'
        raise UnusableError([f"{file}: {msg}"])
    try:
        return plan_of(file, arguments.drawn_in, tell)
    except OSError as error:
        raise UnusableError([refused(error)]) from error


def _refuse_without_table(arguments: Namespace, plan: Plan) -> NoReturn:
    from model3d.exchange.dxf.found_layers import listed_layers

    (file,) = arguments.list
    right = f"--layers TABLE.csv; standclear import {file} -o TABLE.csv writes one"
    lines = [f"--layers: found nothing, right is {right}"]
    raise UnusableError([*lines, *(f"  {line}" for line in listed_layers(plan))])


def _make(arguments: Namespace, plan: Plan, table: LayerTable | None) -> int:
    from model3d.exchange.dxf.imported import PlanWish, imported
    from model3d.exchange.ifc.element import ModelError

    if table is None:
        _refuse_without_table(arguments, plan)
    target: Path = arguments.output
    (file,) = arguments.list
    in_inches = (arguments.drawn_in or plan.unit) in _INCHES
    stem = file.stem.replace("-", " ").replace("_", " ").strip()
    wish = PlanWish(
        title=clean(stem).capitalize() or "Room",
        units=arguments.units or ("in" if in_inches else "mm"),
        rules=arguments.rules,
        mesh_file=target.with_suffix(".glb").name,
        space=arguments.space,
        fronts=fronts_of(arguments.front),
        drawn_in=arguments.drawn_in,
    )
    try:
        scene = imported(plan, table, wish)
    except ModelError as error:
        raise UnusableError(
            one if one.startswith(("--", "  ")) else f"{file}: {one}"
            for one in error.mistakes
        ) from error
    write_imported(target, scene, [file])
    for note in scene.told:
        print(clean(note), file=sys.stderr)
    tell_file(target)
    return 0
