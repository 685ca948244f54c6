"""What all tests share."""

from __future__ import annotations

import pytest


def pytest_addoption(parser: pytest.Parser) -> None:
    """Take ``--update-golden``, which writes the golden results again."""
    parser.addoption(
        "--update-golden",
        action="store_true",
        help="write the results of the example rooms, and README's output, again",
    )


@pytest.fixture
def update_golden(request: pytest.FixtureRequest) -> bool:
    """Tell whether the golden results are to be written again."""
    return bool(request.config.getoption("--update-golden"))
