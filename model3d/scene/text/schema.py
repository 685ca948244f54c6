"""The scene file's JSON schema, for an editor that checks while a person writes.

It is made from the models and the text below their fields. It says less than the
reader, which also looks at what must fit together across the file.
"""

from __future__ import annotations

import ast
import inspect
from itertools import pairwise
from typing import TYPE_CHECKING, Any, Final

from pydantic.json_schema import GenerateJsonSchema

from model3d.codebook import BOOKS
from model3d.geometry.clouds.reader import POINT_ENDINGS
from model3d.scene.checks.files import MESH_ENDINGS
from model3d.scene.kinds import KINDS
from model3d.scene.parts.lesson import PLACES, SCENE_KEYS
from model3d.scene.parts.part import LENGTH_SCHEMAS, Part
from model3d.scene.parts.repeat import Short
from model3d.scene.parts.site import OUTDOOR
from model3d.scene.scene import Scene
from model3d.scene.text.gear_file import NOT_IN_A_TYPE
from model3d.scene.text.schema_link import KEY as LINK
from model3d.scene.words.wall_words import WALL_WORDS

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pydantic.fields import FieldInfo
    from pydantic_core import CoreSchema

Schema = dict[str, Any]

DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"
_WALL_NAME: Final = r"^(north|east|south|west|wall-[1-9][0-9]*)$"
_RESERVED: Final = r"^(floor|ceiling|room|scene|wall-(north|east|south|west))$"


def json_schema() -> Schema:
    """Return the schema of the scene file, JSON Schema draft 2020-12.

    Keys are named as in the file. An empty value (null) is no part of it, though the
    reader takes one for a key that is not written.
    """
    made: Schema = Scene.model_json_schema(
        by_alias=True, schema_generator=_WithoutTitles, mode="validation"
    )
    short: Schema = Short.model_json_schema(
        by_alias=True, schema_generator=_WithoutTitles, mode="validation"
    )
    parts: Schema = {**made.pop("$defs"), **short.pop("$defs"), Short.__name__: short}
    for part in (*parts_of(Scene), *parts_of(Short)):
        _describe(made if part is Scene else parts[part.__name__], part)
    schema = _tidied(made)
    defs = _tidied(parts)
    _tighten(schema, defs)
    defs |= LENGTH_SCHEMAS
    return {"$schema": DIALECT, **schema, "$defs": dict(sorted(defs.items()))}


class _WithoutTitles(GenerateJsonSchema):
    """The library's generator, without a title made of each field's name."""

    def field_title_should_be_set(self, schema: CoreSchema | Any) -> bool:  # noqa: ANN401 - the library's own signature
        return schema is None


def parts_of(root: type[Part]) -> Iterator[type[Part]]:
    """Yield every model of the file format that can be reached."""
    waiting: list[type[Part]] = [root]
    seen: set[type[Part]] = set()
    while waiting:
        part = waiting.pop()
        if part in seen:
            continue
        seen.add(part)
        yield part
        for field in part.model_fields.values():
            waiting += _named(field.annotation)


def _named(annotation: Any) -> Iterator[type[Part]]:  # noqa: ANN401 - any type
    if isinstance(annotation, type) and issubclass(annotation, Part):
        yield annotation
    for inner in getattr(annotation, "__args__", ()):
        yield from _named(inner)


def _describe(schema: Schema, part: type[Part]) -> None:
    schema["description"] = (inspect.getdoc(part) or "").split("\n\n")[0]
    texts = _texts(part)
    for name, field in part.model_fields.items():
        prop = schema["properties"][_key(name, field)]
        prop["description"] = texts[name]


def _key(name: str, field: FieldInfo) -> str:
    return field.alias or name


def _texts(part: type[Part]) -> dict[str, str]:
    """Return the text below each field, from the source of the model and its bases."""
    texts: dict[str, str] = {}
    for base in reversed(part.__mro__):
        if issubclass(base, Part):
            tree = ast.parse(inspect.cleandoc(f"\n{inspect.getsource(base)}"))
            body = tree.body[0]
            if isinstance(body, ast.ClassDef):
                texts |= _below_fields(body.body)
    return texts


def _below_fields(body: list[ast.stmt]) -> dict[str, str]:
    texts: dict[str, str] = {}
    for field, below in pairwise(body):
        match field, below:
            case (
                ast.AnnAssign(target=ast.Name(id=name)),
                ast.Expr(value=ast.Constant(value=str(text))),
            ):
                texts[name] = " ".join(text.split())
    return texts


def _tidied(schema: Any) -> Any:  # noqa: ANN401 - any part of a schema
    """Return a schema in which nothing may be null, and lengths are named."""
    if isinstance(schema, list):
        return [_tidied(part) for part in schema if part != {"type": "null"}]
    if not isinstance(schema, dict):
        return schema
    kept = {
        key: _tidied(part)
        for key, part in schema.items()
        if not (key == "default" and part is None)
    }
    choices = kept.get("anyOf")
    if isinstance(choices, list) and len(choices) == 1:
        del kept["anyOf"]
        return {**choices[0], **kept}
    for name, length in LENGTH_SCHEMAS.items():
        if choices == length["anyOf"]:
            del kept["anyOf"]
            return {"$ref": f"#/$defs/{name}", **kept}
    return kept


def _tighten(scene: Schema, defs: Schema) -> None:
    """Say what the models leave to the cross checks and one key can tell."""
    outdoor = {"properties": {"use": {"const": OUTDOOR}}, "required": ["use"]}
    indoor = {"required": ["room"], "properties": {"room": {"required": ["height"]}}}
    scene |= {"title": "A standclear scene", "if": outdoor, "else": indoor}
    link = {"type": "string", "description": "Where this schema is, for an editor."}
    scene["properties"][LINK] = link
    scene["properties"]["rules"] |= {
        "anyOf": [{"enum": [*BOOKS]}, {"pattern": r"\.toml$"}]
    }
    word = {"type": "string", "enum": [*WALL_WORDS]}
    each = {
        "type": "object",
        "propertyNames": {"pattern": _WALL_NAME},
        "additionalProperties": word,
    }
    walls = defs["Room"]["properties"]["walls"]
    defs["Room"]["properties"]["walls"] = {
        "anyOf": [word, each],
        "description": walls["description"],
    }
    defs["Room"]["oneOf"] = [{"required": [key]} for key in ("size", "outline")]
    for name in ("AtWall", "RoomDoor"):
        wall = defs[name]["properties"]["wall"]
        defs[name]["properties"]["wall"] = {
            "type": "string",
            "pattern": _WALL_NAME,
            "description": wall["description"],
        }
    for name in ("AtWall", "At"):
        defs[name]["not"] = {"required": ["bottom", "top"]}
    reserved = {"type": "string", "pattern": _RESERVED}
    for name in ("Item", "RoomDoor"):
        defs[name]["properties"]["id"]["not"] = reserved
    defs["Step"]["anyOf"] = [{"required": [key]} for key in ("say", "ask")]
    _tighten_item(defs["Item"])
    defs["SetItem"] = _set_item(defs["SetItem"], scene, defs)
    _shorten(scene, defs)


def _shorten(scene: Schema, defs: Schema) -> None:
    """Say what of an item may stand in its type, or be written once for several."""
    item, short = defs["Item"], defs.pop("Short")["properties"]
    # A change that sets keys of an item has those of an item written out, and no more.
    item["properties"] = {**item["properties"], **short}
    item["required"] = ["id"]
    inner = ("oneOf", "dependentRequired", "dependentSchemas", "if", "then")
    whole = {"required": ["kind"], **{key: item.pop(key) for key in inner}}
    item["anyOf"] = [{"required": ["type"]}, whole]
    kept = {
        key: said
        for key, said in item["properties"].items()
        if key not in NOT_IN_A_TYPE
    }
    defs["GearType"] = {
        "type": "object",
        "description": "What the items of one type have: their keys, but id and place.",
        "properties": kept,
        "not": item["not"],
        "additionalProperties": False,
    }
    scene["properties"]["types"]["additionalProperties"] = {"$ref": "#/$defs/GearType"}


def _tighten_item(item: Schema) -> None:
    item["properties"]["kind"]["enumDescriptions"] = [
        kind.about for kind in KINDS.values()
    ]
    for key, endings in {"mesh": MESH_ENDINGS, "points": POINT_ENDINGS}.items():
        any_case = "|".join(
            "".join(
                f"[{letter}{letter.upper()}]" if letter.isalpha() else letter
                for letter in ending.removeprefix(".")
            )
            for ending in endings
        )
        item["properties"][key]["pattern"] = rf"\.({any_case})$"
    run = {"required": ["from", "to"], "not": {"required": ["place"]}}
    item["oneOf"] = [
        {"required": ["size"]},
        {**run, "oneOf": [{"required": ["diameter"]}, {"required": ["section"]}]},
        {"required": ["mesh"], "not": {"required": ["size"]}},
        {
            "required": ["points"],
            "properties": {"kind": {"const": "obstacle"}},
            "not": {"anyOf": [{"required": [key]} for key in ("place", "size")]},
        },
    ]
    both = (["door", "doors"], ["mesh", "points"])
    item["not"] = {"anyOf": [{"required": keys} for keys in both]}
    item["dependentRequired"] = {
        "condition": ["why"],
        "handle_reach": ["handle"],
        "part": ["mesh"],
        "scanner": ["points"],
    }
    read = {"anyOf": [{"required": ["mesh"]}, {"required": ["points"]}]}
    item["dependentSchemas"] = dict.fromkeys(("scale", "units", "turn", "shift"), read)
    no_space = {"properties": {"working_space": {"const": "none"}}}
    item["if"] = {**no_space, "required": ["working_space"]}
    item["then"] = {"required": ["why"]}


def _set_item(made: Schema, scene: Schema, defs: dict[str, Schema]) -> Schema:
    """Return the schema of a change that has other keys beside ``set``."""
    name = made["properties"]["set"]
    named = {**name, "not": {"enum": [*PLACES]}}
    said = scene["properties"]
    forms = [
        (named, defs["Item"]["properties"]),
        (named, defs["RoomDoor"]["properties"]),
        ({**name, "const": "room"}, defs["Room"]["properties"]),
        ({**name, "const": "scene"}, {key: said[key] for key in SCENE_KEYS}),
    ]
    return {
        "description": made["description"],
        "anyOf": [_with_set(one, keys, made) for one, keys in forms],
    }


def _with_set(name: Schema, keys: Schema, made: Schema) -> Schema:
    fields = {
        key: {"anyOf": [prop, {"type": "null"}], "description": prop["description"]}
        for key, prop in keys.items()
        if key != "id"
    }
    return {
        "type": "object",
        "description": made["description"],
        "properties": {"set": name, **fields},
        "required": ["set"],
        "minProperties": 2,
        "additionalProperties": False,
    }
