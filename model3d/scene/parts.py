"""What every written part of a scene has in common: strict keys and lengths."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

from model3d.units import check_length


class Part(BaseModel):
    """A written part of a scene: frozen, and no key that is not known."""

    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        populate_by_name=True,
        use_attribute_docstrings=True,
    )


def _any_length(value: Any) -> Any:
    return check_length(value)


def _positive_length(value: Any) -> Any:
    return check_length(value, above_zero=True)


def _not_negative_length(value: Any) -> Any:
    return check_length(value, not_below_zero=True)


Length = Annotated[float | str, BeforeValidator(_any_length)]
"""A length as written; it may be negative. A bare number is in the scene's units."""
PositiveLength = Annotated[float | str, BeforeValidator(_positive_length)]
"""A length as written, above zero."""
Distance = Annotated[float | str, BeforeValidator(_not_negative_length)]
"""A length as written, zero or more."""
Point2 = Annotated[tuple[Length, Length], Field(description="x, y")]
Point3 = Annotated[tuple[Length, Length, Length], Field(description="x, y, z")]
Size3 = Annotated[
    tuple[PositiveLength, PositiveLength, PositiveLength],
    Field(description="width, depth, height"),
]
