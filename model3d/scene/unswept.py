"""Leave the collector of cycles alone while very much is made that stays."""

from __future__ import annotations

import gc
from contextlib import contextmanager
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator


@contextmanager
def unswept() -> Iterator[None]:
    """Do what is done within without looking for cycles that nobody holds.

    Python looks for them whenever so much more was made, and looks at all there is: of
    a room of thousands of items, which are all kept, that takes longer than to read it.
    What is in no cycle is freed as ever. What is still there at the end counts as old:
    the first look afterwards would else be at all of it, and find nothing.

    >>> with unswept():
    ...     gc.isenabled()
    False
    >>> gc.isenabled()
    True
    """
    sweeps = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if sweeps:
            if not gc.get_freeze_count():  # nobody keeps anything apart himself
                gc.freeze()
                gc.unfreeze()
            gc.enable()
