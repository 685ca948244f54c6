"""One kind of remedy, one file; this folder is the list of kinds.

A kind has ``families``, which yields for a judgement that is not met the changes that
may put it right, as families of one amount each. Nothing here is proved.
"""

from __future__ import annotations

import importlib
import pkgutil
from functools import cache
from typing import TYPE_CHECKING, Protocol, cast

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.judging.results import Judgement
    from model3d.mending.proof.remedy import Bench
    from model3d.mending.proof.search import Family


class RemedyKind(Protocol):
    """What every kind of remedy offers."""

    def families(self, judged: Judgement, bench: Bench) -> Iterator[Family]:
        """Yield families of changes that may put a judgement right."""


@cache
def all_kinds() -> tuple[RemedyKind, ...]:
    """Return every kind of the folder, by name."""
    names = sorted(found.name for found in pkgutil.iter_modules(__path__))
    return tuple(
        cast("RemedyKind", importlib.import_module(f"{__name__}.{name}"))
        for name in names
    )
