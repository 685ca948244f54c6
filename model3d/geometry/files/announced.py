"""What OBJ and PLY files say they hold: told before anything is built of them."""

from __future__ import annotations

import re
from typing import Final, NamedTuple

MOST_TRIANGLES: Final = 2_000_000
"""Of a file of text, and of any that is too small to hold more of its own."""
MOST_POINTS: Final = 3 * MOST_TRIANGLES
"""As many as where each corner of each triangle is written anew."""
LARGEST_SCAN: Final = 12_000_000
"""Triangles of a binary file that holds them all: a scan of ten million, and some. To
read it takes 3 GB."""
_TRIANGLE: Final = 6
"""Bytes, at the least: three numbers of points, of two bytes each. A small file that
speaks of millions has them shown again and again, or none at all."""
_MOST_CORNERS: Final = 2 * MOST_POINTS
"""Of all faces, which need be no triangles."""
_LONGEST_HEADER: Final = 2**16
_LONGEST: Final = 18
"""Digits of a count that is read; one with more is too large anyway."""
_BYTES: Final = {
    **dict.fromkeys(("char", "uchar", "int8", "uint8"), 1),
    **dict.fromkeys(("short", "ushort", "int16", "uint16"), 2),
    **dict.fromkeys(("int", "uint", "int32", "uint32", "float", "float32"), 4),
    **dict.fromkeys(("double", "float64"), 8),
}
"""Of a PLY file's numbers (G. Turk, The PLY Polygon File Format)."""


_NOT_OBJ: Final = re.compile(
    rb"(?m)(?<!\\\n)(?<!\\\r\n)^(?!"
    rb"(?:v|vn|vt|vp|f|l|p|g|o|s|mg|lod|usemtl|mtllib|usemap|maplib|bevel|c_interp"
    rb"|d_interp|shadow_obj|trace_obj)(?:[ \r\n]|\Z)|#)[ ]*[^ \r\n].*"
)
"""A line of an OBJ file that may hold a shape, and would be left out without a word:
free forms, old words for faces, words that are none (Wavefront, Object Files)."""


_FACE: Final = re.compile(rb"(?m)^f")


class MeshFileError(ValueError):
    """A mesh file that cannot be used; the message says why, in a few words."""


TOO_SHORT: Final = "the file ends too early"
_SHOWN: Final = re.compile(rb"[\w./-]+")
"""What a message repeats; other signs may be what a terminal obeys."""


def shown(word: bytes) -> str:
    r"""Return a word of a file as a message has it.

    >>> shown(b"curv2"), shown(b"\x1bv")
    ('curv2', 'strange signs')
    """
    short = word[:_LONGEST]
    return short.decode("ascii") if _SHOWN.fullmatch(short) else "strange signs"


def most_triangles(binary: int) -> int:
    """Return how many triangles a file may hold that has so many bytes of numbers.

    >>> most_triangles(852), most_triangles(30_000_000), most_triangles(2**29)
    (2000000, 5000000, 12000000)
    """
    return max(MOST_TRIANGLES, min(LARGEST_SCAN, binary // _TRIANGLE))


def require_few(points: int, triangles: int, binary: int = 0) -> None:
    """Make sure that a mesh is not too large to be held.

    Args:
        points: Of it, as often as they are shown.
        triangles: Of it, as often as they are shown.
        binary: Bytes of numbers that its file has; 0 where they are written as text.

    Raises:
        MeshFileError: It is.
    """
    most = most_triangles(binary)
    if points > 3 * most:
        msg = f"more than {3 * most} points"
        raise MeshFileError(msg)
    if triangles > most:
        msg = f"more than {most} triangles"
        raise MeshFileError(msg)


def require_obj(data: bytes) -> None:
    """Make sure that an OBJ file is not too large, and holds no shape that is not read.

    Raises:
        MeshFileError: It is, or does.
    """
    if other := _NOT_OBJ.search(data):
        number = data.count(b"\n", 0, other.start()) + 1
        word = shown(other[0].split()[0])
        msg = f"its line {number} begins with {word}, which is not read"
        raise MeshFileError(msg)
    if not _FACE.search(data):
        # Told at once: the reader would look at every point before.
        msg = "no triangles"
        raise MeshFileError(msg)
    # A corner has a blank before it, so there are no more corners than blanks.
    points, faces = data.count(b"\nv "), data.count(b"\nf ")
    require_few(points, faces)
    corners = data.count(b" ") - 3 * points
    _require_few_corners(corners)
    if corners - 2 * faces > MOST_TRIANGLES:
        # A face of very many corners would be parted before any are counted.
        lines = re.sub(rb"\\\r?\n", b" ", data).split(b"\n")
        words = (len(one.split()) for one in lines if one.startswith(b"f "))
        require_few(points, sum(max(count - 3, 0) for count in words))


class _RowsOfPly(NamedTuple):
    """Rows of a PLY file.

    Attributes:
        name: What they are.
        rows: How many.
        numbers: Sizes in bytes of the numbers in a row, and of the count of a list.
        lists: Sizes in bytes of one number of each list in a row.
        place: How many numbers of a row are before its last list.
    """

    name: str
    rows: int
    numbers: tuple[int, ...]
    lists: tuple[int, ...]
    place: int = 0


def require_ply(data: bytes) -> None:
    """Make sure that a PLY file is whole as far as its header tells, not too large.

    Raises:
        MeshFileError: It is not, or has no header that can be read.
    """
    end = data.find(b"end_header", 0, _LONGEST_HEADER)
    if data[:3] != b"ply" or end < 0:
        msg = "it has no PLY header"
        raise MeshFileError(msg)
    is_text, elements = _ply_header(data[:end].decode("ascii", "replace"))
    for one in elements:
        if one.lists and one.rows and one.name != "face":
            msg = f"it holds {one.name[:_LONGEST]}, which is not read"
            raise MeshFileError(msg)
        faces = one.rows if one.name == "face" else 0
        require_few(one.rows, faces, 0 if is_text else len(data))
    body = len(data) - end
    if is_text:
        # A number has a blank or the end of a line before it.
        left = data.count(b" ", end) + data.count(b"\n", end) + data.count(b"\t", end)
        least = sum(one.rows * len(one.numbers) for one in elements)
        size = 1
    else:
        left = body
        least = sum(one.rows * sum(one.numbers) for one in elements)
        size = min((size for one in elements for size in one.lists), default=1)
    if left < least:
        raise MeshFileError(TOO_SHORT)
    _require_few_corners((left - least) // size, 0 if is_text else len(data))
    if is_text:
        _require_whole_rows(data[end:].splitlines()[1:], elements)


def _require_whole_rows(lines: list[bytes], elements: list[_RowsOfPly]) -> None:
    """Make sure that each face of a text PLY has as many corners as it says.

    The reader takes the numbers that are there, whatever their count says.
    """
    before = 0
    for one in elements:
        rows = lines[before : before + one.rows]
        before += one.rows
        if len(one.lists) != 1:
            continue
        for number, line in enumerate(rows, 1):
            words = line.split()
            said = words[one.place] if one.place < len(words) else b"nothing"
            if said != b"%d" % (len(words) - len(one.numbers)):
                there = max(len(words) - len(one.numbers), 0)
                msg = f"face {number} says {shown(said)} corners, and has {there}"
                raise MeshFileError(msg)


def _ply_header(text: str) -> tuple[bool, list[_RowsOfPly]]:
    """Return whether the rows of a PLY file are text, and what rows there are."""
    is_text = False
    elements: list[_RowsOfPly] = []
    for line in text.splitlines()[1:]:
        match line.split():
            case ["format", word, *_]:
                is_text = word == "ascii"
            case ["element", name, count] if count.isdecimal():
                elements.append(_RowsOfPly(name, int(count[:_LONGEST]), (), ()))
            case ["property", "list", of, each, _] if elements:
                one = elements[-1]
                elements[-1] = one._replace(
                    numbers=(*one.numbers, _size(of)),
                    lists=(*one.lists, _size(each)),
                    place=len(one.numbers),
                )
            case ["property", kind, _] if elements:
                one = elements[-1]
                elements[-1] = one._replace(numbers=(*one.numbers, _size(kind)))
            case ["comment" | "obj_info", *_] | []:
                pass
            case _:
                msg = "its PLY header cannot be read"
                raise MeshFileError(msg)
    return is_text, elements


def _size(kind: str) -> int:
    if kind not in _BYTES:
        msg = "its PLY header has a number of an unknown sort"
        raise MeshFileError(msg)
    return _BYTES[kind]


def _require_few_corners(count: int, binary: int = 0) -> None:
    most = _MOST_CORNERS // MOST_TRIANGLES * most_triangles(binary)
    if count > most:
        msg = f"faces of more than {most} corners"
        raise MeshFileError(msg)
