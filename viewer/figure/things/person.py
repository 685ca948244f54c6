"""A person of ordinary height, to show how much room there is."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

import numpy as np

if TYPE_CHECKING:
    from viewer.figure.drafting.hidden_lines import Points

TALL: Final = 1.75
"""Metres. The middle of adults' stature in the open tables of ISO 7250-2."""

_HALF: Final = (
    (0.00, 0.00), (0.15, 0.00), (0.15, 0.03), (0.10, 0.07), (0.13, 0.45), (0.17, 0.80),
    (0.20, 0.78), (0.235, 0.78), (0.225, 1.10), (0.225, 1.36), (0.20, 1.43),
    (0.07, 1.49), (0.06, 1.53), (0.09, 1.58), (0.095, 1.66), (0.07, 1.73), (0.00, 1.75),
)  # fmt: skip
"""The right half of a person from in front: metres right and up."""

_PROFILE: Final = (
    (-0.11, 0.00), (0.15, 0.00), (0.15, 0.04), (0.02, 0.09), (0.05, 0.45), (0.08, 0.85),
    (0.30, 1.00), (0.31, 1.05), (0.12, 1.02), (0.12, 1.25), (0.10, 1.40), (0.05, 1.48),
    (0.06, 1.53), (0.11, 1.56), (0.11, 1.68), (0.05, 1.75), (-0.06, 1.74),
    (-0.10, 1.66), (-0.08, 1.55), (-0.07, 1.48), (-0.13, 1.38), (-0.12, 1.10),
    (-0.13, 0.90), (-0.10, 0.50), (-0.11, 0.08),
)  # fmt: skip
"""A person from the side, who looks and reaches to the right."""


def from_the_back(right: float, floor: float) -> Points:
    """Return a person's outline from in front or behind, shape (n, 2), metres.

    Args:
        right: Where the middle stands.
        floor: The level of the floor.
    """
    half = np.array(_HALF)
    other = half[::-1] * (-1.0, 1.0)
    return np.asarray(np.concatenate([half, other[1:-1]]) + np.array([right, floor]))


def from_the_side(right: float, floor: float) -> Points:
    """Return a person's outline from the side, looking to the right."""
    return np.asarray(np.array(_PROFILE) + np.array([right, floor]))


def from_above(right: float, up: float) -> Points:
    """Return a person's outline in plan, looking up the paper."""
    angles = np.linspace(0.0, 2 * math.pi, 24, endpoint=False)
    shoulders = np.column_stack([0.235 * np.cos(angles), 0.13 * np.sin(angles)])
    return np.asarray(shoulders + np.array([right, up]))


def head_from_above(right: float, up: float) -> Points:
    """Return the outline of a person's head in plan."""
    angles = np.linspace(0.0, 2 * math.pi, 20, endpoint=False)
    return np.column_stack(
        [right + 0.08 * np.cos(angles), up + 0.02 + 0.1 * np.sin(angles)]
    )
