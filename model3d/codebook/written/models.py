"""What stands in a table or an amendment, read by pydantic, told in our own words."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Annotated, Final, NamedTuple, TypeVar

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    StringConstraints,
    TypeAdapter,
    ValidationError,
    WrapValidator,
    model_validator,
)

from model3d.codebook.errors import BookError, refuse_unknown, wrong
from model3d.codebook.figures import MARKS, Mark, worst

if TYPE_CHECKING:
    from pydantic import ValidatorFunctionWrapHandler
    from pydantic_core import ErrorDetails

Read = TypeVar("Read")

_UNSAID = ("si", "inch_pound", "value")
"""What would be right says which of them is meant, or there is only one."""


class Written(BaseModel):
    """What is written under some words, and under no others."""

    model_config = ConfigDict(frozen=True, strict=True, defer_build=True)

    @classmethod
    @cache
    def words(cls) -> tuple[str, ...]:
        """Return the words that may stand there."""
        fields = cls.model_fields.items()
        return tuple(field.alias or name for name, field in fields)

    @model_validator(mode="before")
    @classmethod
    def _is_known(cls, raw: object) -> object:
        if isinstance(raw, dict):
            refuse_unknown(raw, cls.words())
        return raw


def right(words: str) -> WrapValidator:
    """Say what would be right where pydantic has only its own words for it."""

    def told(raw: object, handler: ValidatorFunctionWrapHandler) -> object:
        try:
            return handler(raw)
        except ValidationError as error:
            if any(one["type"] == "value_error" for one in error.errors()):
                raise
            raise wrong(raw, words) from None

    return WrapValidator(told)


def read(
    kind: TypeAdapter[Read], raw: object, where: str, context: object = None
) -> Read:
    """Return what is written, as what it must be.

    Raises:
        BookError: It is something else; all mistakes at once, a line each.
    """
    try:
        return kind.validate_python(raw, context=context)
    except ValidationError as error:
        raise BookError(*(_line(one, where) for one in error.errors())) from None


def _line(one: ErrorDetails, where: str) -> str:
    words = [
        f"row {word + 1}" if isinstance(word, int) else word
        for word in one["loc"]
        if word not in _UNSAID
    ]
    if one["type"] == "missing":
        return f"{' '.join([where, *words[:-1]])}: no {words[-1]}"
    said = one["ctx"]["error"] if one["type"] == "value_error" else one["msg"]
    return f"{' '.join([where, *words])}: {said}"


class Marks(NamedTuple):
    """How a value was checked in either system."""

    si: Mark
    inch_pound: Mark

    def under(self, limit: Marks) -> Marks:
        """Return them, but none better than its limit."""
        pairs = zip(self, limit, strict=True)
        return Marks(*(worst(pair) for pair in pairs))


def _both(raw: object) -> object:
    return raw if isinstance(raw, dict) else {"si": raw, "inch_pound": raw}


Text = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1)]
Section = Annotated[Text, right("a section, as a text")]
Reason = Annotated[Text, right("the reason, as a text")]
Checked = Annotated[Marks, BeforeValidator(_both), right(f"one of {', '.join(MARKS)}")]
CHECKED: Final = TypeAdapter(Checked)
"""What reads how something was checked: one mark, or one for each system."""
