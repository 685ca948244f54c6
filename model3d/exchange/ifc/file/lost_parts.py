"""Of which elements the library could not make a part, by what it tells of its work.

It tells that in a log alone: by the GlobalId of an element, or by the solid that it
could not make, wherever in the model that is used.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from collections.abc import Iterator

_ENTRY: Final = re.compile(r"^\[error\](.*(?:\n(?!\[).*)*)", re.MULTILINE)
_GUID: Final = re.compile(r"\{([\w$]{22})\}")
_NUMBER: Final = re.compile(r"^#(\d{1,12})=", re.MULTILINE)
_CUT_AWAY: Final = "DIFFERENCE"


def in_faults(model: Any, log: str) -> set[int]:
    """Return the numbers of the products of which a part may be lost.

    Args:
        model: The library's own.
        log: What the library told while it made the shapes.
    """
    guids: set[str] = set()
    numbers: set[int] = set()
    for entry in _ENTRY.findall(log):
        guids.update(_GUID.findall(entry))
        numbers.update(map(int, _NUMBER.findall(entry)))
    found = {one.id() for one in _users(model, numbers)}
    if guids:
        found |= {
            one.id() for one in model.by_type("IfcProduct") if one.GlobalId in guids
        }
    return found


def _users(model: Any, numbers: set[int]) -> Iterator[Any]:
    """Yield the products that have some entities in their shapes."""
    waiting, seen = [], set(numbers)
    for number in sorted(numbers):
        try:
            waiting.append(model.by_id(number))
        except RuntimeError:
            continue  # the log tells of what was made on the way too
    while waiting:
        here = waiting.pop()
        if here.is_a("IfcProduct"):
            yield here
            continue
        if here.is_a("IfcRelationship"):
            continue
        for above in model.get_inverse(here):
            if above.id() not in seen and not _is_cut_by(above, here):
                seen.add(above.id())
                waiting.append(above)


def _is_cut_by(above: Any, here: Any) -> bool:
    """Tell whether a body only lacks what was to be cut away from it: it is no less."""
    return bool(
        above.is_a("IfcBooleanResult")
        and above.Operator == _CUT_AWAY
        and above.SecondOperand == here
        and above.FirstOperand != here
    )
