"""The JSON schema, held against a validator of its own: the jsonschema package."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest
from jsonschema import Draft202012Validator

from model3d.scene.kinds import KINDS
from model3d.scene.text.composing.composer import compose
from model3d.scene.text.composing.nodes import NotReadError
from model3d.scene.text.reader import read_scene
from model3d.scene.text.schema import json_schema

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

SCHEMA = json_schema()
VALIDATOR = Draft202012Validator(SCHEMA)
BEYOND = {
    # What no schema can say: it holds across the file, or is below the values.
    *("alias-as-key", "duplicate-keys", "empty-key", "ids-again", "installed-time"),
    "ids-unseen",
    *(
        "points-none-count",
        "list-as-key",
        "merge-key",
        "numbers-as-ids-twice",
        "outline-clockwise",
    ),
    *("outline-crossing", "outline-flat", "outline-repeated", "tag-of-list"),
    *("tag-python", "ids-reserved-outline", "use-misspelt", "rules-file"),
    *("rules-outside", "run-ends-equal", "wall-nowhere", "wall-of-outline"),
    *("wall-open", "number-endless", "support-circle", "support-circle-long"),
    *("support-unknown", "support-without-footprint", "keys-of-gear"),
    *("keys-of-batteries", "doors-past-the-front", "tiers-thick-shelf"),
    *("gear-without-size", "outline-many-walls", "support-without-place"),
    *("keys-where-they-mean-nothing", "stated-where-it-means-nothing"),
}


def _value(path: Path) -> Any:  # noqa: ANN401 - any YAML
    node, _ = compose(path.read_text(encoding="utf-8"))
    return None if node is None else node.value


def _objects(schema: object) -> Iterator[dict[str, Any]]:
    if isinstance(schema, dict):
        if "properties" in schema and "type" in schema:
            yield schema
        for part in schema.values():
            yield from _objects(part)
    elif isinstance(schema, list):
        for part in schema:
            yield from _objects(part)


@pytest.mark.long
def test_it_is_a_schema() -> None:
    Draft202012Validator.check_schema(SCHEMA)
    assert json.loads(json.dumps(SCHEMA)) == SCHEMA
    assert SCHEMA["$schema"] == "https://json-schema.org/draft/2020-12/schema"


def test_every_field_has_its_description() -> None:
    objects = [*_objects(SCHEMA)]
    assert len(objects) > 15
    for schema in objects:
        assert schema["description"]
        for name, field in schema["properties"].items():
            text = field.get("description", "")
            assert text.endswith("."), f"{schema['description']} {name}: {text!r}"
            assert text[0].isupper() or text[0].islower()


def test_keys_are_as_written_in_files() -> None:
    item = SCHEMA["$defs"]["Item"]["properties"]
    assert {"from", "to", "place", "working_space"} <= item.keys()
    assert "from_" not in item
    for form in SCHEMA["$defs"]["SetItem"]["anyOf"]:
        assert "fields" not in form["properties"]
    assert "from" in SCHEMA["$defs"]["Look"]["properties"]


def test_kinds_are_listed_with_what_they_are() -> None:
    kind = SCHEMA["$defs"]["Item"]["properties"]["kind"]
    assert kind["enum"] == [*KINDS]
    assert kind["enumDescriptions"] == [row.about for row in KINDS.values()]


def test_nothing_may_be_null_but_what_set_takes_away() -> None:
    def nulls(schema: object, where: str = "") -> Iterator[str]:
        if isinstance(schema, dict):
            if schema.get("type") == "null":
                yield where
            for key, part in schema.items():
                yield from nulls(part, f"{where}/{key}")
        elif isinstance(schema, list):
            for part in schema:
                yield from nulls(part, where)

    places = [*nulls(SCHEMA)]
    assert places
    assert all(place.startswith("/$defs/SetItem/") for place in places)


def test_good_scenes_are_good(good: Path) -> None:
    errors = [error.message for error in VALIDATOR.iter_errors(_value(good))]
    assert errors == []


def test_written_scenes_are_good(good: Path) -> None:
    scene = read_scene(good)
    written = json.loads(scene.model_dump_json(by_alias=True, exclude_unset=True))
    assert [*VALIDATOR.iter_errors(written)] == []


def test_most_broken_scenes_are_not(broken: Path) -> None:
    try:
        value = _value(broken)
    except NotReadError:
        return
    assert VALIDATOR.is_valid(value) == (broken.stem in BEYOND)


def test_most_is_most(good_folder: Path) -> None:
    names = {path.stem for path in (good_folder.parent / "broken").glob("*.yaml")}
    assert names >= BEYOND
    assert len(BEYOND) < len(names) / 2


@pytest.mark.parametrize(
    "length",
    ["30 in", "6 ft 6 1/2 in", "6'-6 1/2\"", "762 mm", 762, "762", "+1 m", ".5 in"],
)
def test_lengths_as_they_are_written(length: float | str) -> None:
    for name in ("Length", "PositiveLength", "Distance"):
        schema = {"$ref": f"#/$defs/{name}", "$defs": SCHEMA["$defs"]}
        assert Draft202012Validator(schema).is_valid(length)


@pytest.mark.parametrize("length", ["", "30 cm", "long", True, None, "1 2", "m"])
def test_what_is_no_length(length: object) -> None:
    schema = {"$ref": "#/$defs/Length", "$defs": SCHEMA["$defs"]}
    assert not Draft202012Validator(schema).is_valid(length)
    for name, bad in (("PositiveLength", 0), ("Distance", -1), ("Distance", "-1 in")):
        schema = {"$ref": f"#/$defs/{name}", "$defs": SCHEMA["$defs"]}
        assert not Draft202012Validator(schema).is_valid(bad)
