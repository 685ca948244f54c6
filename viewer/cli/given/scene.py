"""One scene for a command that shows it: read and checked, or every mistake in it."""

from __future__ import annotations

from contextlib import contextmanager
from typing import TYPE_CHECKING

from viewer.wording.refusal import UnusableError, refused

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from model3d import Report, Scene


def checked_scene(file: Path) -> tuple[Scene, Report]:
    """Return a scene and what the check answers.

    Raises:
        UnusableError: It cannot be used; with all its mistakes.
    """
    from model3d import check, read_scene

    with unusable_explained(file):
        scene = read_scene(file)
        return scene, check(scene)


@contextmanager
def unusable_explained(file: Path) -> Iterator[None]:
    """Turn what makes a scene unusable into lines for people.

    Raises:
        UnusableError: It cannot be used; with all its mistakes.
    """
    from model3d import BookError, LessonError, MeshError, SceneError

    try:
        yield
    except SceneError as error:
        raise UnusableError(map(str, error.mistakes)) from error
    except (BookError, LessonError, MeshError) as error:
        lines = str(error).splitlines()
        raise UnusableError(f"{file}: {line}" for line in lines) from error
    except OSError as error:
        raise UnusableError([f"{file}: {refused(error)}"]) from error
