"""BCF: what stands in it, and the official schemas of both versions where they are."""

from __future__ import annotations

import io
import os
import re
import zipfile
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING
from xml.etree import ElementTree as ET

import pytest
import xmlschema

from model3d import check
from model3d.exchange.bcf import VERSIONS, bcf, topic_of
from model3d.exchange.outgoing_findings import findings
from tests.exchange.rooms import PANEL, TANK, TEXT, copied, crowded, free
from tests.paths import ROOT
from tests.scenes import examples
from tests.scenes.examples import NAMES
from viewer.cli.main import main

if TYPE_CHECKING:
    from model3d import Report
    from model3d.exchange.bcf import Version

PICTURE = b"\x89PNG\r\n\x1a\n"


def parts(data: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(data)) as packed:
        return {name: packed.read(name) for name in packed.namelist()}


def pictured(report: Report) -> dict[str, bytes]:
    """Return another picture for each topic: its Guid behind the beginning of a PNG."""
    topics = [topic_of(report, one) for one in findings(report)]
    return {topic: PICTURE + topic.encode() for topic in topics}


@pytest.mark.render
@pytest.mark.long
def test_each_picture_that_the_command_draws_shows_another_finding(
    tmp_path: Path,
) -> None:
    (tmp_path / "room.yaml").write_text(TEXT)
    target = tmp_path / "room.bcf"
    assert main(["export", str(tmp_path / "room.yaml"), "-o", str(target)]) == 0
    found = parts(target.read_bytes())
    topics = {name.split("/")[0] for name in found if name.endswith("markup.bcf")}
    shown = {name: d for name, d in found.items() if name.endswith("snapshot.png")}
    assert len(topics) == len(shown) > 2
    assert len({*shown.values()}) == len(shown)


def schemas(version: str) -> Path | None:
    """Return the folder of the official XSDs (buildingSMART/BCF-XML, CC BY-ND 4.0)."""
    named = os.environ.get("STANDCLEAR_DATA")
    for folder in (
        [Path(named)] if named else [one / "shared" / "data" for one in ROOT.parents]
    ):
        if (found := folder / "bcf" / f"xsd-{version}").is_dir():
            return found
    return None


@pytest.mark.parametrize("version", VERSIONS)
def test_there_is_a_topic_for_each_thing_in_the_way(
    tmp_path: Path, version: Version
) -> None:
    report = check(crowded(tmp_path))
    found = parts(bcf(report, version, pictured(report)))
    topics = [ET.fromstring(d) for n, d in found.items() if n.endswith("markup.bcf")]  # noqa: S314 - written here
    titles = [topic.findtext("Topic/Title") for topic in topics]
    wanted = {
        (one.requirement, thing.item)
        for one in report.judgements
        if one.verdict == "not-met"
        for thing in one.intrusions
    }
    assert ("working-space", "Tank") in wanted
    assert len(titles) >= len(wanted)
    for requirement, thing in wanted:
        assert any(
            requirement in str(title) and f"{thing} in the way" in str(title)
            for title in titles
        )
    assert ("extensions.xml" in found) == (version == "3.0")
    # Each topic shows its own finding.
    shown = {n: d for n, d in found.items() if n.endswith("snapshot.png")}
    assert len(shown) == len(titles) == len({*shown.values()})
    for name, data in shown.items():
        assert name.split("/")[0].encode() in data


@pytest.mark.parametrize("version", VERSIONS)
def test_a_view_looks_at_it_in_the_models_own_frame(
    tmp_path: Path, version: Version
) -> None:
    found = parts(bcf(check(crowded(tmp_path)), version, {}))
    views = [d for n, d in found.items() if n.endswith(".bcfv")]
    (tank,) = [
        view for view in views if TANK.encode() in view and PANEL.encode() in view
    ][:1]
    root = ET.fromstring(tank)  # noqa: S314 - written here
    eye = [
        float(root.findtext(f"PerspectiveCamera/CameraViewPoint/{axis}", ""))
        for axis in "XYZ"
    ]
    # Two metres ahead of the space of 0.9 m, at the height of the eyes over z = 3.
    assert eye[2] == pytest.approx(3 + 1.7)
    assert eye[1] == pytest.approx(200 + 3.8 - 0.9 - 2.0, abs=0.02)
    assert root.findtext("PerspectiveCamera/FieldOfView") == "60"
    # What has no GlobalId is left out, and the camera stays.
    for view in views:
        for one in re.findall(rb'IfcGuid="([^"]*)"', view):
            assert one.decode() in {PANEL, TANK}


@pytest.mark.parametrize("version", VERSIONS)
def test_copies_with_one_globalid_have_topics_of_their_own(
    tmp_path: Path, version: Version
) -> None:
    """Of two one was lost."""
    report = check(copied(tmp_path))
    there = [*findings(report)]
    assert {one.intrusion.item for one in there if one.intrusion} >= {"Tank", "Copy"}
    found = parts(bcf(report, version, {}))
    assert len([name for name in found if name.endswith("markup.bcf")]) == len(there)


def test_no_two_topics_of_a_room_are_called_the_same() -> None:
    """Of the cells of R2 two things are in the way: the shelf above, and its tier."""
    report = examples.report("battery-room")
    written = parts(bcf(report, "3.0", {})).items()
    titles = [
        str(ET.fromstring(data).findtext(".//Title"))  # noqa: S314 - made here
        for name, data in written
        if name.endswith("markup.bcf")
    ]
    assert len(titles) == len({*titles}) > 3
    assert any("R2 (its upper shelf) in the way" in one for one in titles)


def test_the_same_scene_gives_the_same_bytes(tmp_path: Path) -> None:
    one, other = (bcf(check(crowded(tmp_path)), "3.0", {}) for _ in range(2))
    assert one == other


def test_nothing_not_met_is_no_topic(tmp_path: Path) -> None:
    report = check(free(tmp_path))
    assert report.passed
    assert [*parts(bcf(report, "3.0", {}))] == ["bcf.version", "extensions.xml"]


BY_END = {
    "markup.bcf": "markup.xsd",
    "viewpoint.bcfv": "visinfo.xsd",
    "bcf.version": "version.xsd",
    "extensions.xml": "extensions.xsd",
}


@cache
def schema(version: Version, end: str) -> xmlschema.XMLSchema | None:
    """Return the official schema of the parts with an ending; None if it has none."""
    folder = schemas(version)
    if folder is None:
        pytest.skip("the schemas are not here")
    file = folder / BY_END[end]
    return xmlschema.XMLSchema(str(file)) if file.exists() else None


def held(data: bytes, version: Version) -> int:
    """Hold each part to its official schema, and return how many there are."""
    checked = 0
    for end in BY_END:
        for part, text in parts(data).items():
            if part.endswith(end):
                found = schema(version, end)
                assert found is not None, part
                found.validate(io.BytesIO(text))
                checked += 1
    return checked


@pytest.mark.long
@pytest.mark.parametrize("version", VERSIONS)
def test_every_part_is_valid_by_the_official_schemas(
    tmp_path: Path, version: Version
) -> None:
    report = check(crowded(tmp_path))
    assert held(bcf(report, version, pictured(report)), version) >= 3


@pytest.mark.long
@pytest.mark.parametrize("version", VERSIONS)
@pytest.mark.parametrize("name", NAMES)
def test_so_is_each_example_room(name: str, version: Version) -> None:
    report = examples.report(name)
    data = bcf(report, version, pictured(report))
    # Two parts a finding, and one or two of the file.
    topics = len({*pictured(report)})
    assert topics == len([*findings(report)])
    assert held(data, version) == 2 * topics + (2 if version == "3.0" else 1)


@pytest.mark.long
@pytest.mark.parametrize("version", VERSIONS)
def test_an_outside_reader_finds_what_was_written(
    tmp_path: Path, version: Version
) -> None:
    reader = pytest.importorskip("bcf.bcfxml")
    report = check(crowded(tmp_path))
    target = tmp_path / "room.bcf"
    target.write_bytes(bcf(report, version, pictured(report)))
    with reader.load(target) as read:
        assert read.version.version_id == version
        told = {guid: one.topic.description for guid, one in read.topics.items()}
    assert told == {
        topic_of(report, one): f"{one.judgement.reason} [{one.judgement.citation}]"
        for one in findings(report)
    }
