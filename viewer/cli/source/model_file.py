"""Files of building models, looked at before they are opened: that may take minutes."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from viewer.wording.refusal import refused

if TYPE_CHECKING:
    from pathlib import Path

ENDINGS: Final = (".ifc", ".ifczip")
_LARGEST: Final = 2 * 2**30
_TIMES: Final = 200
"""More than that no packed model is larger than its file: those tried pack 4 to 30
times, blanks a thousand times."""
_SMALL: Final = 64 * 2**20
"""Bytes that are unpacked in a moment, whatever they are."""
_HEAD: Final = 4096
_TAIL: Final = 4096


def model_fault(file: Path) -> str | None:
    """Return what is wrong with a model at first sight, or None."""
    from model3d.disk.files import lost_link

    try:
        if not file.is_file():
            missing = "no plain file" if file.exists() else "no file"
            return f"found {lost_link(file) or missing}, right is a building model"
        size = file.stat().st_size
        with file.open("rb") as stream:
            head = stream.read(_HEAD)
            stream.seek(max(size - _TAIL, 0))
            tail = stream.read()
    except OSError as error:
        return refused(error)
    if size > _LARGEST:
        return f"found more than {_LARGEST // 2**30} GiB, right is a smaller model"
    if file.suffix.lower() == ".ifczip":
        return _zip_fault(file, size)
    if b"ISO-10303-21" not in head:
        return "found no IFC, right is a model that begins with ISO-10303-21"
    if b"END-ISO-10303-21" not in tail:
        return "found no end, right is a whole model that ends with END-ISO-10303-21"
    return None


def _zip_fault(file: Path, size: int) -> str | None:
    import zipfile

    try:
        with zipfile.ZipFile(file) as packed:
            inside = packed.infolist()
    except (OSError, ValueError, RuntimeError, zipfile.BadZipFile):
        return "found no zip file that can be read, right is a model in a zip file"
    whole = sum(one.file_size for one in inside)
    if whole > _LARGEST:
        return f"found more than {_LARGEST // 2**30} GiB in it, right is less"
    if whole > max(_SMALL, _TIMES * size):
        much = f"{whole // 2**20} MiB packed in {size} bytes"
        return f"found {much}, right is a model, which packs less"
    if sum(one.filename.lower().endswith(".ifc") for one in inside) != 1:
        return "found not one .ifc in it, right is one"
    return None
