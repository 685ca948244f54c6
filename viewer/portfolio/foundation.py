"""What the result of a room stands on, told before the room is judged."""

from __future__ import annotations

from hashlib import sha256
from typing import TYPE_CHECKING

from viewer.report.basis import Basis

if TYPE_CHECKING:
    from pathlib import Path

    from viewer.portfolio.question import Question


def foundation(file: Path, data: bytes | None, question: Question) -> Basis:
    """Return the basis of a room; without a hash where that is not asked for.

    Args:
        file: The scene's file.
        data: What is in it; None where it cannot be read.
        question: What is asked of it.
    """
    asked = [
        f"--{word} {value}"
        for word, value in (
            ("rules", question.rules),
            ("measures", question.measures),
        )
        if value is not None
    ]
    return Basis(
        file.as_posix(),
        _hash(file, data, question) if question.hashed and data is not None else None,
        question.version,
        " ".join(asked) or None,
        str(file),
    )


def _hash(file: Path, data: bytes, question: Question) -> str | None:
    """Return the SHA-256 of a scene's file, and of every file that it uses.

    Of a scene that uses no other file it is what ``sha256sum`` prints of it; else that
    of what ``sha256sum`` would print of the scene, by the name "scene", and below of
    the others, by the names that the scene calls them.
    """
    from model3d.disk.files import content  # noqa: PLC0415 - the help needs no model
    from model3d.scene.checks.files import LARGEST_MESH  # noqa: PLC0415
    from model3d.scene.text.used import files_used  # noqa: PLC0415

    own = sha256(data).hexdigest()
    names = files_used(data, file, (question.rules,) if question.rules else ())
    if not names:
        return own
    lines = [f"{own}  scene\n"]
    try:
        for name in names:
            inside = sha256(content(file.parent / name, LARGEST_MESH))
            lines.append(f"{inside.hexdigest()}  {name}\n")
    except OSError:
        return None
    return sha256("".join(lines).encode()).hexdigest()
