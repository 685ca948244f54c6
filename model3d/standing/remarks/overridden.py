"""Items of which the scene says otherwise what is asked, by the reason it gives."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.standing.arrangement import Arrangement


def overrides_told(arrangement: Arrangement) -> Iterator[tuple[str, str]]:
    """Yield each item without a working space, or with a stated condition, and why."""
    for placed in arrangement.items.values():
        item = placed.item
        if item is None:
            continue
        said = []
        if item.working_space == "none" and placed.kind.needs_working_space:
            said.append("No working space is asked for")
        if item.condition is not None:
            said.append(f"Condition {item.condition} is what the scene states")
        for words in said:
            yield item.id, f"{words}: {item.why}"
