"""The ``standclear`` command: read what is asked and call what does it.

A command is one file in ``viewer/cli``: its docstring says what it does, ``take`` tells
what it takes, ``MORE`` ends its help, ``run`` does it. All of them are loaded for the
help, so a file loads what it needs when it runs, and none pays for the others. A word
that Python keeps for itself has an underscore behind it in the name of its file.
"""

from __future__ import annotations

import argparse
import atexit
import gc
import logging
import os
import pkgutil
import sys
import warnings
from contextlib import suppress
from functools import partial
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, NoReturn, Protocol, cast

import viewer.cli
from viewer.cli.completion import complete
from viewer.cli.given.inputs import why_kept
from viewer.cli.given.misread import misread, unknown_words
from viewer.output.outlet import emit, guarded, reader_may_leave
from viewer.portfolio.version import version
from viewer.wording.cleaning import clean
from viewer.wording.refusal import UnusableError, fault, refused

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from _typeshed import SupportsWrite

NOT_USABLE: Final = 2
"""Exit status: the input, or the command line, could not be used."""
INTERRUPTED: Final = 130
"""Exit status as a shell has it after Ctrl-C."""

_MADE_BEFORE_A_SWEEP: Final = 10_000
"""Objects, before Python looks for cycles that nobody holds."""

_DESCRIPTION: Final = """\
Check the working space at every piece of gear in an electrical room, in three
dimensions.
"""
_EXAMPLES: Final = """\
examples:
  standclear check room.yaml               one room, as a table
  standclear check rooms                   every scene in a folder and below
  standclear import LIST.csv -o room.yaml  a list of equipment as a scene
  standclear rules nec-2023                the rules, with figures and citations
  standclear show room.yaml                the room in a window, to be turned
  standclear schema -o scene.schema.json   for an editor that helps you write

standclear COMMAND --help says more.

exit status: 0 nothing is not met, 1 something is, 2 the input could not be used
"""
_ASKED_BY_A_SHELL: Final = "_ARGCOMPLETE"
"""Set where a shell asks what may come next."""
_OWN: Final = ("__main__", "main")
"""Files beside the commands."""


class Command(Protocol):
    """What the file of a command offers; the first line of it says what it does.

    Attributes:
        RANK: Its place in the help.
    """

    __name__: str
    __doc__: str | None
    RANK: int

    def take(self, parser: argparse.ArgumentParser) -> None:
        """Tell the parser what the command takes."""

    def run(self, arguments: argparse.Namespace) -> int:
        """Do it and return the exit status."""


def commands() -> dict[str, Command]:
    """Return every command by its word, in the order of the help."""
    files = pkgutil.iter_modules(viewer.cli.__path__)
    names = [file.name for file in files if not file.ispkg and file.name not in _OWN]
    found = {
        name.removesuffix("_"): cast("Command", import_module(f"viewer.cli.{name}"))
        for name in names
    }
    return dict(sorted(found.items(), key=lambda one: one[1].RANK))


def main(argv: Sequence[str] | None = None) -> int:
    """Run a command line and return the exit status; nothing is raised."""
    if argv is None and not sys.warnoptions:
        # What a library has to say to programmers is nothing to a user.
        warnings.simplefilter("ignore")
        logging.getLogger().addHandler(logging.NullHandler())
        # What is loaded and read stays: it need not be looked through so often.
        gc.set_threshold(_MADE_BEFORE_A_SWEEP)
        atexit.register(gc.freeze)  # nor when all of it goes at once
    try:
        parser = _parser()
        if _ASKED_BY_A_SHELL in os.environ:
            complete(parser)
        arguments = parser.parse_args(argv)
        command: Command | None = arguments.command
        if command is None:
            parser.print_help(sys.stderr)
            return NOT_USABLE
        with guarded(partial(why_kept, arguments)):
            return command.run(arguments)
    except SystemExit as done:  # help and version, or a command line with mistakes
        return _ended(done.code if isinstance(done.code, int) else NOT_USABLE)
    except UnusableError as error:
        return _not_usable(error.mistakes)
    except KeyboardInterrupt:
        return INTERRUPTED
    except OSError as error:
        return _not_usable([f"standclear: {refused(error)}"])
    except Exception as error:  # noqa: BLE001 - a person is never shown a traceback
        return _not_usable([f"standclear: {fault(error)}"])


def _ended(status: int) -> int:
    """Return the exit status once all that was printed has gone out."""
    try:
        if sys.stdout is not None:
            with reader_may_leave():
                sys.stdout.flush()
    except OSError as error:
        return _not_usable([f"standclear: {refused(error)}"])
    return status


def _parser() -> argparse.ArgumentParser:
    plain = argparse.RawDescriptionHelpFormatter
    parser = _Parser(
        prog="standclear",
        description=_DESCRIPTION,
        epilog=_EXAMPLES,
        formatter_class=plain,
    )
    parser.add_argument(
        "--version", action=_Version, nargs=0, help="show the version and exit"
    )
    parser.set_defaults(command=None)
    choice = parser.add_subparsers(metavar="COMMAND")
    for word, command in commands().items():
        about = (command.__doc__ or "").splitlines()[0]
        one = choice.add_parser(
            word,
            help=about,
            description=about,
            epilog=getattr(command, "MORE", None),
            formatter_class=plain,
        )
        command.take(one)
        options = [*one._option_string_actions]  # noqa: SLF001 - there is no other way
        one.set_defaults(command=command, command_word=word, known_options=options)
    return parser


class _Parser(argparse.ArgumentParser):
    """Says what is wrong with a command line without what a terminal may obey."""

    def __init__(self, *words: Any, **more: Any) -> None:  # noqa: ANN401 - argparse's
        super().__init__(*words, **more)
        # To Python an empty name is the folder that one is in, with all its scenes:
        # whoever writes "$ROOM" and has no such variable does not mean that.
        self.register("type", Path, _path)

    def print_help(self, file: SupportsWrite[str] | None = None) -> None:
        """Print the help; where standard output is closed, that is an error."""
        if file is None:
            emit(self.format_help())
        else:
            super().print_help(file)

    def parse_args(  # type: ignore[override] # of the two that there are, this one
        self, args: Sequence[str] | None = None, namespace: None = None
    ) -> argparse.Namespace:
        """Read a command line; what means nothing is told with what is near it."""
        arguments, rest = self.parse_known_args(args, namespace)
        if rest:
            known = getattr(arguments, "known_options", ())
            message = unknown_words(rest, known)
            word = getattr(arguments, "command_word", None)
            self.exit(NOT_USABLE, _advised(self.prog, word, message))
        return arguments

    def error(self, message: str) -> NoReturn:
        """Say in one line what is wrong, and where there is more to read."""
        _, _, word = self.prog.partition(" ")
        said = misread(clean(message)).removeprefix("COMMAND: ")
        self.exit(NOT_USABLE, _advised(self.prog, word, said))


def _path(text: str) -> Path:
    if not text:
        msg = "found an empty name, right is that of a file"
        raise argparse.ArgumentTypeError(msg)
    return Path(text)


def _advised(prog: str, word: str | None, message: str) -> str:
    program = prog.split(" ", maxsplit=1)[0]
    more = " ".join(filter(None, (program, word, "--help")))
    return f"{program}: {message} ({more} says more)\n"


class _Version(argparse.Action):
    """Prints the version, which is looked for only when it is asked for."""

    def __call__(self, parser: argparse.ArgumentParser, *_: object) -> None:
        emit(f"standclear {version() or '(not installed)'}\n")
        parser.exit()


def _not_usable(mistakes: Iterable[str]) -> int:
    """Print a line a mistake and return the exit status."""
    if sys.stderr is not None:
        with suppress(OSError):
            for mistake in mistakes:
                print(clean(mistake), file=sys.stderr)
    return NOT_USABLE
