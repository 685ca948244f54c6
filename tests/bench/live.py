"""What a room that is worked on costs while one thing in it is moved."""

from __future__ import annotations

import http.client
import json
import tempfile
import threading
import time
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from model3d import check
from tests.bench.halls import hall
from viewer.live.serving.server import LiveServer
from viewer.live.session import LiveRoom
from viewer.stage import build_stage

if TYPE_CHECKING:
    from collections.abc import Iterator

MOVED: Final = "B3-0"
"""A box in the working space of the fourth gear of a hall."""


@dataclass(frozen=True, slots=True)
class MoveTime:
    """How long a room takes to answer a move.

    Attributes:
        boxes: Of the hall.
        whole: Seconds of processor time of a check and its stage, made anew.
        each: Seconds of processor time of each move, with the answer to the page.
    """

    boxes: int
    whole: float
    each: tuple[float, ...]


@contextmanager
def _hall_file(boxes: int) -> Iterator[Path]:
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "hall.json"
        file.write_text(json.dumps(hall(boxes, door=True).written()), encoding="utf-8")
        yield file


def move_time(boxes: int, moves: int) -> MoveTime:
    """Move a box of a hall about, and write the answers as the server does."""
    with _hall_file(boxes) as file:
        room = LiveRoom(file)
        start = time.process_time()
        build_stage(room.scene, check(room.scene))
        whole = time.process_time() - start
        each = []
        for number in range(moves):
            start = time.process_time()
            since = room.state()["version"]
            room.move(MOVED, (10.0 if number % 2 else -10.0, 0, 0), by=True)
            json.dumps(room.reply(since))
            each.append(time.process_time() - start)
        room.close()
    return MoveTime(boxes, whole, tuple(each))


@contextmanager
def served(boxes: int) -> Iterator[LiveServer]:
    """Serve a hall of so many boxes on the loopback."""
    with _hall_file(boxes) as file, LiveServer(LiveRoom(file)) as server:
        thread = threading.Thread(target=server.serve_forever, args=(0.02,))
        thread.start()
        yield server
        server.shutdown()
        thread.join()


def answer_times(boxes: int, moves: int) -> list[float]:
    """Return seconds from a move's request to its answer, as a drag sends them."""
    times = []
    with served(boxes) as server:
        line = http.client.HTTPConnection("127.0.0.1", server.server_port, timeout=60)
        version = 1
        for number in range(moves):
            body: dict[str, Any] = {
                "id": MOVED,
                "by": [10 if number % 2 else -10, 0, 0],
                "gesture": "a",
                "version": version,
            }
            start = time.perf_counter()
            kind = {"Content-Type": "application/json"}
            line.request("POST", f"/{server.token}/move", json.dumps(body), kind)
            version = json.loads(line.getresponse().read())["version"]
            times.append(time.perf_counter() - start)
            time.sleep(0.02)  # until the hand has moved on
        line.close()
    return times
