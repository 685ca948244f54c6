"""Models that several tests begin with, read in the test's own process."""

from __future__ import annotations

from typing import Any

import pytest

from model3d.exchange.ifc.file import worker
from tests.exchange.ifc.test_import import board
from tests.exchange.ifc.written_models import Model


@pytest.fixture
def empty_room(monkeypatch: pytest.MonkeyPatch) -> Model:
    """Return a room without gear, and read it in this process."""

    def read(work: Any, _: str, tell: Any, **__: float) -> Any:
        return work(tell)

    monkeypatch.setattr(worker, "read_apart", read)
    made = Model()
    made.room()
    return made


@pytest.fixture
def model(empty_room: Model) -> Model:
    """Return a room with a board, and read it in this process."""
    board(empty_room)
    return empty_room
