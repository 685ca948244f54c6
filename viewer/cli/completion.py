"""Print what lets a shell complete commands, options and file names."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from viewer.output.outlet import emit

if TYPE_CHECKING:
    from argparse import Action, ArgumentParser, Namespace
    from collections.abc import Iterator

RANK: Final = 30
MORE: Final = """\
examples, each to be put into the file that the shell reads when it starts:
  eval "$(standclear completion bash)"                        in ~/.bashrc
  eval "$(standclear completion zsh)"                         in ~/.zshrc
  standclear completion fish | source                         in config.fish
  standclear completion powershell | Out-String | iex         in $PROFILE
"""
_ZSH_BEGINS: Final = (
    "(( $+functions[compdef] )) || { autoload -Uz compinit && compinit }"
)
"""Where nothing has begun the shell's own completion, nothing can be added to it."""
_SHELLS: Final = ("bash", "zsh", "fish", "powershell")


def take(parser: ArgumentParser) -> None:
    """Take a shell."""
    parser.add_argument("shell", choices=_SHELLS, help="the shell that is used")


def run(arguments: Namespace) -> int:
    """Print the shell's part and return the exit status.

    Raises:
        OSError: It cannot be written.
    """
    from argcomplete.shell_integration import shellcode

    code = shellcode(["standclear"], shell=arguments.shell)
    if arguments.shell == "zsh":
        # The first line names the command to a shell that loads it from a folder.
        first, _, rest = code.partition("\n")
        code = f"{first}\n{_ZSH_BEGINS}\n{rest}"
    emit(code, exact=True)
    return 0


def complete(parser: ArgumentParser) -> None:
    """Answer a shell that asks what may come next, and end; else do nothing."""
    from argcomplete import autocomplete

    for action in _actions(parser):
        if action.dest == "rules":
            action.completer = _books  # type: ignore[attr-defined]
    autocomplete(parser)


def _actions(parser: ArgumentParser) -> Iterator[Action]:
    for action in parser._actions:  # noqa: SLF001 - the library has no other list of them
        yield action
        for one in getattr(action, "choices", None) or ():
            inner = action.choices[one] if isinstance(action.choices, dict) else None
            if inner is not None:
                yield from _actions(inner)


def _books(**_: Any) -> tuple[str, ...]:  # noqa: ANN401 - what the library says
    from model3d import BOOKS

    return (*BOOKS,)
