"""Print the JSON Schema of the scene file."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Final

from viewer.cli.given.arguments import output_argument
from viewer.output.whole import emit

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace

RANK: Final = 14


def take(parser: ArgumentParser) -> None:
    """Take a file to write to."""
    output_argument(parser)


def run(arguments: Namespace) -> int:
    """Write the schema and return the exit status.

    Raises:
        OSError: The output cannot be written.
    """
    from model3d.scene.text.schema import json_schema

    text = json.dumps(json_schema(), indent=2, ensure_ascii=False)
    emit(f"{text}\n", arguments.output, exact=True)
    return 0
