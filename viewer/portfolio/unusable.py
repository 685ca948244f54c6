"""A room that cannot be used, told in its place among others."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar

from viewer.wording.refusal import Refused, fault, refused

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

Found = TypeVar("Found")


def usable(file: Path, do: Callable[[], Found]) -> Found | Refused:
    """Do something with a scene; where it cannot be used, return why.

    Args:
        file: The scene's file.
        do: Reads it, and does what is to be done.
    """
    from model3d import BookError, MeshError, SceneError  # noqa: PLC0415 - see room

    try:
        return do()
    except SceneError as error:
        return Refused(file, error.mistakes)
    except (BookError, MeshError) as error:
        return unusable(file, *str(error).splitlines())
    except OSError as error:
        return unusable(file, refused(error))
    except Exception as error:  # noqa: BLE001 - one that the program fails on
        return unusable(file, fault(error))


def unusable(file: Path, *messages: str) -> Refused:
    """Refuse a scene for what is none of its lines."""
    from model3d import Mistake  # noqa: PLC0415

    lines = (" ".join(message.split()) for message in messages)
    return Refused(file, tuple(Mistake(str(file), 0, 0, "", "", one) for one in lines))
