"""Which elements of a model are gear of which something is asked, schema by schema."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from model3d.exchange.ifc.gear.classes import LEFT_OUT
from model3d.scene.kinds import KINDS

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from model3d.exchange.ifc.gear.classes import ClassRow

_TYPE: Final = "Type"


@dataclass(frozen=True, slots=True)
class Asked:
    """Elements of which the same is asked.

    Attributes:
        title: What they are called.
        classes: Of the elements, in capitals. Where a schema has a class for types
            alone, its name without the last word is that of the elements whose type it
            is (IDS 1.0, table of types and occurrences of IFC2X3).
        predefined: Predefined types; none for all.
        words: One of these stands in their names, in any letters; none for all.
    """

    title: str
    classes: tuple[str, ...]
    predefined: tuple[str, ...] = ()
    words: tuple[str, ...] = ()


def asked_of(schema: str, rows: Sequence[ClassRow]) -> Iterator[Asked]:
    """Yield what is gear in a schema: by its class, by its type's, by its name.

    Raises:
        ImportError: ifcopenshell is not here, which knows the classes of each schema.
    """
    from ifcopenshell import schema_by_name

    declared = sorted(schema_by_name(schema).entities(), key=_name)
    usual = [row for row in rows if not (row.words or row.system or row.guid)]
    by_class = [row for row in usual if row.of_class and not row.of_type]
    for one in declared:
        if not one.is_abstract() and "IfcElement" in _line(one):
            yield from _asked(_name(one), one, by_class)
    names = {_name(one) for one in declared}
    by_type = [row for row in usual if row.of_type and not row.of_class]
    for one in declared:
        occurrence = _name(one).removesuffix(_TYPE)
        if "IfcElementType" in _line(one) and occurrence not in names:
            yield from _asked(occurrence, one, by_type)
    yield from _named(declared, rows)


def _asked(title: str, declared: Any, rows: Sequence[ClassRow]) -> Iterator[Asked]:
    """Yield a class, with its predefined types where only some of them are gear."""
    classes, known = _line(declared), _predefined(declared)
    gear = tuple(one for one in known if _is_gear(classes, one, rows))
    whole = _is_gear(classes, "", rows)
    if gear and not (whole and len(gear) == len(known)):
        yield Asked(title, (title.upper(),), gear)
    elif gear or (whole and not known):
        yield Asked(title, (title.upper(),))


def _named(declared: Sequence[Any], rows: Sequence[ClassRow]) -> Iterator[Asked]:
    """Yield what is gear by its name.

    No pattern says what must not stand in a name: a word is left out that an earlier
    row has as a part of what is no gear.
    """
    for place, row in enumerate(rows):
        if not row.words or not _means_gear(row):
            continue
        if row.of_type or row.predefined or row.system or row.guid:
            continue
        others = [one for one in rows[:place] if not _means_gear(one)]
        barred = [word for one in others for word in one.words]
        words = tuple(
            word for word in row.words if not any(word in one for one in barred)
        )
        wholly = [one for one in others if _is_by_class_alone(one)]
        classes = tuple(
            _name(one).upper()
            for one in declared
            if not one.is_abstract()
            and "IfcElement" in (line := _line(one))
            and (not row.of_class or any(name in line for name in row.of_class))
            and not any(name in line for other in wholly for name in other.of_class)
        )
        if words and classes:
            yield Asked(f"named {' or '.join(words)}", classes, words=words)


def _is_by_class_alone(row: ClassRow) -> bool:
    return not (row.of_type or row.predefined or row.words or row.system or row.guid)


def _means_gear(row: ClassRow) -> bool:
    return row.kind != LEFT_OUT and (
        KINDS[row.kind].needs_working_space and KINDS[row.kind].associated
    )


def _name(declared: Any) -> str:
    return str(declared.name())


def _line(declared: Any) -> tuple[str, ...]:
    names = []
    while declared is not None:
        names.append(_name(declared))
        declared = declared.supertype()
    return tuple(names)


def _predefined(declared: Any) -> tuple[str, ...]:
    for one in declared.all_attributes():
        if one.name() == "PredefinedType":
            listed = one.type_of_attribute().declared_type().enumeration_items()
            return tuple(map(str, listed))
    return ()


def _is_gear(
    classes: tuple[str, ...], predefined: str, rows: Sequence[ClassRow]
) -> bool:
    for row in rows:
        fits = any(one in classes for one in (*row.of_class, *row.of_type))
        if fits and (not row.predefined or predefined in row.predefined):
            return _means_gear(row)
    return False
