"""The hinged leaves on an item's front, as the quarter rounds they sweep."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from model3d.geometry.sweep import Sweep

if TYPE_CHECKING:
    from model3d.scene.parts.item import Leaf
    from model3d.scene.scene import Scene
    from model3d.standing.placed import Front, Placed


def stated_leaves(placed: Placed, scene: Scene) -> tuple[Sweep, ...] | None:
    """Return the leaves the scene states; None where it says nothing about doors."""
    item, front = placed.item, placed.front
    if item is None or front is None:
        return ()
    if item.doors is not None:
        return tuple(_leaf(leaf, front, scene) for leaf in item.doors)
    match item.door:
        case None:
            return None
        case "left" | "right" as hinge:
            return (whole_front(front, hinge),)
        case "pair":
            half = front.width / 2
            heights = (front.bottom, front.top)
            return (
                _hung(front, "left", 0.0, half, *heights),
                _hung(front, "right", half, half, *heights),
            )
        case "bolted" | "none":
            return ()


def taken_leaves(placed: Placed, scene: Scene) -> tuple[tuple[Sweep, ...], bool]:
    """Return the leaves of an item that may stand open, and whether they are assumed.

    Where nothing is said about the doors of an item that people work at, one leaf over
    the whole front is taken, hinged left and hinged right at once: whatever is clear
    of both is clear of either.
    """
    if placed.front is None or is_open_rack(placed):
        return (), False
    leaves = stated_leaves(placed, scene)
    if leaves is not None or not placed.live:
        return leaves or (), False
    front = placed.front
    return (whole_front(front, "left"), whole_front(front, "right")), True


def whole_front(front: Front, hinge: Literal["left", "right"]) -> Sweep:
    """Return the sweep of one leaf over the whole front."""
    return _hung(front, hinge, 0.0, front.width, front.bottom, front.top)


def is_open_rack(placed: Placed) -> bool:
    """Tell whether an item is a battery rack without a front of its own."""
    item = placed.item
    return placed.kind.rack and (item is None or item.open is not False)


def _leaf(leaf: Leaf, front: Front, scene: Scene) -> Sweep:
    bottom = front.bottom + scene.metres(leaf.sill)
    top = front.top if leaf.height is None else bottom + scene.metres(leaf.height)
    offset, width = scene.metres(leaf.offset), scene.metres(leaf.width)
    return _hung(front, leaf.hinge, offset, width, bottom, top)


def _hung(
    front: Front, hinge: str, offset: float, width: float, bottom: float, top: float
) -> Sweep:
    if hinge == "left":
        return Sweep(front.frame.moved(offset, 0.0), width, bottom, top)
    frame = front.frame.moved(offset + width, 0.0).mirrored()
    return Sweep(frame, width, bottom, top)
