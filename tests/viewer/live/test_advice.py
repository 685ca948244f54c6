"""What the workbench says by itself: what puts it right, where a thing may stand.

The room is invented: a wireway reaches 250 mm past the panelboard below it, 150 are
allowed (NEC 2023 110.26(A)(3)); a machine stands before a control panel.
"""

from __future__ import annotations

import json
import threading
import time
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

import pytest
import shapely

from model3d import check
from tests.viewer.browsing import opened
from tests.viewer.live.test_server import ask, post, running
from viewer.live.advice import is_move
from viewer.live.change import MoveError
from viewer.live.session import LiveRoom

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from playwright.sync_api import Browser

PATIENCE = 60.0


@contextmanager
def worked(file: Path) -> Iterator[LiveRoom]:
    """A room whose work beside is done by threads, as the server runs them."""
    room = LiveRoom(file)
    threads = [threading.Thread(target=run) for run in (room.work, room.advise)]
    for thread in threads:
        thread.start()
    yield room
    room.close()
    for thread in threads:
        thread.join()


def advice(room: LiveRoom) -> dict[str, Any]:
    """Wait until all that is not met was looked at."""
    end = time.monotonic() + PATIENCE
    while time.monotonic() < end:
        state = room.state()
        if state["advice"]["done"]:
            found: dict[str, Any] = state["advice"]["rows"]
            return found
        time.sleep(0.05)
    message = "no advice came"
    raise AssertionError(message)


def first_remedy(rows: dict[str, Any]) -> int:
    return next(int(row) for row, one in rows.items() if one["texts"])


@pytest.mark.long
def test_a_remedy_that_is_tried_cures_it_and_undo_takes_it_back(file: Path) -> None:
    with worked(file) as room:
        rows, before = advice(room), room.scene
        row = first_remedy(rows)
        judged = room.stage.judgements[row]
        assert judged.verdict == "not-met"
        room.attempt(row, 0, room.state()["version"])
        assert room.state()["trial"] == rows[str(row)]["texts"][0]
        after = [
            one.verdict
            for one in check(room.scene).of(judged.subject, judged.requirement)
            if one.leaf == judged.leaf
        ]
        assert after == ["met"]
        shown = [
            one.verdict
            for one in room.stage.judgements
            if (one.subject, one.requirement, one.leaf)
            == (judged.subject, judged.requirement, judged.leaf)
        ]
        assert shown == ["met"]
        room.undo()
        assert room.scene == before
        assert room.state()["trial"] == ""
        assert room.stage.judgements[row].verdict == "not-met"


@pytest.mark.long
def test_a_remedy_that_is_kept_is_saved(file: Path) -> None:
    with worked(file) as room:
        row = first_remedy(advice(room))
        room.attempt(row, 0, room.state()["version"])
        room.keep()
        assert room.state()["trial"] == ""
        room.save()
        assert "# lighting" in file.read_text(encoding="utf-8")
    assert LiveRoom(file).scene.items == room.scene.items


@pytest.mark.long
def test_a_remedy_of_a_room_that_has_changed_is_refused(file: Path) -> None:
    with worked(file) as room:
        row = first_remedy(advice(room))
        version = room.state()["version"]
        room.move("BOX", (10, 0, 0), by=True)
        scene = room.scene
        assert room.state()["advice"]["rows"] == {}
        with pytest.raises(MoveError, match="changed"):
            room.attempt(row, 0, version)
        with pytest.raises(MoveError, match="changed"):
            room.attempt(99, 0, room.state()["version"])
        assert room.scene is scene
        # Once it rests there is advice for the room as it is.
        assert advice(room)


def test_moves_are_answered_while_advice_is_looked_for(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    begun, go_on = threading.Event(), threading.Event()

    def slow(_: object) -> Iterator[tuple[int, Any]]:
        begun.set()
        go_on.wait(PATIENCE)
        yield from ()

    monkeypatch.setattr("viewer.live.session.advised", slow)
    with worked(file) as room:
        assert begun.wait(PATIENCE)
        room.move("BOX", (0, -100, 0), by=True)
        assert room.state()["undo"] == 1
        go_on.set()


def test_more_than_a_move_is_told_from_a_move(file: Path) -> None:
    scene = LiveRoom(file).scene
    first, *rest = scene.items
    wide = first.model_copy(update={"size": (400.0, 150.0, 900.0)})
    there = first.model_copy(update={"place": rest[-1].place})
    for item, is_one in ((wide, False), (there, True), (first, True)):
        other = scene.model_copy(update={"items": (item, *rest)})
        assert is_move(scene, other) is is_one


@pytest.mark.long
def test_the_map_of_an_item_is_told(file: Path) -> None:
    room = LiveRoom(file)
    floor = room.moment().map_of("BOX")
    assert floor["regions"]
    for region in floor["regions"]:
        assert all(0 <= x <= 4 and 0 <= y <= 3 for x, y in region["outer"])
    wall = room.moment().map_of("CP1")
    assert [band for band in wall["bands"] if "ends" in band]
    assert room.moment().map_of("D1")["why"]


def test_who_asks_for_nothing_gets_a_line(file: Path) -> None:
    with running(file) as server:
        status, told = ask(server, "GET", f"/{server.token}/map")
        assert (status, "item" in told["message"]) == (400, True)
        status, told = post(server, "try", row="0", number=0)
        assert (status, "whole numbers" in told["message"]) == (400, True)
        status, told = ask(server, "GET", f"/{server.token}/bodies")
        assert status == 200
        assert json.dumps(told["record"]["ids"]).count("BOX") == 1


def test_the_browser_tries_keeps_and_undoes(browser: Browser, file: Path) -> None:
    with running(file) as server, opened(browser, server.url) as found:
        page = found.page
        found.wait("live.advice.done")
        row = first_remedy(found.tell("live.advice.rows"))
        page.locator(f"[data-judgement='{row}']").click()
        found.rest()
        page.locator("button.try").first.click()
        found.wait("live.trial !== ''")
        assert page.locator("#trial").is_visible()
        page.locator("#keep").click()
        found.wait("live.trial === ''")
        assert found.tell("live.unsaved")
        page.locator("#undo").click()
        found.wait("live.unsaved === false")
        assert found.complaints == []


def test_the_browser_draws_the_map_and_a_drag_snaps_to_it(
    browser: Browser, file: Path
) -> None:
    with running(file) as server, opened(browser, server.url) as found:
        page = found.page
        page.locator("[data-view=above]").click()
        found.rest()
        page.mouse.click(*found.tell("onScreen(2.7, 2.2, 1.5)"))
        found.wait("map.map !== null && standclear.map.item === 'BOX'")
        regions = found.tell("map.map.regions")
        whole = shapely.union_all(
            [shapely.Polygon(one["outer"], one["holes"]) for one in regions]
        )
        line = shapely.LineString([(2.7, 0.0), (2.7, 3.0)]).intersection(whole)
        edge = max(y for _, y in shapely.get_coordinates(line))
        here = found.tell("onScreen(2.7, 2.2, 1.5)")
        there = found.tell(f"onScreen(2.7, {edge + 0.03}, 1.5)")
        page.mouse.move(*here)
        page.mouse.down()
        page.mouse.move((here[0] + there[0]) / 2, (here[1] + there[1]) / 2)
        page.mouse.move(*there)
        page.mouse.up()
        found.wait("live.undo === 1 && standclear.live.checking === false")
        x, y, _ = found.tell("live.places.BOX")
        there = shapely.Point(x / 1000, y / 1000)
        assert whole.boundary.distance(there) < 0.0011
        # At the edge of the map nothing is in the way of what was clear.
        assert y / 1000 == pytest.approx(edge, abs=0.0011)
        assert found.complaints == []
