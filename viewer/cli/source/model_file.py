"""Files of building models, looked at before they are opened: that may take minutes."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from viewer.wording.refusal import refused

if TYPE_CHECKING:
    from pathlib import Path

ENDINGS: Final = (".ifc", ".ifczip")
_LARGEST: Final = 2 * 2**30
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
        return _zip_fault(file)
    if b"ISO-10303-21" not in head:
        return "found no IFC, right is a model that begins with ISO-10303-21"
    if b"END-ISO-10303-21" not in tail:
        return "found no end, right is a whole model that ends with END-ISO-10303-21"
    return None


def _zip_fault(file: Path) -> str | None:
    import zipfile

    try:
        with zipfile.ZipFile(file) as packed:
            inside = packed.infolist()
    except (OSError, zipfile.BadZipFile):
        return "found no zip file that can be read, right is a model in a zip file"
    if sum(one.file_size for one in inside) > _LARGEST:
        return f"found more than {_LARGEST // 2**30} GiB in it, right is less"
    if sum(one.filename.lower().endswith(".ifc") for one in inside) != 1:
        return "found not one .ifc in it, right is one"
    return None
