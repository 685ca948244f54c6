"""What can be used of a part in which something is wrong."""

from copy import copy
from functools import cache
from types import UnionType
from typing import (
    Annotated,
    Any,
    TypeVar,
    Union,
    cast,
    get_args,
    get_origin,
    get_type_hints,
)

from pydantic import Discriminator, Tag, ValidationError, create_model

from model3d.scene.faults.explanation import explained
from model3d.scene.parts.part import Part
from model3d.scene.words.mistakes import Found

P = TypeVar("P", bound=Part)


def usable(
    part: type[P], data: object, context: object = None
) -> tuple[P, list[Found]]:
    """Return a part as it is written, and the mistakes that its values show.

    What is right in it has its type. What is wrong stands as it was written, but for
    a list or a mapping of parts, of which a value of another kind leaves nothing.
    What is missing is None. Keys that are not known count among those that are set.
    """
    try:
        return part.model_validate(data, context=context, by_name=False), []
    except ValidationError as error:
        return _salvaged(part, data, context), explained(error, part, data)


def _salvaged(part: type[P], data: object, context: object) -> P:
    fields = part.model_fields.items()
    names = {field.alias or name: name for name, field in fields}
    written = data if isinstance(data, dict) else {}
    written = {key: value for key, value in written.items() if value is not None}
    known = {key: value for key, value in written.items() if key in names}
    right = _right(optional(part), known, context)
    forms = hints_of(part)
    values: dict[str, Any] = {
        name: None for name, field in fields if field.is_required()
    }
    for key, value in known.items():
        name = names[key]
        is_right = name in right.model_fields_set
        rest = getattr(right, name) if is_right else _rest(forms[name], value, context)
        values[name] = rest
    said = {names.get(key) or key for key in written}
    return cast("P", part.model_construct(_fields_set=said, **values))


def _right(part: type[Part], known: dict[str, Any], context: object) -> Part:
    """Return a part of those of some values that are right."""
    try:
        return part.model_validate(known, context=context, by_name=False)
    except ValidationError as error:
        wrong = {detail["loc"][0] for detail in error.errors(include_input=False)}
    right = {key: value for key, value in known.items() if key not in wrong}
    return part.model_validate(right, context=context, by_name=False)


@cache
def hints_of(part: type[Part]) -> dict[str, Any]:
    """Return the types of a part's fields by their names, notes included."""
    return get_type_hints(part, include_extras=True)


@cache
def optional(part: type[Part]) -> type[Part]:
    """Return a model of the same fields, none of which need be there."""
    fields: dict[str, Any] = {}
    for name, field in part.model_fields.items():
        free = copy(field)
        free.default, free.default_factory = None, None
        fields[name] = (field.annotation, free)
    return create_model(part.__name__, __base__=Part, **fields)


def _rest(form: Any, value: Any, context: object) -> Any:  # noqa: ANN401 - any type
    """Return what is left of a value that is not right for a type."""
    if isinstance(form, type) and issubclass(form, Part):
        if not isinstance(value, dict):
            return value
        return usable(form, value, context)[0]
    first, *others = get_args(form) or (None,)
    origin = get_origin(form)
    if origin is Annotated:
        return _rest(chosen(first, others, value), value, context)
    if origin in (Union, UnionType):
        return _rest(first, value, context)
    if origin is tuple and others == [...]:
        parts = value if isinstance(value, list | tuple) else ()
        return tuple(_rest(first, one, context) for one in parts)
    if origin is dict and not isinstance(value, dict):
        return {}
    return value


def chosen(form: Any, notes: list[Any], value: object) -> Any:  # noqa: ANN401
    """Return the one of a type's forms that is meant by a value."""
    for note in notes:
        if isinstance(note, Discriminator) and callable(note.discriminator):
            tag = Tag(str(note.discriminator(value)))
            return next((one for one in get_args(form) if tag in get_args(one)), None)
    return form
