"""The ``standclear`` command: read what is asked and call what does it.

A command is one line in COMMANDS, one function that tells its arguments, and one file
in ``viewer/cli`` that does it. That file is imported only when it runs, so that no
command pays for what the others need.
"""

from __future__ import annotations

import argparse
import sys
from dataclasses import dataclass
from importlib import import_module
from typing import TYPE_CHECKING, Final

from viewer.cli.arguments import (
    check_arguments,
    film_arguments,
    lesson_arguments,
    output_argument,
    page_arguments,
    picture_arguments,
    rules_arguments,
    serve_arguments,
    show_arguments,
)
from viewer.output.whole import emit, reader_may_leave
from viewer.wording.cleaning import clean
from viewer.wording.refusal import UnusableError, fault, refused

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

NOT_USABLE: Final = 2
"""Exit status: the input, or the command line, could not be used."""
INTERRUPTED: Final = 130
"""Exit status as a shell has it after Ctrl-C."""

_DESCRIPTION: Final = """\
Check the working space at every piece of gear in an electrical room, in three
dimensions.
"""
_STATUS: Final = """
exit status: 0 nothing is not met, 1 something is, 2 the input could not be used
"""
_EXAMPLES: Final = f"""\
examples:
  standclear check room.yaml               one room, as a table
  standclear check rooms                   every scene in a folder and below
  standclear rules nec-2023                the rules, with figures and citations
  standclear show room.yaml                the room in a window, to be turned
  standclear schema -o scene.schema.json   for an editor that helps you write

standclear COMMAND --help says more.
{_STATUS}"""
_CHECK_MORE: Final = f"""\
examples:
  standclear check room.yaml
  standclear check room.yaml --rules nec-2026 --measures either
  standclear check rooms annex.yaml --format json -o reports.jsonl

With --format json every scene is one object on a line of its own, lengths in
millimetres. If a scene cannot be used, the mistakes of all scenes are listed, a line
each, and nothing else is printed.
{_STATUS}"""
_LESSON_MORE: Final = """\
examples:
  standclear lesson scenes/lessons/three-depth-conditions.yaml
  standclear lesson scenes/lessons
  standclear lesson scenes/lessons --format json -o lessons.jsonl

Each step is applied and checked; what it says of an item must come true. With --format
json every lesson is one object on a line of its own, with a report for each step.

exit status: 0 every lesson comes out as it says, 1 one does not, 2 the input could not
be used, or has no lesson
"""
_RULES_MORE: Final = """\
examples:
  standclear rules                 the rule books
  standclear rules osha-1910       every rule with what this book prints
  standclear rules my-city.toml    the same as a local amendment changes it
"""
_SHOW_MORE: Final = """\
examples:
  standclear show room.yaml

Turn the room with the mouse, step through the judgements and the lesson by keys, click
a number or a thing, hide layers, cut the room open. Press K for the keys. Nothing is
moved here: to move things, and to keep what you move, use `standclear serve`.
"""
_PICTURE_MORE: Final = """\
examples:
  standclear picture room.yaml -o room.png
  standclear picture room.yaml -o lp1.png --of LP1 --from south-east
  standclear picture room.yaml -o small.png --size 900x600
  standclear picture lesson.yaml -o step-3.png --step 3
"""
_FILM_MORE: Final = """\
examples:
  standclear film room.yaml -o turn.gif
  standclear film room.yaml -o door.gif --door PCP1:1
  standclear film room.yaml -o lesson.webp --lesson
"""
_PAGE_MORE: Final = """\
examples:
  standclear page room.yaml -o room.html
  standclear page room.yaml -o room.html --still

The page is one file that needs no network: turn the room, pick a finding, cut it open,
play the lesson. The same scene gives the same bytes.
"""
_SERVE_MORE: Final = """\
examples:
  standclear serve room.yaml
  standclear serve room.yaml --port 8017 --no-browser

Only this computer can reach it, at an address with a secret in it. Drag an item or type
its place, and the room is checked again; undo; save into the scene file, whose comments
stay. The page follows when the file is edited elsewhere.
"""


@dataclass(frozen=True, slots=True)
class Command:
    """A subcommand.

    Attributes:
        name: The word for it, and the name of its file in ``viewer/cli``.
        about: What it does, in a line.
        arguments: Tells the parser what it takes.
        more: What its help says at the end.
    """

    name: str
    about: str
    arguments: Callable[[argparse.ArgumentParser], None]
    more: str = ""

    def run(self, arguments: argparse.Namespace) -> int:
        """Do it and return the exit status."""
        does: Callable[[argparse.Namespace], int]
        does = import_module(f"viewer.cli.{self.name}").run
        return does(arguments)


COMMANDS: Final = (
    Command("check", "Judge scenes by every rule.", check_arguments, _CHECK_MORE),
    Command("lesson", "Run lessons, step by step.", lesson_arguments, _LESSON_MORE),
    Command("rules", "Show the rule books and rules.", rules_arguments, _RULES_MORE),
    Command("show", "Open a window with a room.", show_arguments, _SHOW_MORE),
    Command("picture", "Draw a room, or one item.", picture_arguments, _PICTURE_MORE),
    Command("film", "Make a film of a room.", film_arguments, _FILM_MORE),
    Command(
        "page", "Write a room as one file for any browser.", page_arguments, _PAGE_MORE
    ),
    Command(
        "serve", "Work on a room live in the browser.", serve_arguments, _SERVE_MORE
    ),
    Command("schema", "Print the JSON Schema of the scene file.", output_argument),
)
"""Every subcommand, in the order of the help."""


def main(argv: Sequence[str] | None = None) -> int:
    """Run a command line and return the exit status; nothing is raised."""
    try:
        parser = _parser()
        arguments = parser.parse_args(argv)
        command: Command | None = arguments.command
        if command is None:
            parser.print_help(sys.stderr)
            return NOT_USABLE
        return command.run(arguments)
    except SystemExit as done:  # help and version, or a command line with mistakes
        with reader_may_leave():
            sys.stdout.flush()
        return done.code if isinstance(done.code, int) else NOT_USABLE
    except UnusableError as error:
        return _not_usable(error.mistakes)
    except KeyboardInterrupt:
        return INTERRUPTED
    except OSError as error:
        return _not_usable([f"standclear: {refused(error)}"])
    except Exception as error:  # noqa: BLE001 - a person is never shown a traceback
        return _not_usable([f"standclear: {fault(error)}"])


def _parser() -> argparse.ArgumentParser:
    plain = argparse.RawDescriptionHelpFormatter
    parser = argparse.ArgumentParser(
        prog="standclear",
        description=_DESCRIPTION,
        epilog=_EXAMPLES,
        formatter_class=plain,
    )
    parser.add_argument(
        "--version", action=_Version, nargs=0, help="show the version and exit"
    )
    parser.set_defaults(command=None)
    commands = parser.add_subparsers(metavar="COMMAND")
    for command in COMMANDS:
        one = commands.add_parser(
            command.name,
            help=command.about,
            description=command.about,
            epilog=command.more,
            formatter_class=plain,
        )
        command.arguments(one)
        one.set_defaults(command=command)
    return parser


class _Version(argparse.Action):
    """Prints the version, which is looked for only when it is asked for."""

    def __call__(self, parser: argparse.ArgumentParser, *_: object) -> None:
        metadata = import_module("importlib.metadata")
        try:
            version = metadata.version("standclear")
        except metadata.PackageNotFoundError:
            version = "(not installed)"
        emit(f"standclear {version}\n")
        parser.exit()


def _not_usable(mistakes: Iterable[str]) -> int:
    """Print a line a mistake and return the exit status."""
    for mistake in mistakes:
        print(clean(mistake), file=sys.stderr)
    return NOT_USABLE
