"""Compare the judgements of a report with what a case expects of them."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

Plain = dict[str, Any]

CLOSE: Final = 0.02
"""Millimetres, or degrees: twice what a many-sided run may differ from the round."""
_SMALLEST: Final = 1e-6
"""Cubic metres, of an intersection's volume; the report gives a tenth of it."""


def differences(expected: Plain, found: Plain) -> list[str]:
    """Return in words where a judgement is not what was expected of it.

    Raises:
        KeyError: Something is expected that no judgement has.
    """
    return [
        f"{key}: found {_shown(key, found)}, expected {wanted}"
        for key, wanted in expected.items()
        if not _COMPARE[key](wanted, found)
    ]


def missing_or_extra(expected: list[Plain], found: list[Plain]) -> Iterator[str]:
    """Yield what differs between the judgements expected of a subject and found."""
    if len(expected) != len(found):
        yield f"{len(expected)} judgements expected, found {len(found)}: {found}"
        return
    for wanted, judged in zip(expected, found, strict=True):
        for line in differences(wanted, judged):
            yield f"{line} in {judged}"


def _shown(key: str, found: Plain) -> object:
    return found.get(
        "intrusions" if key in {"reach", "volume"} else key.partition("_")[0]
    )


def _same(key: str) -> Callable[[Any, Plain], bool]:
    return lambda wanted, found: bool(found.get(key) == wanted)


def _near(key: str) -> Callable[[Any, Plain], bool]:
    def compare(wanted: float | None, found: Plain) -> bool:
        return _close(wanted, found.get(key))

    return compare


def _close(wanted: float | None, found: float | None) -> bool:
    if wanted is None or found is None:
        return wanted is found
    return math.isclose(wanted, found, rel_tol=0, abs_tol=CLOSE)


def _sizes(key: str) -> Callable[[Any, Plain], bool]:
    def compare(wanted: Plain, found: Plain) -> bool:
        sizes = found.get(key, {})
        return all(_close(size, sizes.get(name)) for name, size in wanted.items())

    return compare


def _printed(wanted: dict[str, list[str]], found: Plain) -> bool:
    printed = found.get("printed", {})
    return all(printed.get(name) == texts for name, texts in wanted.items())


def _intrusions(wanted: list[str], found: Plain) -> bool:
    return sorted(wanted) == sorted(one["item"] for one in found.get("intrusions", []))


def _of_intrusions(key: str, near: float) -> Callable[[Any, Plain], bool]:
    def compare(wanted: Plain, found: Plain) -> bool:
        by_item = {one["item"]: one.get(key) for one in found.get("intrusions", [])}
        return all(
            by_item.get(item) is not None
            and math.isclose(by_item[item], value, rel_tol=1e-4, abs_tol=near)
            for item, value in wanted.items()
        )

    return compare


def _citation(wanted: str, found: Plain) -> bool:
    return bool(found["citation"].startswith(wanted))


def _contains(wanted: str | list[str], found: Plain) -> bool:
    return all(part in found["reason"] for part in _parts(wanted))


def _lacks(wanted: str | list[str], found: Plain) -> bool:
    return not any(part in found["reason"] for part in _parts(wanted))


def _parts(wanted: str | list[str]) -> list[str]:
    return [wanted] if isinstance(wanted, str) else wanted


_COMPARE: Final[dict[str, Callable[[Any, Plain], bool]]] = {
    **{
        key: _same(key) for key in ("verdict", "leaf", "tier", "condition", "exception")
    },
    **{key: _near(key) for key in ("margin", "place")},
    **{key: _sizes(key) for key in ("required", "provided")},
    "printed": _printed,
    "citation": _citation,
    "intrusions": _intrusions,
    "reach": _of_intrusions("reach", CLOSE),
    "volume": _of_intrusions("volume", _SMALLEST),
    "reason_contains": _contains,
    "reason_lacks": _lacks,
}
