"""What all tests share."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import pytest


def pytest_addoption(parser: pytest.Parser) -> None:
    """Take ``--update-golden``, which writes the golden results again."""
    parser.addoption(
        "--update-golden",
        action="store_true",
        help="write the results of the example rooms again",
    )
