"""A way too narrow for anybody is a way of no points, and no error."""

from __future__ import annotations

from typing import Any, cast

import pytest

from model3d.egress.ground.floor import CONTACT
from model3d.egress.route.path import Trip
from model3d.geometry.plan import flat


@pytest.mark.parametrize("width", [0.0, CONTACT / 2, CONTACT, 0.009])
def test_a_chink_no_wider_than_contact_has_no_points(width: float) -> None:
    nothing = cast("Any", None)
    trip = Trip(nothing, flat.Point(0.0, 0.0), (0.0, 0.0), width, 0.61, nothing)

    assert trip._points() == ()  # noqa: SLF001 - what is drawn is decided there
