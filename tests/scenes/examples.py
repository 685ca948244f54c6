"""The example rooms, for the tests that look at all of them."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from ruamel.yaml import YAML

from model3d import check, read_scene
from tests.paths import SCENES

if TYPE_CHECKING:
    from model3d import Report

GOLDEN: Final = Path(__file__).parent / "golden"
NAMES: Final = tuple(sorted(path.stem for path in SCENES.glob("*.yaml")))


@cache
def report(name: str) -> Report:
    """Return what the check says of an example room."""
    return check(read_scene(SCENES / f"{name}.yaml"))


def plain(name: str) -> dict[str, Any]:
    """Return an example room as JSON has it: a date is text there."""
    content = YAML(typ="safe", pure=True).load(SCENES / f"{name}.yaml")
    found: dict[str, Any] = json.loads(json.dumps(content, default=str))
    return found
