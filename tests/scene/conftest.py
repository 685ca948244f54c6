"""The sample scenes, as fixtures."""

from __future__ import annotations

from pathlib import Path

import pytest

HERE = Path(__file__).parent


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """Run a test that asks for one over every good, or every broken, sample."""
    if "good" in metafunc.fixturenames:
        files = [p for p in (HERE / "good").iterdir() if p.suffix in {".yaml", ".json"}]
        metafunc.parametrize("good", sorted(files), ids=lambda path: path.stem)
    if "broken" in metafunc.fixturenames:
        files = [*(HERE / "broken").glob("*.yaml")]
        metafunc.parametrize("broken", sorted(files), ids=lambda path: path.stem)


@pytest.fixture(scope="session")
def good_folder() -> Path:
    """Return the folder of the good samples, with the files they name."""
    return HERE / "good"
