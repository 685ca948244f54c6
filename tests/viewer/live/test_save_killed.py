"""Killed while it saves: the scene is as it was before or after some saving, whole.

The outside source is the text itself, of which a move may change the place alone. The
room is invented.
"""

from __future__ import annotations

import http.client
import json
import random
import re
import subprocess
import sys
import threading
from contextlib import closing, suppress
from typing import TYPE_CHECKING
from urllib.parse import urlsplit

import pytest

from model3d import read_scene
from tests.paths import ROOT
from viewer.live.session import LiveRoom

if TYPE_CHECKING:
    from pathlib import Path

SERVER = """\
import sys, pathlib
from viewer.live.serving.server import LiveServer
from viewer.live.session import LiveRoom
with LiveServer(LiveRoom(pathlib.Path(sys.argv[1]))) as server:
    print(server.url, flush=True)
    server.serve_forever(0.02)
"""
ROOM = """\
title: Killed
units: mm
rules: nec-2023
room:
  size: [9000, 5000]
  height: 3000
items:
  - id: BOX   # moves
    kind: storage
    size: [400, 400, 400]
    place: {at: [1000, 2000], facing: south}
""" + "".join(f"# {'long ' * 100}{number}\n" for number in range(2000))
"""Comments, so that to write it takes a while."""


def saved_until_killed(url: str, saved: list[int]) -> None:
    """Move and save again and again until nobody answers."""
    parts = urlsplit(url)
    line = http.client.HTTPConnection("127.0.0.1", parts.port or 0, timeout=30)
    gone = OSError, http.client.HTTPException, ValueError
    with suppress(*gone), closing(line):
        while True:
            for path, body in (("move", {"id": "BOX", "by": [10, 0, 0]}), ("save", {})):
                head = {"Content-Type": "application/json"}
                line.request("POST", parts.path + path, json.dumps(body), head)
                with line.getresponse() as answer:
                    answer.read()
                    assert answer.status == 200
            saved.append(1)


@pytest.mark.long
def test_killed_while_it_saves_the_scene_is_whole(tmp_path: Path) -> None:
    file = tmp_path / "room.yaml"
    file.write_text(ROOM, encoding="utf-8")
    chance = random.Random(11)  # noqa: S311 - no secret
    place = re.compile(r"at: \[\d+, 2000\]")
    for _ in range(6):
        saved: list[int] = []
        with subprocess.Popen(  # noqa: S603 - our own code
            [sys.executable, "-c", SERVER, file],
            stdout=subprocess.PIPE,
            cwd=ROOT,
            text=True,
        ) as other:
            assert other.stdout
            url = other.stdout.readline().strip()
            client = threading.Thread(target=saved_until_killed, args=(url, saved))
            client.start()
            wanted = chance.randint(1, 4)
            while client.is_alive() and len(saved) < wanted:
                client.join(0.001)
            client.join(chance.uniform(0.0, 0.05))
            assert client.is_alive()
            other.kill()
            client.join()
        text = file.read_text(encoding="utf-8")
        assert place.sub("at: [1000, 2000]", text) == ROOM
        assert read_scene(file).items
    room = LiveRoom(file)
    room.save()
    assert not [*tmp_path.glob(".standclear-*")]
