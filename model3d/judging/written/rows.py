"""A report as rows of a table, one a judgement, as a data frame takes them.

Rows are made of the contract's JSON document, so that a figure is the same in both.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from model3d.wording import bracketed, part_words

if TYPE_CHECKING:
    from collections.abc import Mapping

Row = dict[str, str | float | None]

COLUMNS: Final = (
    "scene",
    "file",
    "rules",
    "subject",
    "requirement",
    "part",
    "verdict",
    "citation",
    "measure",
    "required",
    "printed",
    "provided",
    "margin",
    "reason",
    "in the way",
)
"""The columns, in their order; lengths are millimetres, angles degrees."""
_ROUNDING: Final = 0.021
"""The difference of two rounded figures, and the rounded difference, are so near."""


def rows(document: Mapping[str, Any]) -> list[Row]:
    """Return a row a judgement of a report's JSON document, in its order.

    A cell without a value is None. ``measure`` to ``margin`` are those of the size that
    falls short most, else of the one with least to spare; where nothing was measured,
    of the only one that is required.
    """
    head = {key: document[key] for key in COLUMNS[:3]}
    return [_row(one) | head for one in document["judgements"]]


def _row(judgement: Mapping[str, Any]) -> Row:
    required: Mapping[str, float] = judgement.get("required", {})
    provided: Mapping[str, float] = judgement.get("provided", {})
    printed: Mapping[str, list[str]] = judgement.get("printed", {})
    spare = _spare(required, provided, judgement.get("limit", {}))
    named = spare or required or provided
    measure = min(spare, key=lambda name: spare[name]) if spare else _only(named)
    told = printed.get(measure or "")
    in_the_way = dict.fromkeys(hit["item"] for hit in judgement.get("intrusions", ()))
    parts = (judgement.get(key) for key in ("leaf", "tier", "side"))
    found: Row = {key: judgement.get(key) for key in COLUMNS}
    return found | {
        "part": part_words(*parts) or None,
        "measure": measure,
        "required": required.get(measure or ""),
        "printed": bracketed(told) if told else None,
        "provided": provided.get(measure or ""),
        "margin": _margin(spare.get(measure or ""), judgement.get("margin")),
        "in the way": "; ".join(in_the_way) or None,
    }


def _spare(
    required: Mapping[str, float],
    provided: Mapping[str, float],
    limit: Mapping[str, str],
) -> dict[str, float]:
    """Return what is left over of each size, negative where it falls short."""
    found = {}
    for name, wanted in required.items():
        if name in provided:
            over = round(provided[name] - wanted, 2)
            found[name] = (-over if name in limit else over) + 0.0
    return found


def _only(named: Mapping[str, float]) -> str | None:
    return next(iter(named)) if len(named) == 1 else None


def _margin(spare: float | None, told: float | None) -> float | None:
    """Return the margin of a size; the judgement's own, where that is the same one."""
    if spare is None or (told is not None and abs(spare - told) < _ROUNDING):
        return told
    return spare
