"""What could not be read, as a scene lists it: no scene can show it, so it is named."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterable

    from numpy.typing import NDArray

    Points = NDArray[np.float64]

_MOST: Final = 100
"""So many are named in a scene, the nearest first; the others are counted."""
_LONGEST: Final = 100
"""Characters of a name."""


def listed_unread(
    found: Iterable[tuple[Points | None, dict[str, Any]]],
    low: Points,
    high: Points,
    whole: str,
) -> list[dict[str, Any]]:
    """Return what could not be read, the nearest to a room first.

    Args:
        found: Where each is, in as many axes as the room's corners; None where nobody
            knows, which is taken for nearest. And what the scene says of it.
        low: The lowest corner of the room.
        high: The highest.
        whole: What they are of: ``"model"``.
    """

    def aside(one: tuple[Points | None, dict[str, Any]]) -> float:
        at = one[0]
        if at is None:
            return -1.0
        return float(np.linalg.norm(np.maximum(0.0, np.maximum(low - at, at - high))))

    entries = [entry for _, entry in sorted(found, key=aside)]
    listed = [{**entry, "name": entry["name"][:_LONGEST]} for entry in entries[:_MOST]]
    if more := sum(entry.get("count", 1) for entry in entries[_MOST:]):
        listed.append({"name": f"others of the {whole}", "count": more})
    return listed
