"""A real scheduler and two workers on the loopback, which share no folder with us."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tests.paths import ROOT
from tests.viewer.portfolio.rooms import PROGRAM, portfolio, run
from viewer.cli.main import main
from viewer.portfolio.cluster import NobodyLeftError, _OnItsWay
from viewer.portfolio.question import Question
from viewer.report.basis import Basis
from viewer.report.formats import Manner

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

pytestmark = pytest.mark.long

Printed = pytest.CaptureFixture[str]
Process = subprocess.Popen[bytes]


class Cluster:
    """A scheduler and workers, each a process with an empty folder of its own."""

    def __init__(self, home: Path) -> None:
        self.home = home
        self.file = home / "scheduler.json"
        self.processes: list[Process] = []

    def start(
        self, what: str, *words: str, version: str = "", first: str = ""
    ) -> Process:
        """Start a scheduler or a worker; first runs in each of its processes."""
        folder = self.home / f"{what}-{len(self.processes)}"
        folder.mkdir()
        paths = [str(ROOT)]
        if first:
            (folder / "sitecustomize.py").write_text(first, "utf-8")
            paths.insert(0, str(folder))
        if version:
            about = folder / f"standclear-{version}.dist-info" / "METADATA"
            about.parent.mkdir()
            about.write_text(
                f"Metadata-Version: 2.1\nName: standclear\nVersion: {version}"
            )
            paths.insert(0, str(folder))
        process = subprocess.Popen(  # noqa: S603 - this Python
            [
                sys.executable,
                "-m",
                f"distributed.cli.dask_{what}",
                *("--scheduler-file", str(self.file)),
                *("--host", "127.0.0.1", "--no-dashboard"),
                *words,
            ],
            cwd=folder,
            env={
                **os.environ,
                "PYTHONPATH": os.pathsep.join(paths),
                # As many as show it: a worker takes seconds to come again.
                "DASK_DISTRIBUTED__SCHEDULER__ALLOWED_FAILURES": "1",
            },
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        self.processes.append(process)
        return process

    def start_scheduler(self) -> Process:
        """Start a scheduler on a free port."""
        process = self.start("scheduler", "--port", "0")
        end = time.monotonic() + 60
        while not self.file.exists() or not self.file.read_text():
            assert time.monotonic() < end
            time.sleep(0.1)
        return process

    def start_worker(self, version: str = "") -> Process:
        """Start a worker that nobody starts again."""
        words = ("--no-nanny", "--nthreads", "1")
        return self.start("worker", *words, version=version)

    @property
    def address(self) -> str:
        """Where the scheduler is."""
        address = json.loads(self.file.read_text("utf-8"))["address"]
        assert isinstance(address, str)
        return address


@contextmanager
def _cluster(home: Path) -> Iterator[Cluster]:
    cluster = Cluster(home)
    try:
        yield cluster
    finally:
        for process in cluster.processes:
            process.terminate()  # so that one that starts others ends them too
        for process in cluster.processes:
            with suppress(subprocess.TimeoutExpired):
                process.wait(10)
            process.kill()
            process.wait()


@pytest.fixture
def rooms(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of rooms, one of which cannot be read."""
    (tmp_path / "own").mkdir()
    portfolio(tmp_path / "own" / "rooms")
    monkeypatch.chdir(tmp_path / "own")
    return Path("rooms")


@pytest.fixture
def cluster(tmp_path: Path) -> Iterator[Cluster]:
    """A scheduler without workers."""
    (tmp_path / "cluster").mkdir()
    with _cluster(tmp_path / "cluster") as found:
        found.start_scheduler()
        yield found


@pytest.mark.filterwarnings("ignore")  # of libraries, which the command keeps quiet
def test_what_comes_is_what_one_job_says(
    rooms: Path, cluster: Cluster, capsys: Printed
) -> None:
    cluster.start_worker()
    cluster.start_worker()
    for word, name in (("text", "rooms"), ("jsonl", str(rooms.resolve()))):
        words = ["check", name, "--format", word]
        assert main(words) == 2
        one = capsys.readouterr()
        assert main([*words, "--cluster", cluster.address]) == 2
        assert capsys.readouterr() == one
    assert main(["check", "rooms", "-o", "one.jsonl"]) == 2
    words = ["--changed-since", "one.jsonl", "-o", "there.jsonl"]
    assert main(["check", "rooms", *words, "--cluster", cluster.address]) == 2
    assert Path("there.jsonl").read_bytes() == Path("one.jsonl").read_bytes()
    capsys.readouterr()
    words = ["check", "rooms/a", "--format", "jsonl"]
    assert main(words) == 1
    one = capsys.readouterr()
    words += ["--cluster", cluster.address, "--room-limit"]
    assert main([*words, "300"]) == 1
    assert capsys.readouterr() == one
    assert main([*words, "0.05"]) == 2
    told = capsys.readouterr()
    rows = [json.loads(line) for line in told.out.splitlines()]
    assert [row["path"] for row in rows] == [
        "rooms/a/blocked.yaml",
        "rooms/a/clear.yaml",
    ]
    for row, line in zip(rows, told.err.splitlines(), strict=True):
        assert row["verdict"] == "refused"
        assert row["reason"] == line
        assert "it took longer than 0.05 seconds" in line


def _pumps(rooms: Path, many: int) -> None:
    """Write rooms that use one mesh and are all to be judged."""
    (rooms / "broken.yaml").unlink()
    text = (rooms / "scanned-pump.yaml").read_text("utf-8")
    for number in range(many):
        name = f"pump-{number:02}.yaml"
        (rooms / name).write_text(f"{text}\n# {number}\n", encoding="utf-8")


def _begin(cluster: Cluster) -> subprocess.Popen[str]:
    """Begin a run, and return it when some rooms have been judged."""
    words = ("check", "rooms", "--cluster", cluster.address, "-o", "there.jsonl")
    running = subprocess.Popen(  # noqa: S603 - this Python
        [sys.executable, "-c", PROGRAM, *words],
        stderr=subprocess.PIPE,
        encoding="utf-8",
    )
    asked = subprocess.run(  # noqa: S603 - this Python
        [sys.executable, "-c", EXECUTED, cluster.address], check=False, timeout=120
    )
    assert not asked.returncode
    return running


EXECUTED = """
import sys, time, distributed
client = distributed.Client(sys.argv[1])
executed = lambda dask_worker: dask_worker.state.executed_count
while sum(client.run(executed).values()) < 5:
    time.sleep(0.05)
"""


def test_a_worker_that_is_killed_half_way_loses_nothing(
    rooms: Path, cluster: Cluster
) -> None:
    _pumps(rooms, 10)
    assert main(["check", "rooms", "-o", "one.jsonl"]) == 1
    first = cluster.start_worker()
    cluster.start_worker()
    running = _begin(cluster)
    first.kill()
    _, told = running.communicate(timeout=300)
    assert not told
    assert running.returncode == 1
    assert Path("there.jsonl").read_bytes() == Path("one.jsonl").read_bytes()


DEADLY = """
import os
from viewer.portfolio import parcel

judge = parcel.judge_parcel

def judge_parcel(one, contents):
    if one.name == "clear.yaml":
        os._exit(9)
    return judge(one, contents)

judge_parcel.__module__ = judge.__module__
parcel.judge_parcel = judge_parcel
"""


@pytest.mark.usefixtures("rooms")
def test_a_room_that_takes_workers_down_is_told_in_its_place(
    cluster: Cluster, capsys: Printed
) -> None:
    cluster.start("worker", "--nthreads", "1", first=DEADLY)
    words = ["check", "rooms/a", "--format", "jsonl"]
    assert main([*words, "--cluster", cluster.address]) == 2
    told = capsys.readouterr()
    rows = [json.loads(line) for line in told.out.splitlines()]
    (row,) = (row for row in rows if row["path"] == "rooms/a/clear.yaml")
    assert row["verdict"] == "refused"
    assert "the workers that were at work on it ended" in row["reason"]
    assert told.err.splitlines() == [row["reason"]]
    # The room that waited at the same worker is not blamed.
    others = [row for row in rows if row["path"] == "rooms/a/blocked.yaml"]
    assert main(["check", "rooms/a/blocked.yaml", "--format", "jsonl"]) == 1
    alone = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    assert others
    assert [row["verdict"] for row in others] == [row["verdict"] for row in alone]


class Comers:
    """A scheduler at which a worker comes and dies between any two looks."""

    status = "running"

    def __init__(self) -> None:
        self.now = 0.0
        self.told: Callable[[tuple[float, dict[str, str]]], None] = print

    def subscribe_topic(
        self, topic: str, told: Callable[[tuple[float, dict[str, str]]], None]
    ) -> None:
        """Tell of workers from now on."""
        assert topic == "all"
        self.told = told

    def scheduler_info(self) -> dict[str, dict[str, object]]:
        """Return who is there at this moment."""
        return {"workers": {}}

    def wait(self, *_: object, **__: object) -> None:
        """Let half a minute and a second pass, in which one came or another left."""
        self.now += 31
        came = "add-worker" if self.now < 200 else "remove-worker"
        self.told((self.now, {"action": came}))
        raise TimeoutError


def test_workers_that_come_and_die_between_looks_are_there(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    comers = Comers()
    monkeypatch.setattr(time, "monotonic", lambda: comers.now)
    question = Question(None, None, "text", Manner())
    on_its_way = _OnItsWay(comers, comers, [], question, None)
    on_its_way.pending[object()] = 0, Basis("", None, "", None)
    with pytest.raises(NobodyLeftError):
        next(on_its_way.answers())
    assert comers.now > 200  # the last came at 186


@pytest.mark.parametrize("who", ["scheduler", "worker"])
def test_when_nobody_is_left_what_was_judged_is_kept(
    rooms: Path, cluster: Cluster, who: str
) -> None:
    _pumps(rooms, 40)
    cluster.start_worker()
    running = _begin(cluster)
    cluster.processes[who == "worker"].kill()
    _, told = running.communicate(timeout=120)
    assert running.returncode == 2
    (line,) = told.splitlines()
    assert "nobody is left" in line
    rows = [json.loads(row) for row in Path("there.jsonl").read_text().splitlines()]
    judged = {row["path"] for row in rows if row["verdict"] != "refused"}
    refused = {row["path"] for row in rows if row["verdict"] == "refused"}
    assert judged
    assert refused
    assert len(judged | refused) == 44
    assert f"{len(judged)} of 44 rooms" in line


def test_a_worker_with_another_version_is_refused(
    rooms: Path, cluster: Cluster
) -> None:
    cluster.start_worker(version="0.0.1")
    words = ("check", "rooms", "--cluster", cluster.address)
    done = run(*words, folder=rooms.resolve().parent, status=2)
    (line,) = done.stderr.splitlines()
    assert "found version 0.0.1 at tcp://127.0.0.1:" in line
    assert not done.stdout


def test_a_scheduler_without_a_worker_is_one_line(
    rooms: Path, cluster: Cluster
) -> None:
    words = ("check", "rooms", "--cluster", cluster.address)
    done = run(*words, folder=rooms.resolve().parent, status=2)
    (line,) = done.stderr.splitlines()
    assert "found no worker" in line


@pytest.mark.parametrize("address", ["tcp://127.0.0.1:9", "nobody", "ftp://x", ""])
def test_nobody_there_is_one_line(rooms: Path, address: str) -> None:
    words = ("check", "rooms", f"--cluster={address}")
    done = run(*words, folder=rooms.resolve().parent, status=2)
    (line,) = done.stderr.splitlines()
    assert f"found nobody at {address}" in line
    assert not done.stdout


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--cluster", "tcp://x:1", "--jobs", "2"], "--cluster: found --jobs"),
        (["--room-limit", "3"], "--room-limit: found no --cluster"),
        (["--cluster", "tcp://x:1", "--room-limit", "0"], "found 0"),
        (["--cluster", "tcp://x:1", "--room-limit", "nan"], "found nan"),
        (["--cluster", "tcp://x:1", "--room-limit", "soon"], "found soon"),
    ],
)
@pytest.mark.usefixtures("rooms")
def test_what_cannot_be_meant_is_one_line(
    words: list[str], told: str, capsys: Printed
) -> None:
    assert main(["check", "rooms", *words]) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert told in line


@pytest.mark.usefixtures("rooms")
def test_without_the_extra_it_is_said(
    monkeypatch: pytest.MonkeyPatch, capsys: Printed
) -> None:
    monkeypatch.setitem(sys.modules, "dask.config", None)
    monkeypatch.setitem(sys.modules, "dask", None)
    assert main(["check", "rooms", "--cluster", "tcp://127.0.0.1:9"]) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert "standclear[cluster]" in line
