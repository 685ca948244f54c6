"""The live server: whom it answers, and what it does for its page.

What must be so is the product's own contract (loopback only, a token, host and
content type checked, size capped). Why these checks: RFC 9110 on Host, RFC 6454 on
Origin, and the Fetch standard, by which a form of another site cannot send
application/json without being allowed to first. The room is invented.
"""

from __future__ import annotations

import http.client
import json
import os
import socket
import threading
import time
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager, suppress
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest

from model3d import check, read_scene
from tests.viewer.browsing import opened
from tests.viewer.written_rooms import TOLD, WRITTEN
from viewer.live.saving.save import edited
from viewer.live.serving.connections import MOST, Lines
from viewer.live.serving.request import LARGEST_BODY
from viewer.live.serving.server import LiveServer, serve
from viewer.live.session import LiveRoom
from viewer.stage import build_stage

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from playwright.sync_api import Browser

    from viewer.stage import Stage

JSON = {"Content-Type": "application/json"}


@pytest.fixture
def server(file: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[LiveServer]:
    # What a quiet machine judges at once takes a busy one longer.
    monkeypatch.setattr("viewer.live.rechecked.AT_ONCE", 5.0)
    with running(file) as started:
        yield started


@pytest.fixture(scope="module")
def unchanged_server(
    tmp_path_factory: pytest.TempPathFactory,
) -> Iterator[LiveServer]:
    """A server that is only asked what changes nothing: one serves all who do."""
    path = tmp_path_factory.mktemp("room") / "room.yaml"
    path.write_text(WRITTEN, encoding="utf-8", newline="")
    with running(path) as started:
        yield started


@contextmanager
def running(file: Path) -> Iterator[LiveServer]:
    with LiveServer(LiveRoom(file)) as started:
        thread = threading.Thread(target=started.serve_forever, args=(0.02,))
        thread.start()
        yield started
        started.shutdown()
        thread.join()


def ask(
    server: LiveServer,
    method: str,
    path: str,
    body: bytes | None = None,
    headers: dict[str, str] | None = None,
) -> tuple[int, Any]:
    """Return the status and what was answered, read as JSON where it is some."""
    line = http.client.HTTPConnection("127.0.0.1", server.server_port, timeout=30)
    line.request(method, path, body, headers or {})
    answer = line.getresponse()
    data = answer.read()
    kind = answer.headers.get_content_type()
    line.close()
    return answer.status, json.loads(data) if kind == "application/json" else data


def post(server: LiveServer, path: str, **body: Any) -> tuple[int, Any]:  # noqa: ANN401
    data = json.dumps(body).encode()
    return ask(server, "POST", f"/{server.token}/{path}", data, JSON)


def test_it_listens_on_this_computer_only(server: LiveServer) -> None:
    assert server.server_address[0] == "127.0.0.1"
    assert server.url.startswith("http://127.0.0.1:")
    assert len(server.token) >= 32


def test_the_page_is_there_and_may_ask_its_own_server_only(server: LiveServer) -> None:
    status, data = ask(server, "GET", f"/{server.token}/")
    assert status == 200
    assert b"connect-src 'self'" in data
    assert b'id="data"' in data


@pytest.mark.parametrize(
    "path", ["/", "/wrong/", "/{token}", "/{token}/nothing", "/{token}é/"]
)
def test_without_the_token_there_is_nothing(
    unchanged_server: LiveServer, path: str
) -> None:
    path = path.format(token=unchanged_server.token).replace("é", "%C3%A9")
    status, answer = ask(unchanged_server, "GET", path)
    assert status == 404
    assert answer == {"message": "there is no such page"}


@pytest.mark.parametrize(
    ("headers", "status"),
    [
        ({"Host": "127.0.0.1:{port}"}, 200),
        ({"Host": "localhost:{port}"}, 200),
        ({"Host": "127.0.0.1"}, 403),
        ({"Host": "attacker.example:{port}"}, 403),
        ({"Origin": "http://127.0.0.1:{port}"}, 200),
        ({"Origin": "http://localhost:{port}"}, 200),
        ({"Origin": "http://attacker.example"}, 403),
        ({"Origin": "https://127.0.0.1:{port}"}, 403),
        ({"Origin": "null"}, 403),
    ],
)
def test_it_answers_its_own_page_only(
    server: LiveServer, headers: dict[str, str], status: int
) -> None:
    port = server.server_port
    given = {name: value.format(port=port) for name, value in headers.items()}
    body = json.dumps({"id": "BOX", "by": [1, 0, 0]}).encode()
    path = f"/{server.token}/move"
    assert ask(server, "POST", path, body, {**JSON, **given})[0] == status


@pytest.mark.parametrize(
    ("headers", "body", "status"),
    [
        ({"Content-Type": "text/plain"}, b'{"id": "BOX", "by": [1, 0, 0]}', 415),
        ({}, b'{"id": "BOX", "by": [1, 0, 0]}', 415),
        (JSON, b" " * (LARGEST_BODY + 1), 413),
        (JSON, b"[" * 5000, 400),
        (JSON, b"{", 400),
        (JSON, b"[]", 400),
        (JSON, b"\xff", 400),
        (JSON, b'{"id": "BOX"}', 400),
        (JSON, b'{"id": "BOX", "by": [1, 0, 0], "to": [1, 0, 0]}', 400),
        (JSON, b'{"id": "BOX", "by": [1, 0]}', 400),
        (JSON, b'{"id": "BOX", "by": [1, 0, true]}', 400),
        (JSON, b'{"id": "BOX", "by": [1, 0, NaN]}', 400),
        (JSON, b'{"id": "BOX", "by": [1, 0, 1e999]}', 400),
        (JSON, b'{"id": "BOX", "by": ["1", 0, 0]}', 400),
        (JSON, b'{"id": 7, "by": [1, 0, 0]}', 400),
        (JSON, b'{"id": "BOX", "by": [1, 0, 0], "gesture": 1}', 400),
        (JSON, b'{"id": "NOBODY", "by": [1, 0, 0]}', 422),
        (JSON, b'{"id": "floor", "by": [1, 0, 0]}', 422),
        ({**JSON, "Transfer-Encoding": "chunked"}, b"0\r\n\r\n", 411),
    ],
)
def test_what_is_no_move_changes_nothing(
    unchanged_server: LiveServer, headers: dict[str, str], body: bytes, status: int
) -> None:
    answer = ask(
        unchanged_server, "POST", f"/{unchanged_server.token}/move", body, headers
    )
    assert answer[0] == status
    assert answer[1]["message"]
    assert unchanged_server.room.state()["version"] == 1


def test_a_move_is_checked_at_once(server: LiveServer) -> None:
    before = server.room.stage
    status, reply = post(server, "move", id="BOX", by=[0, -1500, 0], version=1)
    assert status == 200
    assert reply["since"] == 1
    assert reply["version"] >= 2
    assert reply["live"]["places"]["BOX"] == [2700, 700, 0]
    assert {shape["id"] for shape in reply["change"]["put"]} >= {"BOX"}
    blocked = [row for row in before.judgements if "BOX" in row.in_the_way]
    assert blocked
    after = reply["change"]["judgements"]
    # A number is a row of before.
    kept = [row for row in after if isinstance(row, int)]
    new = [row for row in after if not isinstance(row, int)]
    assert kept
    assert not [row for row in kept if "BOX" in before.judgements[row].in_the_way]
    assert not [row for row in new if "BOX" in row["in_the_way"]]


@pytest.mark.long
def test_what_a_move_leaves_open_is_found_out_beside(server: LiveServer) -> None:
    room = server.room
    _, reply = post(server, "move", id="BOX", by=[0, -1500, 0])
    _wait_for_all(room, reply["version"])
    assert room.state()["waiting"] == ()
    assert _plain(room.stage) == _plain(build_stage(room.scene, check(room.scene)))


def _wait_for_all(room: LiveRoom, version: int) -> None:
    """Wait until all is known of a room in which something has moved."""
    while room.state()["checking"]:
        assert room.wait(version, room.state()["notice"], 30)
        version = room.state()["version"]


def _plain(stage: Stage) -> list[Any]:
    """Return what a stage says; where its cameras stand is not asked for here."""
    return [replace(row, look=stage.views[0]) for row in stage.judgements]


@pytest.mark.long
def test_the_lesson_comes_from_the_file(server: LiveServer, file: Path) -> None:
    path = f"/{server.token}/lesson"
    assert server.room.state()["lesson"] == 0
    assert ask(server, "GET", path)[0] == 422
    file.write_text(WRITTEN + TOLD, encoding="utf-8", newline="")
    server.room.follow()
    post(server, "move", id="BOX", by=[0, -1500, 0])
    status, told = ask(server, "GET", path)
    assert status == 200
    assert told["lesson"] == server.room.state()["lesson"] > 0
    steps = told["stage"]["steps"]
    assert [step["ask"] for step in steps] == ["", "Is it still right?"]
    # It starts from the room as it is written, not from what was moved.
    there = check(read_scene(file)).arrangement
    assert there is not None
    (box,) = [one for one in told["stage"]["labels"] if one["item"] == "BOX"]
    (low, high) = there.items["BOX"].solid.bounds
    assert low[1] <= box["anchor"][1] <= high[1]


@pytest.mark.long
def test_a_lesson_that_cannot_be_played_is_told(server: LiveServer, file: Path) -> None:
    broken = f"{TOLD}      expect: {{LP1: {{elbow-room: met}}}}\n"
    file.write_text(WRITTEN + broken, encoding="utf-8", newline="")
    server.room.follow()
    assert not server.room.state()["mistake"]
    status, answer = ask(server, "GET", f"/{server.token}/lesson")
    assert status == 422
    assert "step 2 of the lesson" in answer["message"]


def test_a_page_that_knows_nothing_gets_all(server: LiveServer) -> None:
    _, reply = post(server, "keep", version=-3)
    assert len(reply["stage"]["shapes"]) == len(server.room.stage.shapes)


@pytest.mark.long
def test_undo_goes_back_a_gesture_at_a_time(server: LiveServer) -> None:
    start = server.room.state()["places"]["BOX"]
    post(server, "move", id="BOX", to=[1500, 700, 0], gesture="a")
    for east in (1600, 1700, 1800):
        post(server, "move", id="BOX", to=[east, 700, 0], gesture="b")
    assert server.room.state()["undo"] == 2
    _, reply = post(server, "undo")
    assert reply["live"]["places"]["BOX"] == [1500, 700, 0]
    assert reply["live"]["unsaved"]
    _, reply = post(server, "undo")
    assert reply["live"]["places"]["BOX"] == list(start)
    assert not reply["live"]["unsaved"]
    assert reply["live"]["undo"] == 0
    _, reply = post(server, "undo")
    assert reply["live"]["places"]["BOX"] == list(start)


@pytest.mark.long
def test_a_saved_room_reads_as_it_was_shown(server: LiveServer, file: Path) -> None:
    _, reply = post(server, "move", id="BOX", to=[2000, 900, 0])
    # What is still to be judged would make a newer version of its own.
    _wait_for_all(server.room, reply["version"])
    _, reply = post(server, "save")
    assert not reply["live"]["unsaved"]
    assert reply["live"]["undo"] == 1
    assert file.read_text("utf-8") == WRITTEN.replace("[2700, 2200]", "[2000, 900]")
    # Its own saving is no change from elsewhere.
    server.room.follow()
    assert server.room.state()["version"] == reply["version"]
    again = LiveRoom(file)
    assert again.stage.judgements == server.room.stage.judgements


def test_news_come_when_there_are_some(server: LiveServer) -> None:
    asked: list[Any] = []
    path = f"/{server.token}/events?version=1&notice=0"
    waiting = threading.Thread(target=lambda: asked.append(ask(server, "GET", path)))
    waiting.start()
    post(server, "move", id="BOX", by=[10, 0, 0])
    waiting.join(30)
    ((status, reply),) = asked
    assert status == 200
    # What a move leaves to be judged may have followed before the answer was made.
    assert reply["since"] == 1
    assert reply["version"] >= 2
    assert "BOX" in {shape["item"] for shape in reply["change"]["put"]}
    assert reply["live"]["places"]["BOX"][0] == 2710
    assert ask(server, "GET", f"/{server.token}/events")[0] == 400


def test_it_ends_when_it_is_interrupted(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def interrupted(_: LiveServer) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(LiveServer, "serve_forever", interrupted)
    said: list[str] = []
    serve(file, open_browser=False, say=said.append)
    (url,) = said
    port = int(url.split(":")[2].split("/")[0])
    with pytest.raises(ConnectionRefusedError):
        http.client.HTTPConnection("127.0.0.1", port, timeout=5).request("GET", "/")


def test_the_browser_drags_types_undoes_saves_and_follows(
    browser: Browser, server: LiveServer, file: Path
) -> None:
    with opened(browser, server.url, size=(1400, 900)) as found:
        page = found.page
        page.locator("[data-view=above]").click()
        found.rest()
        page.mouse.click(*found.tell("onScreen(2.7, 2.2, 1.5)"))
        found.rest()
        assert found.tell("picked.item") == "BOX"
        here = found.tell("onScreen(2.7, 2.2, 1.5)")
        there = found.tell("onScreen(2.7, 1.2, 1.5)")
        page.mouse.move(*here)
        page.mouse.down()
        page.mouse.move((here[0] + there[0]) / 2, (here[1] + there[1]) / 2)
        page.mouse.move(*there)
        page.mouse.up()
        found.wait("live.places.BOX[1] <= 1250 && standclear.live.undo === 1")
        east, north, up = found.tell("live.places.BOX")
        assert (east, up) == (pytest.approx(2700, abs=20), 0)
        assert north == pytest.approx(1200, abs=60)
        assert found.tell("live.unsaved")
        rows = found.tell("rows")
        assert len(rows) == len(check(server.room.scene).judgements)
        # What was not known at once follows by itself.
        found.wait("live.checking === false")
        assert page.locator("#busy").is_hidden()
        assert page.locator(".row.waiting").count() == 0
        page.locator("[data-way='2']").fill("250")
        page.keyboard.press("Enter")
        found.wait("live.places.BOX[2] === 250")
        # The hand stays in the field, to step on with the arrow keys.
        assert page.evaluate("document.activeElement.dataset.way") == "2"
        page.locator("#undo").click()
        found.wait("live.places.BOX[2] === 0")
        page.locator("#save").click()
        found.wait("live.unsaved === false")
        assert f"[{east:g}, {north:g}]" in file.read_text("utf-8")
        text = file.read_text("utf-8")
        file.write_text(text.replace("kind: machine", "kind: nothing"), "utf-8")
        notice = page.locator("#notice.mistake")
        notice.wait_for()
        assert "BOX: kind" in notice.inner_text()
        file.write_text(text.replace("Mill annex", "Mill annex 3"), "utf-8")
        page.get_by_role("heading", name="Mill annex 3").wait_for()
        assert found.complaints == []
        assert all(url.startswith(server.url) for url in found.asked)


def test_the_browser_plays_the_lesson_of_the_file(
    browser: Browser, server: LiveServer, file: Path
) -> None:
    file.write_text(WRITTEN + TOLD, encoding="utf-8", newline="")
    server.room.follow()
    place = "shapes().find((one) => one.id === 'WW1') && standclear.bounds('WW1')[2]"
    with opened(browser, server.url, size=(1400, 900)) as found:
        page = found.page
        page.locator("#lesson").wait_for()
        page.locator("[data-judgement='0']").click()
        low = found.tell(place)
        page.mouse.move(5, 5)
        post(server, "move", id="WW1", by=[50, 0, 0])
        found.wait("live.unsaved")
        assert found.tell("bounds('WW1')[0]") > 0
        moved = found.tell("bounds('WW1')[0]")
        page.locator("#lesson .next").click()
        assert found.tell("lesson") == {"step": 1, "answered": True}
        # The lesson is played in the room as it is written.
        assert found.tell("bounds('WW1')[0]") == pytest.approx(moved - 0.05)
        assert found.tell(place) == pytest.approx(low + 0.4)
        assert page.locator("#save").is_disabled()
        assert page.locator("#undo").is_disabled()
        page.evaluate("standclear.pickItem('BOX')")
        assert page.locator("[data-way]").count() == 0
        assert "Leave the lesson" in page.locator("#list .about").inner_text()
        # What is moved meanwhile, in another window, is there in the end.
        post(server, "move", id="WW1", by=[50, 0, 0])
        page.locator("#lesson .next").click()
        assert found.tell("lesson") == {"step": 2, "answered": False}
        # The file is edited: the lesson follows, and stays where it is.
        file.write_text(
            WRITTEN + TOLD.replace("still right", "right now"),
            encoding="utf-8",
            newline="",
        )
        page.get_by_text("Is it right now?").wait_for()
        assert found.tell("lesson") == {"step": 2, "answered": False}
        page.locator("#lesson .leave").click()
        found.wait("lesson.step === 0")
        assert found.tell("bounds('WW1')[0]") == pytest.approx(moved - 0.05)
        page.locator("[data-way]").first.wait_for()
        file.write_text(WRITTEN, encoding="utf-8", newline="")
        page.locator("#lesson").wait_for(state="hidden")
        assert found.complaints == []
        assert all(url.startswith(server.url) for url in found.asked)


def test_the_page_follows_while_bodies_are_asked_for(
    browser: Browser, server: LiveServer
) -> None:
    # What is picked needs the bodies about it, and asks anew when others move. Until
    # they come nothing is known of them: a second move found none and was lost.
    with opened(browser, server.url, size=(1400, 900)) as found:
        page = found.page
        with page.expect_response("**/bodies"):
            page.locator("[data-judgement='0']").click()
        found.wait("bounds('WW1')")
        here = found.tell("bounds('WW1')[0]")
        page.route("**/bodies", lambda _: None)
        for metres in (0.05, 0.1):
            post(server, "move", id="WW1", by=[50, 0, 0])
            found.wait(f"bounds('WW1')[0] > {here + metres - 0.001}")
        assert found.complaints == []


def raw(server: LiveServer, data: bytes, seconds: float = 20.0) -> bytes:
    """Return what is answered to bytes, up to the end of the line."""
    with socket.create_connection(("127.0.0.1", server.server_port), seconds) as line:
        line.sendall(data)
        found = b""
        with suppress(ConnectionResetError):
            while more := line.recv(65536):
                found += more
        return found


HEADERS = (
    b"Cache-Control: no-store",
    b"Referrer-Policy: no-referrer",
    b"X-Content-Type-Options: nosniff",
    b"X-Frame-Options: DENY",
    b"Content-Security-Policy: frame-ancestors 'none'",
    b"Cross-Origin-Resource-Policy: same-origin",
)


@pytest.mark.parametrize(
    ("data", "status"),
    [
        (b"\nGET / HTTP/1.1\r\n\r\n", 400),
        (b"GET / HTTP/1.1\r\n\r\n", 400),
        (b"GET / HTTP/1.1\r\nHost:\r\n\r\n", 403),
        (b"GET / HTTP/1.1\r\nHost: a b\r\n\r\n", 400),
        (b"GET / HTTP/1.1\r\nHost: {host}/\r\n\r\n", 400),
        (b"GET / HTTP/1.1\r\nHost: x@{host}\r\n\r\n", 400),
        (b"GET / HTTP/1.1\r\nHost: 127.0.0.1:x\r\n\r\n", 400),
        (b"GET / HTTP/1.1\r\nHost: [::1]:80\r\n\r\n", 403),
        (b"GET * HTTP/1.1\r\nHost: {host}\r\n\r\n", 400),
        (b"GET /% HTTP/1.1\r\nHost: {host}\r\n\r\n", 400),
        (b"GET /%zz/ HTTP/1.1\r\nHost: {host}\r\n\r\n", 400),
        (b"GET /%C3%A9 HTTP/1.1\r\nHost: {host}\r\n\r\n", 404),
        (b"GET /\xc3\xa9 HTTP/1.1\r\nHost: {host}\r\n\r\n", 400),
        (b"GET /\x00 HTTP/1.1\r\nHost: {host}\r\n\r\n", 400),
        (b"GET /<a>|b HTTP/1.1\r\nHost: {host}\r\n\r\n", 400),
        (b"GET /{token}/#place HTTP/1.1\r\nHost: {host}\r\n\r\n", 400),
        (b"GET /{token}/?a=% HTTP/1.1\r\nHost: {host}\r\n\r\n", 400),
        (b"GET http:///{token}/ HTTP/1.1\r\nHost: {host}\r\n\r\n", 400),
        (b"GET http://[x]/ HTTP/1.1\r\nHost: {host}\r\n\r\n", 400),
        (b"GET http://[::1 HTTP/1.1\r\nHost: {host}\r\n\r\n", 400),
        (b"GET /{token}/?x HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n", 200),
        (b"HEAD /{token}/ HTTP/1.1\r\nHost: {host}\r\n\r\n", 501),
        (b"BREW / HTTP/1.1\r\nHost: {host}\r\n\r\n", 501),
        (b"GET /\r\n", 400),
        (b"GET /{token}/ HTTP/0.9\r\nHost: {host}\r\n\r\n", 400),
        (b"GET http://other.example/{token}/ HTTP/1.1\r\nHost: {host}\r\n\r\n", 403),
        (b"GET http://x@{host}/{token}/ HTTP/1.1\r\nHost: {host}\r\n\r\n", 400),
        (b"GET https://{host}/{token}/ HTTP/1.1\r\nHost: {host}\r\n\r\n", 403),
        (b"GET {token}/ HTTP/1.1\r\nHost: {host}\r\n\r\n", 400),
        (b"GET http://{host}/{token}/x HTTP/1.1\r\nHost: {host}\r\n\r\n", 404),
        (b"GET /{token}/ HTTP/1.1\r\nHost: {host}\r\nHost: {host}\r\n\r\n", 400),
        (b"GET /{token}/ HTTP/1.1\r\nHost: {host}\r\nno header\r\n\r\n", 400),
        (b"rubbish\r\n\r\n", 400),
        (b"GET / HTTP/9.9\r\n\r\n", 505),
        (b"GET / HTTP/x\r\n\r\n", 400),
        (b"GET /" + b"a" * 70_000 + b" HTTP/1.1\r\n\r\n", 414),
        (b"GET / HTTP/1.1\r\nA: " + b"a" * 70_000 + b"\r\n\r\n", 431),
        (b"GET / HTTP/1.1\r\n" + b"A: a\r\n" * 200 + b"\r\n", 431),
        (
            b"GET /{token}/events?version=1_0 HTTP/1.1\r\nHost: {host}\r\n\r\n",
            400,
        ),
        (
            b"GET /{token}/events?version="
            + b"9" * 5000
            + b"&notice=x HTTP/1.1\r\nHost: {host}\r\n\r\n",
            400,
        ),
    ],
)
def test_every_answer_has_the_same_headers(
    unchanged_server: LiveServer, data: bytes, status: int
) -> None:
    host = f"127.0.0.1:{unchanged_server.server_port}".encode()
    data = data.replace(b"{host}", host).replace(
        b"{token}", unchanged_server.token.encode()
    )
    found = raw(unchanged_server, data)
    head, _, body = found.partition(b"\r\n\r\n")
    assert head.startswith(b"HTTP/1.1 %d " % status), found[:200]
    for header in HEADERS:
        assert head.count(header) == 1
    if data.startswith(b"HEAD"):
        assert not body
    elif status != 200:
        assert json.loads(body)["message"]


@pytest.mark.parametrize(
    ("length", "status"),
    [
        (b"9" * 4000, 413),
        (b"0" * 200 + b"99999999", 413),
        (b"1" + b"0" * 110, 413),
        (b"-5", 400),
        (b"+5", 400),
        (b"1_0", 400),
        (b"\xd9\xa3", 400),
        (b"2\r\nContent-Length: 3", 400),
        (b"0000002", 400),
    ],
)
def test_a_size_is_parsed_and_not_cut(
    server: LiveServer, length: bytes, status: int
) -> None:
    head = (
        f"POST /{server.token}/undo HTTP/1.1\r\nHost: 127.0.0.1:{server.server_port}"
        "\r\nContent-Type: application/json\r\nContent-Length: "
    ).encode()
    found = raw(server, head + length + b"\r\n\r\n[]")
    assert found.startswith(b"HTTP/1.1 %d " % status)


@pytest.mark.long
def test_a_burst_of_clients_loses_none(server: LiveServer) -> None:
    def one() -> int:
        return ask(server, "GET", f"/{server.token}/nothing")[0]

    with ThreadPoolExecutor(100) as clients:
        found = [clients.submit(one) for _ in range(300)]
        assert [each.result() for each in found] == [404] * 300


@pytest.mark.long
def test_lines_that_are_slow_or_idle_are_cut(
    server: LiveServer, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("viewer.live.serving.server.PATIENCE", 0.5)
    monkeypatch.setattr("viewer.live.serving.handler.PATIENCE", 0.5)
    monkeypatch.setattr("viewer.live.serving.handler._IDLE", 0.5)
    host = f"Host: 127.0.0.1:{server.server_port}"
    for data in (
        b"",
        b"GE",
        f"GET /{server.token}/nothing HTTP/1.1\r\nHost:".encode(),
        f"POST /{server.token}/undo HTTP/1.1\r\n{host}\r\nContent-Type: "
        "application/json\r\nContent-Length: 9\r\n\r\n{".encode(),
        f"POST /{server.token}/undo HTTP/1.1\r\n{host}\r\nContent-Type: "
        "application/json\r\nContent-Length: 2\r\n\r\n{}".encode(),
    ):
        start = time.monotonic()
        raw(server, data)
        assert time.monotonic() - start < 10
    for _ in range(100):
        if not len(server.lines):
            return
        time.sleep(0.05)
    pytest.fail("a line is still counted")


@pytest.mark.long
def test_those_who_wait_or_write_slowly_keep_nobody_out(server: LiveServer) -> None:
    room = server.room
    _wait_for_all(room, room.state()["version"])
    version, notice = room.state()["version"], room.state()["notice"]
    head = f"Host: 127.0.0.1:{server.server_port}\r\n"
    news = f"/{server.token}/events?version={version}&notice={notice}"
    for data in (f"GET {news} HTTP/1.1\r\n{head}\r\n", f"GET / HTTP/1.1\r\n{head}"):
        held = []
        for _ in range(MOST + 20):
            line = socket.create_connection(("127.0.0.1", server.server_port))
            line.sendall(data.encode())
            held.append(line)
        assert ask(server, "GET", f"/{server.token}/nothing")[0] == 404
        for line in held:
            line.close()


def test_a_new_line_takes_the_place_of_an_idle_one() -> None:
    lines = Lines(2)
    pairs = [socket.socketpair() for _ in range(4)]
    (one, far), (two, _), (three, _), (four, _) = pairs
    assert lines.take(one, 5)
    assert lines.take(two, 9)
    assert lines.take(three, 9)
    assert far.recv(1) == b""
    lines.keep(two)
    lines.keep(three)
    assert not lines.take(four, 9)
    lines.leave(two)
    assert lines.take(four, 9)
    for pair in pairs:
        for each in pair:
            each.close()


@pytest.mark.long
def test_a_move_of_what_has_moved_meanwhile_is_a_conflict(server: LiveServer) -> None:
    _, reply = post(server, "move", id="BOX", by=[0, -100, 0], version=1)
    status, answer = post(server, "move", id="BOX", by=[0, -100, 0], version=1)
    assert status == 409
    assert "elsewhere" in answer["message"]
    assert post(server, "undo", version=1)[0] == 409
    for version in (10**6, 0, -3):
        assert post(server, "move", id="BOX", by=[0, 1, 0], version=version)[0] == 409
    assert post(server, "move", id="BOX", by=[0, 1, 0], version="1")[0] == 400
    room = server.room
    _wait_for_all(room, reply["version"])
    # What was found out meanwhile has moved nothing.
    seen = reply["version"]
    assert post(server, "move", id="BOX", by=[0, 50, 0], version=seen)[0] == 200
    # The moves of one hand are never in one another's way.
    body = {"id": "BOX", "by": [0, 1, 0], "gesture": "g", "version": seen}
    now = room.state()["version"]
    assert post(server, "move", **{**body, "version": now})[0] == 200
    assert post(server, "move", **{**body, "version": now})[0] == 200


def test_saving_over_what_was_changed_elsewhere_is_a_conflict(
    server: LiveServer, file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    post(server, "move", id="BOX", to=[2000, 900, 0])
    changed = WRITTEN.replace("Mill", "Other")

    def slowly(*words: Any) -> str:  # noqa: ANN401 - as the original
        found = edited(*words)
        file.write_text(changed, encoding="utf-8", newline="")
        return found

    # Somebody saves while the text is being worked out.
    monkeypatch.setattr("viewer.live.file.edited", slowly)
    status, answer = post(server, "save")
    assert status == 409
    assert "elsewhere" in answer["message"]
    assert file.read_text("utf-8") == changed


@pytest.mark.skipif(os.name == "nt", reason="Windows has no pipes among its files")
def test_a_scene_that_becomes_a_pipe_does_not_hang_the_server(
    server: LiveServer, file: Path
) -> None:
    file.unlink()
    os.mkfifo(file)
    server.room.follow()
    assert "not a plain file" in server.room.state()["message"]
    assert post(server, "save")[0] == 422
