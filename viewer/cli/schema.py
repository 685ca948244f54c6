"""``standclear schema``: print the JSON Schema of the scene file."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from model3d.scene.text.schema import json_schema
from viewer.output.whole import emit

if TYPE_CHECKING:
    from argparse import Namespace


def run(arguments: Namespace) -> int:
    """Write the schema and return the exit status.

    Raises:
        OSError: The output cannot be written.
    """
    text = json.dumps(json_schema(), indent=2, ensure_ascii=False)
    emit(f"{text}\n", arguments.output, exact=True)
    return 0
