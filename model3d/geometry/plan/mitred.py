"""Shapes grown with pointed corners."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import shapely

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


def mitred(shapes: ArrayLike, by: float, **more: Any) -> Any:  # noqa: ANN401 - as shapely has it
    """Return shapes grown by a distance, metres, as ``shapely.buffer`` does it.

    Where two sides lie in one line it divides by zero, and goes on as it should: that
    is nothing to warn of.
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        return shapely.buffer(shapes, by, join_style="mitre", **more)
