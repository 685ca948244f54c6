"""Where an item may stand, in metres, as a page draws it on the floor."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from model3d import check
from model3d.mending.map.places import PlaceError, free_places
from model3d.mending.placing.answer import PlaceAnswer
from viewer.page.places import middle

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d import Report, Scene
    from model3d.standing.placed import Front
    from model3d.standing.shell import WallLine

_METRE: Final = 1000.0
_SAME: Final = 1e-6

Point = tuple[float, float]


def map_of(scene: Scene, name: str, report: Report | None = None) -> dict[str, Any]:
    """Return where an item may stand.

    Args:
        scene: The scene.
        name: The item's id.
        report: What a check of the scene answered, if it is at hand.

    Returns:
        ``regions``: of its middle on the floor, ``outer`` and ``holes``; ``bands``:
        along the walls, each a ``ring`` of what it would cover and, along its own wall,
        the ``ends`` of the way of its middle; ``why``: what there is to say instead.

    Raises:
        BookError: The scene's rule book cannot be used.
        MeshError: A mesh file of the scene cannot be used.
    """
    found: dict[str, Any] = {"regions": [], "bands": [], "why": ""}
    try:
        places = free_places(scene, name)
    except PlaceError as error:
        return {**found, "why": str(error)}
    told = PlaceAnswer(places, None, ()).document()
    for one in told.get("floor", ()):
        for region in one["regions"]:
            outer = _metres(region["outer"])
            holes = [_metres(ring) for ring in region["holes"]]
            found["regions"].append({"outer": outer, "holes": holes})
    arrangement = (report or check(scene)).arrangement
    assert arrangement is not None  # noqa: S101 - a check always gives one
    placed = arrangement.items[name]
    for one in told.get("walls", ()):
        line = arrangement.shell.line(one["wall"])
        assert placed.front is not None  # noqa: S101 - a map asks for it
        found["bands"] += _bands(line, placed.front, one["along"], middle(placed)[:2])
    return found


def _metres(ring: list[list[float]]) -> list[Point]:
    return [(x / _METRE, y / _METRE) for x, y in ring]


def _bands(
    line: WallLine, front: Front, along: list[list[float]], here: Point
) -> Iterator[dict[str, Any]]:
    frame = line.frame
    x, y = front.frame.to_plan(0.0, -front.depth)
    now, gap = frame.to_frame(x, y)
    out = front.frame.out
    own = abs(out[0] - frame.out[0]) + abs(out[1] - frame.out[1]) < _SAME
    deep = front.depth
    back = gap if own else 0.0
    for low, high in along:
        start, end = low / _METRE, high / _METRE
        corners = (
            (start, back),
            (end + front.width, back),
            (end + front.width, back + deep),
            (start, back + deep),
        )
        band: dict[str, Any] = {"ring": [frame.to_plan(u, v) for u, v in corners]}
        if own:
            band["ends"] = [
                (
                    here[0] + (u - now) * frame.right[0],
                    here[1] + (u - now) * frame.right[1],
                )
                for u in (start, end)
            ]
        yield band
