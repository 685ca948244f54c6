"""What a table may say: its keys, and what each of them holds."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Annotated, Final, Literal, TypeAlias, get_args

from pydantic import Field, TypeAdapter, model_validator

from model3d.codebook.errors import BookError, refuse_unknown
from model3d.codebook.written.models import Written, read, right

if TYPE_CHECKING:
    from collections.abc import Mapping

Kind: TypeAlias = Literal["length", "number", "flag", "words", "rows"]
"""What a value can be."""

_Names = Annotated[tuple[str, ...], Field(strict=False)]
_NAME = re.compile(r"[a-z][a-z0-9_]*")
_OWN_WORDS = ("section", "checked", "absent", "as_in", "dated", "installed_before")
_NEEDS: Final[Mapping[Kind, tuple[str, ...]]] = {
    "words": ("one_of",),
    "rows": ("columns", "volts"),
}


class Key(Written):
    """One key of a table.

    Attributes:
        kind: length, number, flag, words or rows.
        about: What it means, for people.
        optional: A book may leave it out.
        apart: A rule of its own, which may stand where the main one is absent.
        unit: Unit of a number, where it has one.
        one_of: The words that may stand there.
        columns: Names of a voltage table's columns.
        volts: What the volts of a voltage table are measured between.
    """

    kind: Annotated[Kind, right(f"one of {', '.join(get_args(Kind))}")] = Field(
        alias="is"
    )
    about: str = ""
    optional: bool = False
    apart: bool = False
    unit: str = ""
    one_of: _Names = ()
    columns: _Names = ()
    volts: str = ""

    @model_validator(mode="after")
    def _is_whole(self) -> Key:
        needed = ("about", *_NEEDS.get(self.kind, ()))
        unit = ("unit",) if self.kind == "number" else ()
        known = ("kind", "optional", "apart", *needed, *unit)
        refuse_unknown(self.model_fields_set, known)
        for word in needed:
            if not getattr(self, word):
                msg = f"no {word}"
                raise BookError(msg)
        return self


_KEY = TypeAdapter(Annotated[Key, right('{ is = "length", about = "..." }')])


def read_keys(raw: object, file: str) -> dict[str, Key]:
    """Return the keys that the table ``file`` declares under [keys].

    Raises:
        BookError: [keys] is missing or one of its lines is not understood.
    """
    if not isinstance(raw, dict) or not raw:
        msg = f"{file}: no [keys]; right would be one line a key, with is and about"
        raise BookError(msg)
    keys = {}
    for name, line in raw.items():
        where = f"{file}: [keys] {name}"
        if not _NAME.fullmatch(name) or name in _OWN_WORDS:
            right_name = "small letters, digits and _, and no word of the format"
            msg = f"{where}: a key is {right_name}"
            raise BookError(msg)
        keys[name] = read(_KEY, line, where)
    return keys
