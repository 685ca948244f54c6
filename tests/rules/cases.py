"""Read the cases of a rule: scenes in the product's own format with their answers.

A case file is named after its rule and holds ``bases`` (whole scenes by name) and
``cases``. A case has

- ``name``: a sentence, ``source``: where the answer comes from, ``kind``: one of KINDS;
- ``scene``: a whole scene, or ``from``: a base, then ``with``: top-level keys to
  change (a mapping is changed key by key, ``null`` takes a key away), ``items``:
  changed key by key where the id is known, added where it is new, and ``without``:
  ids to take away;
- ``for-each``: names with values; the case is repeated for each, and ``$name`` stands
  for the value;
- ``expect``: by subject the judgement, a list of judgements, or ``none``.

``never`` at the top of a file says why a rule has no case of some kind.
"""

from __future__ import annotations

import copy
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import product
from pathlib import Path
from typing import Any, Final

import yaml

Plain = dict[str, Any]

FOLDER: Final = Path(__file__).parent
LOADER: Final = yaml.CSafeLoader if yaml.__with_libyaml__ else yaml.SafeLoader
KINDS: Final = (
    "met",
    "at-the-limit",
    "past-by-1-mm",
    "not-applicable",
    "open",
    "not-met",
)
NEEDED: Final = KINDS[:5]
"""The kinds that every rule has at least one case of."""
_FILE_KEYS: Final = {"bases", "cases", "never"}
_CASE_KEYS: Final = {
    *("name", "source", "kind", "scene", "from", "with", "items", "without"),
    *("for-each", "expect"),
}


@dataclass(frozen=True, slots=True)
class Case:
    """One scene and what is expected of it.

    Attributes:
        rule: The requirement asked about.
        name: A sentence.
        kind: One of KINDS.
        scene: As a scene file holds it.
        expect: By subject, the judgements expected; an empty list for none.
    """

    rule: str
    name: str
    kind: str
    scene: Plain
    expect: dict[str, list[Plain]]


@dataclass(frozen=True, slots=True)
class CaseFile:
    """All cases of one rule.

    Attributes:
        rule: The requirement they are about.
        cases: In the order of the file.
        never: Kinds that the rule has no case of, with the reason.
    """

    rule: str
    cases: tuple[Case, ...]
    never: dict[str, str]


def case_files() -> list[CaseFile]:
    """Return every case file of the folder, by name."""
    return [read_cases(path) for path in sorted(FOLDER.glob("*.yaml"))]


def read_cases(path: Path) -> CaseFile:
    """Read one case file.

    Raises:
        ValueError: A key is not known, or a case is not whole.
    """
    content = yaml.load(path.read_text(encoding="utf-8"), LOADER)  # noqa: S506 - safe
    _known(content, _FILE_KEYS, path.name)
    bases = content.get("bases", {})
    cases = tuple(
        case
        for written in content["cases"]
        for case in _cases(path.stem, written, bases)
    )
    return CaseFile(path.stem, cases, content.get("never", {}))


def _cases(rule: str, written: Plain, bases: Plain) -> Iterator[Case]:
    name = written["name"]
    _known(written, _CASE_KEYS, name)
    if written["kind"] not in KINDS or not written["source"]:
        msg = f"{name}: a kind of {KINDS} and a source are needed"
        raise ValueError(msg)
    loops = written.get("for-each", {})
    for values in product(*loops.values()):
        chosen = dict(zip(loops, values, strict=True))
        filled = _filled(written, chosen)
        expect = {who: _listed(found) for who, found in filled["expect"].items()}
        if not all("verdict" in one for found in expect.values() for one in found):
            msg = f"{name}: every judgement expected has a verdict"
            raise ValueError(msg)
        label = ", ".join(str(value) for value in values)
        yield Case(
            rule,
            f"{name} ({label})" if label else name,
            written["kind"],
            _scene(filled, bases),
            expect,
        )


def _listed(found: Any) -> list[Plain]:  # noqa: ANN401 - whatever is written
    if found == "none":
        return []
    return found if isinstance(found, list) else [found]


def _scene(written: Plain, bases: Plain) -> Plain:
    scene: Plain = copy.deepcopy(written.get("scene") or bases[written["from"]])
    scene.setdefault("title", written["name"])
    for key, value in written.get("with", {}).items():
        scene[key] = _changed(scene.get(key), value)
    without = written.get("without", [])
    items = {item["id"]: item for item in scene.get("items", [])}
    for gone in without:
        del items[gone]
    for item in written.get("items", []):
        items[item["id"]] = _changed(items.get(item["id"]), item)
    scene["items"] = list(items.values())
    return {key: value for key, value in scene.items() if value is not None}


def _changed(old: Any, new: Any) -> Any:  # noqa: ANN401 - whatever is written
    if not isinstance(old, Mapping) or not isinstance(new, Mapping):
        return copy.deepcopy(new)
    both = {**old, **copy.deepcopy(new)}
    return {key: value for key, value in both.items() if value is not None}


def _filled(value: Any, chosen: Plain) -> Any:  # noqa: ANN401 - whatever is written
    """Put chosen values in place of their names, everywhere."""
    match value:
        case str() if value.startswith("$"):
            return chosen[value[1:]]
        case list():
            return [_filled(one, chosen) for one in value]
        case dict():
            return {key: _filled(one, chosen) for key, one in value.items()}
        case _:
            return value


def _known(written: Plain, keys: set[str], name: str) -> None:
    unknown = set(written) - keys
    if unknown:
        msg = f"{name}: {sorted(unknown)} is none of {sorted(keys)}"
        raise ValueError(msg)
