"""What a GLB file says it holds: told before anything is built of it.

Source: Khronos Group, glTF 2.0 Specification. What the reader of meshes would leave
out without a word is refused here, for what is left out would be in nobody's way.
"""

from __future__ import annotations

import math
import struct
from typing import Annotated, Any, Final, Literal, NamedTuple, TypeVar

from pydantic import BaseModel, ConfigDict, Field, ValidationError
from pydantic.alias_generators import to_camel

from model3d.geometry.files.announced import (
    TOO_SHORT,
    MeshFileError,
    require_few,
)

MOST_NODES: Final = 10_000
"""Nodes, and parts of meshes; a scan has a few."""
MOST_SHOWN: Final = 12_000_000
"""Points; those of a part are read for each node that shows it, and once more."""
_DEEPEST: Final = 32
"""Nodes in one another."""
_MOST_WORK: Final = 5_000_000
"""Of following nodes in one another: the third power of the depth of each."""
_LONGEST_HEADER: Final = 16 * 2**20
_MOST_ZEROS: Final = 2**16
"""Rows of an accessor for which the file has no bytes."""
_HEAD: Final = struct.Struct("<4sII")
_CHUNK: Final = struct.Struct("<I4s")
_TRIANGLES, _STRIP, _FAN = 4, 5, 6
_BYTES: Final = {5120: 1, 5121: 1, 5122: 2, 5123: 2, 5125: 4, 5126: 4}
_COLUMNS: Final = {
    "SCALAR": 1,
    "VEC2": 2,
    "VEC3": 3,
    "VEC4": 4,
    "MAT2": 4,
    "MAT3": 9,
    "MAT4": 16,
}
_MOVES_POINTS: Final = frozenset(
    {
        "KHR_draco_mesh_compression",
        "EXT_meshopt_compression",
        "EXT_mesh_gpu_instancing",
    }
)
"""Extensions that hold shapes, and are not read."""
_LEAVES_SHAPES: Final = (
    "KHR_materials_",
    "KHR_texture_",
    "EXT_texture_",
    "KHR_lights_",
)
"""Beginnings of the names of extensions that say nothing of shapes."""
_SLOPE: Final = 1e-3
"""A turn may be as much longer or shorter than it should be: writers round."""

T = TypeVar("T")

_Whole = Annotated[int, Field(ge=0, lt=2**53)]


class _Part(BaseModel):
    # Built with the first file that is read: most scenes have none.
    model_config = ConfigDict(
        alias_generator=to_camel, strict=True, frozen=True, defer_build=True
    )

    extensions: dict[str, Any] = {}

    def require_known(self) -> None:
        if unknown := sorted(_MOVES_POINTS & self.extensions.keys()):
            msg = f"its shapes are written by {unknown[0]}, which is not read"
            raise MeshFileError(msg)


class _Buffer(_Part):
    uri: str | None = None
    byte_length: _Whole = 0


class _View(_Part):
    buffer: Literal[0] = 0
    byte_offset: _Whole = 0
    byte_length: _Whole
    byte_stride: Annotated[int, Field(ge=4, le=252)] | None = None


class _Accessor(_Part):
    buffer_view: _Whole | None = None
    byte_offset: _Whole = 0
    component_type: Literal[5120, 5121, 5122, 5123, 5125, 5126]
    normalized: bool = False
    count: _Whole
    type: Literal["SCALAR", "VEC2", "VEC3", "VEC4", "MAT2", "MAT3", "MAT4"]
    sparse: Any = None


class _Primitive(_Part):
    attributes: dict[str, _Whole] = {}
    indices: _Whole | None = None
    mode: Annotated[int, Field(ge=0, le=6)] = _TRIANGLES
    targets: list[Any] = []


class _Mesh(_Part):
    primitives: list[_Primitive]


class _Node(_Part):
    children: list[_Whole] = []
    mesh: _Whole | None = None
    skin: _Whole | None = None
    matrix: Annotated[list[float], Field(min_length=16, max_length=16)] | None = None
    rotation: Annotated[list[float], Field(min_length=4, max_length=4)] | None = None

    def require_plain(self) -> None:
        """Make sure that it only moves, turns and scales what it shows."""
        if self.skin is not None:
            msg = "a shape is bent by a skin, which is not read"
            raise MeshFileError(msg)
        if self.matrix is not None and self.matrix[3::4] != [0, 0, 0, 1]:
            msg = "a node's matrix has a last row other than 0 0 0 1"
            raise MeshFileError(msg)
        turn = self.rotation
        if turn is not None and not abs(math.hypot(*turn) - 1) <= _SLOPE:
            msg = "a node's rotation is no unit quaternion"
            raise MeshFileError(msg)


class _Scene(_Part):
    nodes: list[_Whole] = []


class _Gltf(_Part):
    buffers: list[_Buffer] = []
    buffer_views: list[_View] = []
    accessors: list[_Accessor] = []
    meshes: list[_Mesh] = []
    nodes: Annotated[list[_Node], Field(max_length=MOST_NODES)] = []
    scenes: list[_Scene] = []
    scene: _Whole = 0
    extensions_required: list[str] = []


def require_glb(data: bytes) -> None:
    """Make sure that a GLB file is whole, and what it says can be built and held.

    Raises:
        MeshFileError: It is not.
    """
    header, binary = _chunks(data)
    try:
        gltf = _Gltf.model_validate_json(header)
    except ValidationError as error:
        where = ".".join(str(step) for step in error.errors()[0]["loc"])
        msg = f"its header is no glTF 2.0{f' at {where}' if where else ''}"
        raise MeshFileError(msg) from None
    if any(buffer.uri is not None for buffer in gltf.buffers):
        msg = "its numbers are in another file"
        raise MeshFileError(msg)
    if any(buffer.byte_length > binary for buffer in gltf.buffers[:1]):
        raise MeshFileError(TOO_SHORT)
    for name in gltf.extensions_required:
        if not name.startswith(_LEAVES_SHAPES):
            msg = f"it can be read by {name} only, which is not known"
            raise MeshFileError(msg)
    for accessor in gltf.accessors:
        _require_accessor(accessor, gltf.buffer_views, binary)
    meshes = [_held(mesh, gltf.accessors) for mesh in gltf.meshes]
    _require_nodes(gltf, meshes, binary)


def _chunks(data: bytes) -> tuple[bytes, int]:
    """Return the JSON of a GLB file, and how many bytes its binary chunk has."""
    start = _HEAD.size + _CHUNK.size
    if data[:4] != b"glTF"[: len(data)]:
        msg = "it is no GLB file"
        raise MeshFileError(msg)
    if len(data) < start:
        raise MeshFileError(TOO_SHORT)
    _, version, length = _HEAD.unpack_from(data)
    size, kind = _CHUNK.unpack_from(data, _HEAD.size)
    if version != 2 or kind != b"JSON":  # noqa: PLR2004 - the version of the format
        msg = "it is no GLB file of version 2"
        raise MeshFileError(msg)
    if len(data) < length or len(data) < start + size:
        raise MeshFileError(TOO_SHORT)
    if size > _LONGEST_HEADER:
        msg = f"its header has more than {_LONGEST_HEADER // 2**20} MiB"
        raise MeshFileError(msg)
    begin = start + size
    if begin + _CHUNK.size > len(data):
        return data[start:begin], 0
    binary, kind = _CHUNK.unpack_from(data, begin)
    if begin + _CHUNK.size + binary > len(data):
        raise MeshFileError(TOO_SHORT)
    return data[start:begin], binary if kind == b"BIN\0" else 0


def _require_accessor(one: _Accessor, views: list[_View], binary: int) -> None:
    require_few(one.count, 0, binary)
    if one.buffer_view is None:
        if one.count > _MOST_ZEROS:
            raise MeshFileError(TOO_SHORT)
        return
    view = _at(views, one.buffer_view, "bufferViews")
    row = _BYTES[one.component_type] * _COLUMNS[one.type]
    stride = view.byte_stride or row
    end = one.byte_offset + (stride * (one.count - 1) + row if one.count else 0)
    if end > view.byte_length or view.byte_offset + view.byte_length > binary:
        raise MeshFileError(TOO_SHORT)


class _Held(NamedTuple):
    """How many parts a mesh has, and points and triangles of all of them."""

    parts: int
    points: int
    triangles: int


def _held(mesh: _Mesh, accessors: list[_Accessor]) -> _Held:
    """Return what a mesh holds; points that parts have in common are read for each."""
    count = places = 0
    for part in mesh.primitives:
        part.require_known()
        if part.mode < _TRIANGLES:
            continue
        if part.targets:
            msg = "its shapes are changed by morph targets, which are not read"
            raise MeshFileError(msg)
        if part.mode == _FAN:
            msg = "its triangles are fans, which are not read"
            raise MeshFileError(msg)
        place = part.attributes.get("POSITION")
        if place is None:
            msg = "its triangles have no points"
            raise MeshFileError(msg)
        points = _at(accessors, place, "accessors")
        corners = points
        if part.indices is not None:
            corners = _at(accessors, part.indices, "accessors")
        if points.sparse is not None or corners.sparse is not None:
            msg = "its numbers are sparse, which is not read"
            raise MeshFileError(msg)
        if points.normalized:
            msg = "its points are normalized, which is not read"
            raise MeshFileError(msg)
        per = 1 if part.mode == _STRIP else 3
        count += corners.count // per
        places += points.count
    return _Held(len(mesh.primitives), places, count)


def _require_nodes(gltf: _Gltf, meshes: list[_Held], binary: int) -> None:
    """Make sure that the nodes are a forest, and what they show is not too large."""
    if not gltf.scenes:
        return
    roots = _at(gltf.scenes, gltf.scene, "scenes").nodes
    waiting = [(root, 1) for root in roots]
    seen: set[int] = set()
    parts = shown = work = 0
    places = sum(one.points for one in meshes)
    while waiting:
        number, depth = waiting.pop()
        node = _at(gltf.nodes, number, "nodes")
        if number in seen:
            msg = "a node is there twice, or in itself"
            raise MeshFileError(msg)
        work += depth**3
        if depth > _DEEPEST or work > _MOST_WORK:
            msg = "too many nodes in one another"
            raise MeshFileError(msg)
        seen.add(number)
        node.require_known()
        node.require_plain()
        waiting += [(child, depth + 1) for child in node.children]
        if node.mesh is not None:
            held = _at(meshes, node.mesh, "meshes")
            parts, shown = parts + held.parts, shown + held.triangles
            places += held.points
    require_few(0, shown, binary)
    if places > 2 * MOST_SHOWN:
        msg = f"more than {2 * MOST_SHOWN} points, as often as they are shown"
        raise MeshFileError(msg)
    if parts > MOST_NODES:
        msg = f"more than {MOST_NODES} parts of meshes"
        raise MeshFileError(msg)


def _at(rows: list[T], number: int, name: str) -> T:
    if number < len(rows):
        return rows[number]
    msg = f"it names {name}[{number}], which is not there"
    raise MeshFileError(msg)
