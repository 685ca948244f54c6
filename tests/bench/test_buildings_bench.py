"""A small run of the measurements of building models, with room for a busy machine."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.bench.buildings import reading_against_opening

if TYPE_CHECKING:
    from pathlib import Path

pytestmark = pytest.mark.bench


def test_reading_grows_with_the_model_and_no_faster(tmp_path: Path) -> None:
    small, large = (reading_against_opening(size, tmp_path, 1) for size in (150, 600))
    assert large.reading / small.reading < 4 * 3
