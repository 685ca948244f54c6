"""Where an error of the library is in a file: its places as they are written there."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final, get_args

from model3d.scene.parts.part import Part

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.scene.words.mistakes import Loc

_TAGGED: Final = ("place", "walls", "working_space", "turn", "step")
"""Fields whose errors name, after the field, which of its forms was meant."""


def written(loc: Loc) -> Loc:
    """Return the place as written: without the names of the forms of a field."""
    steps: list[str | int] = []
    forms = False
    for number, step in enumerate(loc):
        if forms or step == "[key]":
            forms = False
            continue
        steps.append(step)
        before = loc[number - 1] if number else None
        is_change = isinstance(step, int) and before == "do"
        forms = is_change or step in _TAGGED or before == "expect"
    return tuple(steps)


def keys_of(part: type[Part]) -> list[str]:
    """Return the keys that a mapping of a model may have."""
    return [field.alias or name for name, field in part.model_fields.items()]


def part_at(root: type[Part], loc: Loc) -> type[Part]:
    """Return the model that reads the mapping at ``loc``, as the library names it."""
    parts = [root]
    is_form = False
    for number, step in enumerate(loc):
        if is_form:
            # The form of a place or a change has the name of a key it alone has.
            parts = [part for part in parts if step in keys_of(part)] or parts
            is_form = False
            continue
        is_form = step in _TAGGED or (
            isinstance(step, int) and number > 0 and loc[number - 1] == "do"
        )
        if isinstance(step, str):
            parts = [
                inner
                for part in parts
                for name, field in part.model_fields.items()
                if (field.alias or name) == step
                for inner in _parts_in(field.annotation)
            ] or parts
    return parts[0]


def _parts_in(annotation: Any) -> Iterator[type[Part]]:  # noqa: ANN401 - any type
    if isinstance(annotation, type) and issubclass(annotation, Part):
        yield annotation
    for inner in get_args(annotation):
        yield from _parts_in(inner)
