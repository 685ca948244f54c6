"""Several scenes, each judged, or refused with all that is wrong with it."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

from viewer.cli.given.files import STANDARD_INPUT
from viewer.cli.given.progress import progress
from viewer.wording.refusal import Refused, fault, refused

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from pathlib import Path

    from model3d import Report, Scene


def checked_scenes(
    files: Sequence[Path], *, rules: str | None, measures: str | None
) -> list[Report | Refused]:
    """Judge scenes in their order; one that cannot be used does not stop the others.

    Args:
        files: Scene files; - is standard input.
        rules: The rule book, instead of each scene's own.
        measures: Which published figure counts, instead of each scene's own.
    """
    asked = {"rules": rules, "measures": measures}
    said = {key: value for key, value in asked.items() if value is not None}
    if len(files) == 1:
        return [_checked(files[0], said)]
    found = []
    with progress(len(files)) as told:
        for file in files:
            told(str(file))
            found.append(_checked(file, said))
    return found


def refused_lines(checked: Iterable[Report | Refused]) -> list[str]:
    """Return all mistakes of the scenes that cannot be used, a line each."""
    return [line for one in checked if isinstance(one, Refused) for line in one.lines]


def _checked(file: Path, said: dict[str, str]) -> Report | Refused:
    from model3d import BookError, MeshError, SceneError, check

    try:
        return check(_scene(file).model_copy(update=said))
    except SceneError as error:
        return Refused(file, error.mistakes)
    except (BookError, MeshError) as error:
        return _as_a_whole(file, *str(error).splitlines())
    except OSError as error:
        return _as_a_whole(file, refused(error))
    except Exception as error:  # noqa: BLE001 - one that the program fails on
        return _as_a_whole(file, fault(error))


def _scene(file: Path) -> Scene:
    from model3d import read_scene
    from model3d.scene.text.reader import LARGEST, read_data

    if file != STANDARD_INPUT:
        return read_scene(file)
    return read_data(sys.stdin.buffer.read(LARGEST + 1), file)


def _as_a_whole(file: Path, *messages: str) -> Refused:
    """Refuse a scene for what is none of its lines."""
    from model3d import Mistake

    lines = (" ".join(message.split()) for message in messages)
    return Refused(file, tuple(Mistake(str(file), 0, 0, "", "", one) for one in lines))
