"""Findings as topics of BCF 2.1 and 3.0: where to look, at what, and what is wrong.

Written to buildingSMART's BCF-XML schemas of these versions, markup, visinfo, version
and extensions. Pictures are given as bytes; none is drawn here.
"""

from __future__ import annotations

import io
import zipfile
from datetime import date
from typing import TYPE_CHECKING, Final, Literal
from xml.etree import ElementTree as ET

import numpy as np

from model3d.exchange.outgoing_findings import (
    Finding,
    asked_of,
    findings,
    guid_of,
    identity,
    name_of,
    origin_of,
)
from model3d.judging.results import ClearBox
from model3d.scene.manuscript import blanked
from model3d.wording import CAUTION

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray

    from model3d.judging.report import Report

    Point = NDArray[np.float64]

Version = Literal["2.1", "3.0"]
VERSIONS: Final[tuple[Version, ...]] = ("2.1", "3.0")
_TYPE, _STATUS, _AUTHOR = "Issue", "Open", "standclear"
_RED, _BLUE = "D55E00", "0072B2"
_EYE: Final = 1.7
"""Metres over the floor."""
_AHEAD: Final = 2.0
"""Metres from the space to whoever looks at it."""
_FIELD: Final = 60.0
"""Degrees; BCF 2.1 has 45 to 60."""
_ASPECT: Final = 1.6
_ZIPPED: Final = (1980, 1, 1, 0, 0, 0)
_NO_DATE: Final = date(1980, 1, 1)


def bcf(report: Report, version: Version, snapshots: Mapping[str, bytes]) -> bytes:
    """Return a BCF file with a topic for each thing in the way.

    Args:
        report: What the check answered.
        version: Of BCF.
        snapshots: A PNG picture of each finding, by its topic as ``topic_of`` has it;
            where there is none, the topic has no picture.
    """
    parts: dict[str, bytes] = {"bcf.version": _text(_version(version))}
    if version == "3.0":
        parts["extensions.xml"] = _text(_extensions())
    for finding in findings(report):
        topic, view = topic_of(report, finding), _own(report, "view", finding)
        picture = snapshots.get(topic)
        markup = _markup(report, finding, version, (topic, view), picture is not None)
        parts[f"{topic}/markup.bcf"] = _text(markup)
        parts[f"{topic}/viewpoint.bcfv"] = _text(_view(report, finding, version, view))
        if picture is not None:
            parts[f"{topic}/snapshot.png"] = picture
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, data in parts.items():
            packed.writestr(zipfile.ZipInfo(name, _ZIPPED), data, zipfile.ZIP_DEFLATED)
    return stream.getvalue()


def topic_of(report: Report, finding: Finding) -> str:
    """Return the Guid of a finding's topic, which stays from run to run."""
    return _own(report, "topic", finding)


def _own(report: Report, what: str, finding: Finding) -> str:
    item = finding.intrusion.item if finding.intrusion else ""
    part = finding.intrusion.part if finding.intrusion else ""
    return str(identity(report, what, *name_of(finding.judgement), item, part))


def _text(root: ET.Element) -> bytes:
    ET.indent(root)
    data: bytes = ET.tostring(root, "utf-8", xml_declaration=True)
    return data


def _add(parent: ET.Element, name: str, text: str = "", **said: str) -> ET.Element:
    one = ET.SubElement(parent, name, said)
    if text:
        one.text = blanked(text)
    return one


def _version(version: Version) -> ET.Element:
    root = ET.Element("Version", {"VersionId": version})
    if version == "2.1":
        _add(root, "DetailedVersion", version)
    return root


def _extensions() -> ET.Element:
    root = ET.Element("Extensions")
    _add(_add(root, "TopicTypes"), "TopicType", _TYPE)
    _add(_add(root, "TopicStatuses"), "TopicStatus", _STATUS)
    return root


def _date(report: Report) -> str:
    """Return the date of the sheet, else a fixed one: same scene, same bytes."""
    scene = report.arrangement.scene if report.arrangement else None
    said = scene.sheet.date if scene and scene.sheet else None
    try:
        day = date.fromisoformat(str(said))
    except ValueError:
        day = _NO_DATE
    return f"{day.isoformat()}T00:00:00Z"


def _markup(
    report: Report,
    finding: Finding,
    version: Version,
    guids: tuple[str, str],
    pictured: bool,  # noqa: FBT001 - whether a file is there
) -> ET.Element:
    judgement, day = finding.judgement, _date(report)
    root = ET.Element("Markup")
    said = {"Guid": guids[0], "TopicType": _TYPE, "TopicStatus": _STATUS}
    topic = _add(root, "Topic", **said)
    _add(topic, "Title", _title(finding))
    _add(topic, "CreationDate", day)
    _add(topic, "CreationAuthor", _AUTHOR)
    _add(topic, "Description", f"{judgement.reason} [{judgement.citation}]")
    comments = root if version == "2.1" else _add(topic, "Comments")
    comment = _add(comments, "Comment", Guid=str(identity(report, "comment", guids[0])))
    _add(comment, "Date", day)
    _add(comment, "Author", _AUTHOR)
    _add(comment, "Comment", " ".join(CAUTION))
    _add(comment, "Viewpoint", Guid=guids[1])
    if version == "2.1":
        view = _add(root, "Viewpoints", Guid=guids[1])
    else:
        view = _add(_add(topic, "Viewpoints"), "ViewPoint", Guid=guids[1])
    _add(view, "Viewpoint", "viewpoint.bcfv")
    if pictured:
        _add(view, "Snapshot", "snapshot.png")
    return root


def _title(finding: Finding) -> str:
    judgement = finding.judgement
    thing = ""
    if (found := finding.intrusion) is not None:
        part = f" ({found.part})" if found.part else ""
        thing = f": {found.item}{part} in the way"
    return f"{judgement.subject}, {asked_of(judgement)}: not met{thing}"


def _view(report: Report, finding: Finding, version: Version, guid: str) -> ET.Element:
    root = ET.Element("VisualizationInfo", {"Guid": guid})
    _components(report, finding, version, root)
    eye, target = _camera(report, finding)
    along = (target - eye) / np.linalg.norm(target - eye)
    right = np.cross(along, (0.0, 0.0, 1.0))
    up = np.cross(right / np.linalg.norm(right), along)
    camera = _add(root, "PerspectiveCamera")
    _point(camera, "CameraViewPoint", eye + origin_of(report))
    _point(camera, "CameraDirection", along)
    _point(camera, "CameraUpVector", up)
    _add(camera, "FieldOfView", f"{_FIELD:g}")
    if version == "3.0":
        _add(camera, "AspectRatio", f"{_ASPECT:g}")
    return root


def _components(
    report: Report, finding: Finding, version: Version, root: ET.Element
) -> None:
    """Select what a topic is about; what came from no model has no GlobalId."""
    gear = guid_of(report, finding.judgement.subject)
    thing = guid_of(report, finding.intrusion.item) if finding.intrusion else None
    if thing == gear:
        thing = None
    known = [one for one in (gear, thing) if one]
    if not known:
        return
    components = _add(root, "Components")
    selection = _add(components, "Selection")
    for one in known:
        _add(selection, "Component", IfcGuid=one)
    _add(components, "Visibility", DefaultVisibility="true")
    coloring = _add(components, "Coloring")
    for guid, colour in ((gear, _BLUE), (thing, _RED)):
        if guid:
            painted = _add(coloring, "Color", Color=colour)
            inside = painted if version == "2.1" else _add(painted, "Components")
            _add(inside, "Component", IfcGuid=guid)


def _point(parent: ET.Element, name: str, value: Point) -> None:
    one = _add(parent, name)
    for axis, number in zip("XYZ", value, strict=True):
        # Rounded to the micrometre: the same digits on every machine.
        _add(one, axis, f"{round(float(number), 6) + 0.0:.6f}")


def _camera(report: Report, finding: Finding) -> tuple[Point, Point]:
    """Return from where one looks, and at what, in the scene's own frame."""
    judgement = finding.judgement
    placed = (
        report.arrangement.items.get(judgement.subject) if report.arrangement else None
    )
    ends: list[tuple[Point, Point]] = []
    if finding.intrusion is not None:
        ends.append((np.array(finding.intrusion.low), np.array(finding.intrusion.high)))
    boxes = [one for one in judgement.shapes if isinstance(one, ClearBox)]
    ends += [
        (np.array(low), np.array(high))
        for one in boxes
        for low, high in [one.frame.bounds(one.low, one.high)]
    ]
    if placed is not None:
        ends.append(
            (np.array(placed.solid.bounds[0]), np.array(placed.solid.bounds[1]))
        )
    low, high = ends[0] if ends else (np.zeros(3), np.ones(3))
    target = (low + high) / 2
    front = placed.front if placed is not None else None
    if front is None:
        return np.array([low[0] - _AHEAD, low[1] - _AHEAD, low[2] + _EYE]), target
    reach = max((one.high[1] for one in boxes), default=0.0)
    x, y = front.frame.to_plan(front.width / 2, max(reach, 0.0) + _AHEAD)
    return np.array([x, y, _EYE]), target
