"""What is measured: the engine against the least work, brute force, the whole process.

Times are processor time of this process (of a whole process: elapsed time), so that
other work on the machine weighs little; what counts are ratios within one run.
"""

from __future__ import annotations

import json
import os
import statistics
import subprocess
import sys
import time
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Final

import manifold3d
import numpy as np
import trimesh  # noqa: TID251 - what is compared with is the library by itself
import yaml
from rtree import index

from model3d import check
from model3d.judging.results import ClearBox
from model3d.scene.text.reader import read_text
from tests.bench.halls import hall
from tests.bench.panelboards import many_panelboards

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from model3d import Report
    from model3d.geometry.sweep import Sweep

    Points = NDArray[np.float64]
    Faces = NDArray[np.int64]
    Body = tuple[Points, Faces]

ROOT: Final = Path(__file__).parents[2]
PROGRAM: Final = "from viewer.cli.main import main; raise SystemExit(main())"
"""What the installed command runs."""
LIBRARIES: Final = "import trimesh, pydantic, rtree"
SCENE: Final = Path("scenes") / "pump-station.yaml"


@dataclass(frozen=True, slots=True)
class EngineTime:
    """How long a check took, and what the least work would have been.

    Attributes:
        boxes: Of the hall.
        spaces: Required volumes that were tested.
        hits: True hits that the report names.
        engine, floor: Seconds of processor time.
    """

    boxes: int
    spaces: int
    hits: int
    engine: float
    floor: float

    @property
    def ratio(self) -> float:
        """Engine against floor."""
        return self.engine / self.floor


def engine_against_floor(
    boxes: int, repeats: int = 1, *, door: bool = False, crowded: bool = True
) -> EngineTime:
    """Check a hall, and do the least work that finds the same hits; take the fastest.

    The least work: load an rtree at once, ask it once for every required volume, and
    intersect every true hit with its volume by the engine of trimesh, manifold, called
    directly. The corners of all bodies are there beforehand. It finds no ways out.
    """
    scene = hall(boxes, door=door, crowded=crowded)
    engine, floor = float("inf"), float("inf")
    for _ in range(repeats):
        start = time.process_time()
        report = check(scene)
        report.document()  # volumes are worked out when they are told
        engine = min(engine, time.process_time() - start)
    work = LeastWork(report)
    for _ in range(repeats):
        start = time.process_time()
        work.done()
        floor = min(floor, time.process_time() - start)
    return EngineTime(boxes, len(work.asked), len(work.pairs), engine, floor)


class LeastWork:
    """What no checker with these libraries can do without."""

    def __init__(self, report: Report) -> None:
        """Make the corners of everything that a report tested and found."""
        assert report.arrangement is not None
        placed = report.arrangement.items
        self.bounds = np.array([one.solid.bounds for one in placed.values()])
        self.asked: list[tuple[float, ...]] = []
        self.pairs: list[tuple[Body, Body]] = []
        for judgement in report.judgements:
            for shape in judgement.shapes:
                self.asked.append(_bounds(shape))
            self.pairs += [
                (placed[one.item].solid.mesh, _body(judgement.shapes[0]))
                for one in judgement.intrusions
            ]

    def done(self) -> float:
        """Do it; return the sum of all shared volumes."""
        tree = index.Index(
            (np.arange(len(self.bounds)), self.bounds[:, 0], self.bounds[:, 1]),
            properties=index.Property(dimension=3),
        )
        near = sum(len(list(tree.intersection(box))) for box in self.asked)
        assert near >= len(self.pairs)
        found = 0.0
        for one, other in self.pairs:
            found += (_manifold(one) ^ _manifold(other)).volume()
        return found


def _manifold(body: Body) -> manifold3d.Manifold:
    points, faces = body
    mesh = manifold3d.Mesh64(
        np.ascontiguousarray(points, dtype=np.float64), faces.astype(np.uint64)
    )
    return manifold3d.Manifold(mesh)


def shared_volume(one: Body, other: Body) -> float:
    """Intersect two closed bodies by trimesh; return the volume."""
    meshes = [trimesh.Trimesh(*body, process=False) for body in (one, other)]
    found = trimesh.boolean.intersection(meshes, engine="manifold", check_volume=False)
    # Of a body without faces the library's volume is no number.
    return float(found.volume) if len(found.faces) else 0.0


def _bounds(shape: ClearBox | Sweep) -> tuple[float, ...]:
    if isinstance(shape, ClearBox):
        low, high = shape.frame.bounds(shape.low, shape.high)
    else:
        low, high = shape.bounds
    return (*low, *high)


def _body(shape: ClearBox | Sweep) -> Body:
    if not isinstance(shape, ClearBox):
        return shape.mesh().mesh
    box = trimesh.creation.box(bounds=[shape.low, shape.high])
    faces = box.faces[:, ::-1] if shape.frame.mirrors else box.faces
    return shape.frame.world(box.vertices), np.array(faces)


def check_time(boxes: int, *, door: bool, crowded: bool = True) -> float:
    """Return the seconds of processor time that checking a hall takes."""
    scene = hall(boxes, door=door, crowded=crowded)
    start = time.process_time()
    check(scene)
    return time.process_time() - start


def peak_memory(boxes: int, *, door: bool) -> float:
    """Return the most memory that reading and checking a hall takes, bytes.

    Of a process of its own, as the system counts it (not on Windows).
    """
    scene = json.dumps(hall(boxes, door=door, crowded=False).written())
    words = [sys.executable, "-c", _PEAK]
    ran = subprocess.run(  # noqa: S603 - this Python
        words, cwd=ROOT, input=scene, capture_output=True, check=True, text=True
    )
    return float(ran.stdout)


_PEAK: Final = """
import pathlib, resource, sys
from model3d import check
from model3d.scene.text.reader import read_text
check(read_text(sys.stdin.read(), "hall.json")).document()
status = pathlib.Path("/proc/self/status")
if status.exists():  # what Linux calls the most was the parent's before the start
    found = [one.split() for one in status.read_text().splitlines()]
    print(next(int(one[1]) for one in found if one[0] == "VmHWM:") * 1024)
else:
    print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)
"""
"""Reads a scene, checks it, and prints the most bytes that were in use."""


def reading_times(items: int, repeats: int = 1) -> tuple[float, float]:
    """Return seconds of reading a scene, and of libyaml's parse of the same text."""
    text = many_panelboards(items)
    ours, theirs = float("inf"), float("inf")
    for _ in range(repeats):
        start = time.process_time()
        read_text(text, "many.yaml")
        ours = min(ours, time.process_time() - start)
        start = time.process_time()
        for _event in yaml.parse(text, Loader=yaml.CBaseLoader):
            pass
        theirs = min(theirs, time.process_time() - start)
    return ours, theirs


@dataclass(frozen=True, slots=True)
class PairTime:
    """The engine against intersecting every pair of solids by trimesh.

    Attributes:
        solids: Of the hall.
        pairs: How many pairs there are.
        tried: How many of them were really intersected.
        engine: Seconds of the whole check.
        all_pairs: Seconds of all pairs, worked out from those that were tried.
    """

    solids: int
    pairs: int
    tried: int
    engine: float
    all_pairs: float

    @property
    def ratio(self) -> float:
        """All pairs against the engine."""
        return self.all_pairs / self.engine


def engine_against_all_pairs(
    solids: int, tried: int, repeats: int = 1, *, crowded: bool = False
) -> PairTime:
    """Check a hall; intersect some pairs drawn at random and work out all of them."""
    timed = float("inf")
    scene = hall(solids, crowded=crowded)
    for _ in range(repeats):
        start = time.process_time()
        report = check(scene)
        timed = min(timed, time.process_time() - start)
    assert report.arrangement is not None
    bodies = [one.solid.mesh for one in report.arrangement.items.values()]
    draw = np.random.default_rng(1)
    chosen = [draw.choice(len(bodies), 2, replace=False) for _ in range(tried)]
    start = time.process_time()
    for one, other in chosen:
        shared_volume(bodies[one], bodies[other])
    each = (time.process_time() - start) / tried
    pairs = len(bodies) * (len(bodies) - 1) // 2
    return PairTime(solids, pairs, tried, timed, each * pairs)


def process_times(repeats: int) -> tuple[float, float]:
    """Return the median seconds of a whole check and of only loading the libraries.

    Compiled once before, as an installed package is: the first run does not count.
    """
    whole = ["-c", PROGRAM, "check", str(SCENE)]
    runs = [(whole, {0, 1}), (["-c", LIBRARIES], {0})]
    times: list[list[float]] = [[], []]
    settings = {**os.environ, "PYTHONDONTWRITEBYTECODE": ""}
    for repeat in range(repeats + 1):
        # One after the other, so that a busy moment of the machine falls on both.
        for kept, (arguments, statuses) in zip(times, runs, strict=True):
            start = time.perf_counter()
            ran = subprocess.run(  # noqa: S603 - this Python, and the arguments above
                [sys.executable, *arguments],
                cwd=ROOT,
                env=settings,
                capture_output=True,
                check=False,
            )
            if repeat:
                kept.append(time.perf_counter() - start)
            if ran.returncode not in statuses:
                raise RuntimeError(ran.stderr.decode())
    return statistics.median(times[0]), statistics.median(times[1])
