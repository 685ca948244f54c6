"""Write what a check found for other programs: IFC, BCF, GLB, CSV or DXF."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Final

from viewer.cli.given.arguments import scene_argument
from viewer.cli.given.scene import checked_scene
from viewer.cli.given.target import check_target, tell_file
from viewer.cli.source.building import require_reader
from viewer.cli.source.model_file import model_fault
from viewer.output.outlet import write_whole
from viewer.wording.cleaning import clean
from viewer.wording.refusal import UnusableError

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from collections.abc import Iterator

    from model3d import Report, Scene
    from model3d.exchange.gltf import MeshPart
    from model3d.exchange.outgoing_findings import Finding

RANK: Final = 21
MORE: Final = """\
examples:
  standclear export room.yaml -o spaces.ifc
  standclear export room.yaml -o spaces.ifc --into MODEL.ifc
  standclear export room.yaml -o topics.bcf --bcf 2.1
  standclear export room.yaml -o room.glb

.ifc  required spaces, and what is in the way of those not met, as elements
.bcf  a topic for each thing in the way: where to look, and at what
.glb  the room with its spaces, for viewers of 3D models
.csv  every judgement, as check --format csv writes it
.dxf  the plan, as figure --view plan draws it, where the model has it, in millimetres

Items that came from a model keep their GlobalIds, and all is where the model has it;
into a model with another origin it goes where the scene's frames: say.
.ifc needs the extra [ifc], .dxf the extra [dxf].
"""
_ENDINGS: Final = ("ifc", "bcf", "glb", "csv", "dxf")
_PICTURE: Final = (1200, 750)


def take(parser: ArgumentParser) -> None:
    """Take a scene, what is written, and how."""
    scene_argument(parser)
    parser.add_argument(
        "-o",
        "--output",
        metavar="FILE",
        type=Path,
        required=True,
        help="what is written: .ifc, .bcf, .glb, .csv or .dxf",
    )
    parser.add_argument(
        "--into",
        metavar="MODEL.ifc",
        type=Path,
        help="of .ifc: write a copy of this model with the spaces in it",
    )
    parser.add_argument(
        "--clearance",
        action="store_const",
        const=True,
        help="of .ifc: spaces as virtual elements of IFC4X3, type CLEARANCE, which "
        "many viewers hide; default: proxies",
    )
    parser.add_argument(
        "--bcf", choices=("2.1", "3.0"), help="version of .bcf; default: 3.0"
    )


def run(arguments: Namespace) -> int:
    """Write the file and return the exit status.

    Raises:
        UnusableError: The scene or the command line cannot be used.
        OSError: The file cannot be written.
    """
    target: Path = arguments.output
    into: Path | None = arguments.into
    kept = [arguments.scene, *([into] if into else [])]
    kind = check_target(target, "what is exported", _ENDINGS, kept)
    for name, ending in (("into", "ifc"), ("clearance", "ifc"), ("bcf", "bcf")):
        if getattr(arguments, name) is not None and kind != ending:
            msg = f"--{name}: found with .{kind}, right is .{ending}"
            raise UnusableError([msg])
    if into is not None and (fault := model_fault(into)):
        raise UnusableError([f"{into}: {fault}"])
    scene, report = checked_scene(arguments.scene)
    if kind == "csv":
        from viewer.portfolio.version import version
        from viewer.report.basis import Basis
        from viewer.report.formats import Manner, csv

        basis = Basis(arguments.scene.as_posix(), None, version(), None)
        csv.write([csv.part(report, basis, Manner())], target, Manner())
    elif kind == "ifc":
        write_whole(
            target, _ifc(report, into, target, clearance=bool(arguments.clearance))
        )
    elif kind == "bcf":
        write_whole(target, _bcf(scene, report, arguments.bcf or "3.0"))
    elif kind == "glb":
        write_whole(target, _glb(scene, report))
    else:
        write_whole(target, _dxf(report))
    tell_file(target)
    return 0


def _ifc(report: Report, into: Path | None, target: Path, *, clearance: bool) -> bytes:
    from model3d.exchange.ifc.element import ModelError
    from model3d.exchange.ifc.overlay import overlay, overlay_into

    require_reader(into or target)
    try:
        if into is None:
            schema = "IFC4X3" if clearance else "IFC4"
            return overlay(report, schema=schema, clearance=clearance)
        return overlay_into(
            report,
            into,
            lambda one: print(clean(one), file=sys.stderr),
            clearance=clearance,
        )
    except ModelError as error:
        raise UnusableError(error.mistakes) from error


def _bcf(scene: Scene, report: Report, version: str) -> bytes:
    from model3d.exchange.bcf import VERSIONS, bcf, topic_of
    from model3d.exchange.outgoing_findings import findings
    from viewer.cli.given.progress import progress

    pictures = {}
    every = [*findings(report)]
    with progress() as tell:
        for number, finding in enumerate(every, 1):
            tell(f"drawing topic {number} of {len(every)}")
            if (picture := _picture(scene, report, finding)) is None:
                break
            pictures[topic_of(report, finding)] = picture
    return bcf(report, next(one for one in VERSIONS if one == version), pictures)


def _picture(scene: Scene, report: Report, finding: Finding) -> bytes | None:
    """Return a picture of a finding alone; None, told, where none can be drawn."""
    from dataclasses import replace

    from model3d.disk.scratch import scratch
    from viewer.picture.drawing.graphics import DrawingError
    from viewer.picture.still import picture

    judgement = finding.judgement
    gear = report.arrangement is not None and judgement.subject in {
        one.id for one in report.arrangement.items.values() if one.front is not None
    }
    within = () if finding.intrusion is None else (finding.intrusion,)
    # Whatever else is wrong in the room has a topic of its own.
    alone = replace(report, judgements=(replace(judgement, intrusions=within),))
    of = judgement.subject if gear else None
    with scratch() as folder:
        file = folder / "snapshot.png"
        try:
            picture(scene, alone, file, of=of, size=_PICTURE)
        except DrawingError as error:
            print(clean(f"topics without pictures: {error}"), file=sys.stderr)
            return None
        return file.read_bytes()


def _glb(scene: Scene, report: Report) -> bytes:
    from model3d.exchange.gltf import glb
    from model3d.exchange.outgoing_findings import origin_of
    from model3d.wording import CAUTION

    about = {
        "title": report.scene,
        "rules": report.rules,
        "units": "m",
        "origin": [round(one, 6) for one in origin_of(report)],
        "counts": dict(report.counts),
        "caution": " ".join(CAUTION),
    }
    return glb(_parts(scene, report), about)


def _parts(scene: Scene, report: Report) -> Iterator[MeshPart]:
    from model3d.exchange.gltf import MeshPart
    from viewer.stage import build_stage
    from viewer.stage.palette import channels

    guids = {item.id: item.guid for item in scene.items if item.guid}
    taken: set[str] = set()
    for shape in build_stage(scene, report).shapes:
        if not len(shape.faces) or not shape.opacity:
            continue
        is_body = shape.role == "solid" and shape.id == shape.item
        name = guids.get(shape.item, shape.id) if is_body else shape.id
        if name in taken:
            name = shape.id
        taken.add(name)
        extras = {
            "item": shape.item,
            "guid": guids.get(shape.item),
            "kind": shape.kind,
            "about": shape.about,
            "role": shape.role,
        }
        red, green, blue = channels(shape.colour)
        yield MeshPart(
            name,
            shape.vertices,
            shape.faces,
            (red, green, blue, round(255 * shape.opacity)),
            {key: value for key, value in extras.items() if value},
        )


def _dxf(report: Report) -> bytes:
    from functools import partial

    from viewer.figure.files.dxf import check_writer, dxf
    from viewer.figure.files.page_frame import framed
    from viewer.figure.plans.room import room_figure

    check_writer()
    return dxf(framed(report, "a4", partial(room_figure, report)))
