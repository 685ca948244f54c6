"""What the tests of the example rooms share."""

from __future__ import annotations

import pytest


@pytest.fixture
def update_golden(request: pytest.FixtureRequest) -> bool:
    """Tell whether the golden results are to be written again."""
    return bool(request.config.getoption("--update-golden"))
