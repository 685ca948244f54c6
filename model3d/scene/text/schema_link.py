"""The line of a scene that tells an editor where the schema is."""

from __future__ import annotations

import json
import re
from typing import Final

KEY: Final = "$schema"
"""The key that does the same in JSON, which has no comments; it says nothing else."""
_LINE: Final = "# yaml-language-server: $schema="
"""What the editors' language servers for YAML look for."""
_IN_JSON: Final = re.compile(r'\s*\{\s*"\$schema"\s*:\s*"(?:[^"\\]|\\.)*"\s*,?')
_BOM: Final = "\ufeff"


def linked(text: str, schema: str, *, as_json: bool = False) -> str:
    r"""Return a scene's text with a link to its schema first; the rest stays as it is.

    A link that stands there is replaced.

    >>> linked("title: A\n", "scene.schema.json")
    '# yaml-language-server: $schema=scene.schema.json\ntitle: A\n'
    >>> linked('{"title": "A"}', "s.json", as_json=True)
    '{"$schema": "s.json", "title": "A"}'
    """
    mark = _BOM if text.startswith(_BOM) else ""
    body = text.removeprefix(_BOM)
    end = "\r\n" if "\r\n" in body else "\n"
    if as_json:
        there = _IN_JSON.match(body)
        rest = body[there.end() :] if there else body.lstrip()[1:]
        comma = "" if rest.lstrip().startswith("}") else ", "
        return f'{mark}{{"{KEY}": {json.dumps(schema)}{comma}{rest.lstrip(" ")}'
    if body.startswith(_LINE):
        body = body.partition("\n")[2]
    return f"{mark}{_LINE}{schema}{end}{body}"
