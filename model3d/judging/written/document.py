"""A judgement as plain data: millimetres, rounded once, so that bytes stay the same."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from model3d.judging.results import ANGLE

if TYPE_CHECKING:
    from model3d.judging.results import Intrusion, Judgement, Sizes, Way


def plain(judgement: Judgement) -> dict[str, Any]:
    """Return a judgement as the contract writes it."""
    found: dict[str, Any] = {
        "requirement": judgement.requirement,
        "subject": judgement.subject,
        "leaf": judgement.leaf,
        "tier": judgement.tier,
        "side": judgement.side,
        "verdict": judgement.verdict,
        "citation": judgement.citation,
        "required": _sizes(judgement.required),
        "printed": {name: list(texts) for name, texts in judgement.printed.items()},
        "provided": _sizes(judgement.provided),
        "limit": dict(judgement.limit),
        "margin": _margin(judgement),
        "condition": judgement.condition,
        "place": None if judgement.place is None else _mm(judgement.place),
        "reason": judgement.reason,
        "exception": judgement.exception or None,
    }
    kept = {key: value for key, value in found.items() if value not in (None, {})}
    if judgement.intrusions:
        kept["intrusions"] = [_intrusion(one) for one in judgement.intrusions]
    if judgement.way is not None:
        kept["way"] = _way(judgement.way)
    return kept


def _way(way: Way) -> dict[str, Any]:
    return {
        "door": way.door,
        "points": [[_mm(x), _mm(y)] for x, y in way.points],
        "narrowest": _mm(way.narrowest),
        "at": [_mm(value) for value in way.at],
    }


def _intrusion(intrusion: Intrusion) -> dict[str, Any]:
    found: dict[str, Any] = {
        "item": intrusion.item,
        "part": intrusion.part or None,
        "volume": None
        if intrusion.volume is None
        else _zero(round(intrusion.volume, 7)),
        "low": [_mm(value) for value in intrusion.low],
        "high": [_mm(value) for value in intrusion.high],
        "reach": None if intrusion.reach is None else _mm(intrusion.reach),
    }
    return {key: value for key, value in found.items() if value is not None}


def _margin(judgement: Judgement) -> float | None:
    if judgement.margin is None:
        return None
    if ANGLE in judgement.required:
        return _zero(round(judgement.margin, 2))
    return _mm(judgement.margin)


def _sizes(sizes: Sizes) -> dict[str, float]:
    return {
        name: _zero(round(value, 2)) if name == ANGLE else _mm(value)
        for name, value in sizes.items()
    }


def _mm(metres: float) -> float:
    """Return millimetres to the hundredth: finer than any tolerance, free of noise."""
    return _zero(round(metres * 1000, 2))


def _zero(value: float) -> float:
    """Return the value, without the sign that rounding may leave on a zero."""
    return value + 0.0
