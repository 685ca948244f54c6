"""What all tests share."""

from __future__ import annotations

import os

import pytest
from hypothesis import HealthCheck, settings

# A slow or a busy machine is no fault of what is tested, and CI tries the same
# examples every time.
settings.register_profile(
    "standclear",
    deadline=None,
    derandomize="CI" in os.environ,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("standclear")


def pytest_addoption(parser: pytest.Parser) -> None:
    """Take ``--update-golden``, which writes the golden results again."""
    parser.addoption(
        "--update-golden",
        action="store_true",
        help="write the results of the example rooms, and README's output, again",
    )


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark what opens a browser."""
    for item in items:
        if {"browser", "blind_browser"} & {*getattr(item, "fixturenames", ())}:
            item.add_marker("browser")


@pytest.fixture
def update_golden(request: pytest.FixtureRequest) -> bool:
    """Tell whether the golden results are to be written again."""
    return bool(request.config.getoption("--update-golden"))
