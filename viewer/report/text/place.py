"""Where an item may stand, as text for people."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rich.padding import Padding
from rich.text import Text

from model3d.judging.unseen import not_looked_at
from model3d.scene.parts.placement import StandsOn
from model3d.wording import length
from viewer.output.terminal import PLAIN_WIDTH, rendered
from viewer.wording.cleaning import clean
from viewer.wording.words import CAUTION

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.console import RenderableType

    from model3d import Scene

_MOST: int = 40
"""So many lines of what bars places are told; the JSON tells all."""
_SPANS: int = 6
"""So many stretches of walls are told of what is open; the JSON tells all."""


def place_text(
    scene: Scene,
    found: dict[str, Any],
    *,
    width: int = PLAIN_WIDTH,
    colour: bool = False,
) -> str:
    """Return an item's places as text for people.

    Args:
        scene: The scene.
        found: The answer as plain data.
        width: Columns that no line exceeds.
        colour: Add colours, by escape sequences.
    """
    name = clean(found["item"])
    parts: list[RenderableType] = [
        Text(f"{clean(scene.title)}: where {name} may stand", style="bold"),
        "",
    ]
    if unread := not_looked_at(scene):
        parts += [Text(unread), ""]
    parts += _walls(found, scene.units)
    parts += _floor(found, scene.units)
    parts += _carried(scene, found["item"])
    parts += ["", *_best(found, scene.units), ""]
    parts += _barred(found)
    parts += _open(found, scene.units)
    parts += [Text(line) for line in CAUTION]
    return rendered(parts, width=width, colour=colour)


def _walls(found: dict[str, Any], units: str) -> Iterator[RenderableType]:
    for one in found.get("walls", ()):
        yield Text(_wall(one), style="bold")
        if not one["along"]:
            yield Text("  no place")
        for low, high in one["along"]:
            yield Text(f"  along {_span(low, high, units)}")
    if "walls" in found:
        yield Text("Lengths run from the wall's left end, seen from inside, facing it.")


def _span(low: float, high: float, units: str) -> str:
    ends = length(low / 1000, units), length(high / 1000, units)
    return ends[0] if low == high else f"{ends[0]} to {ends[1]}"


def _floor(found: dict[str, Any], units: str) -> Iterator[RenderableType]:
    for one in found.get("floor", ()):
        yield Text(f"facing {one['facing']}", style="bold")
        if not one["regions"]:
            yield Text("  no place")
        for region in one["regions"]:
            xs = [x for x, _ in region["outer"]]
            ys = [y for _, y in region["outer"]]
            holes = len(region["holes"])
            more = f", {holes} taken out of it" if holes else ""
            corners = f"{len(region['outer'])} corners{more}"
            yield Text(
                f"  middle between x {_span(min(xs), max(xs), units)} and y "
                f"{_span(min(ys), max(ys), units)} ({corners})"
            )


def _carried(scene: Scene, name: str) -> Iterator[RenderableType]:
    """Say what carries an item: its places are told at its own height all over."""
    item = next((one for one in scene.items if one.id == name), None)
    if item is not None and isinstance(item.place, StandsOn):
        base = clean(item.place.stands_on)
        yield Text(
            f"{clean(name)} stands on {base} and keeps its height: where {base} is not "
            f"under it, something else must carry it."
        )


def _best(found: dict[str, Any], units: str) -> Iterator[RenderableType]:
    best = found["best"]
    if best is None:
        yield Text("There is no place for it that a check of the whole room keeps.")
        return
    place = ", ".join(f"{key}: {_value(value)}" for key, value in best["place"].items())
    margin = length(best["margin"] / 1000, units)
    yield Text.assemble(("Best place", "bold"), f": {{{place}}}, {margin} to spare.")
    yield Text(
        "There everything was checked. Elsewhere the ways out were asked too; where "
        "there was too much to ask, that is left open below."
    )


def _value(value: object) -> str:
    if isinstance(value, list | tuple):
        return f"[{', '.join(_value(one) for one in value)}]"
    if isinstance(value, float):
        return f"{value:.4f}".rstrip("0").rstrip(".")
    return str(value)


def _barred(found: dict[str, Any]) -> Iterator[RenderableType]:
    groups: dict[tuple[str, str], list[str]] = {}
    for one in found["barred"]:
        groups.setdefault((one["of"], one["requirement"]), []).append(one["by"])
    if not groups:
        return
    yield Text("WHAT BARS THE REST", style="bold")
    for (of, requirement), names in list(groups.items())[:_MOST]:
        what = "would stand in" if requirement == "body" else f"{requirement}:"
        told = ", ".join(clean(name) for name in dict.fromkeys(names) if name)
        yield Padding(Text(f"{clean(of)} {what} {told}"), (0, 0, 0, 2))
    if len(groups) > _MOST:
        yield Text(f"  and {len(groups) - _MOST} more")
    yield ""


def _open(found: dict[str, Any], units: str) -> Iterator[RenderableType]:
    if not found["open"]:
        return
    yield Text("LEFT OPEN", style="bold")
    told: dict[tuple[str, str, str], list[dict[str, Any]]] = {}
    for one in found["open"]:
        key = one["of"], one["requirement"], one.get("why") or ""
        told.setdefault(key, []).append(one)
    for (of, requirement, why), some in told.items():
        names = dict.fromkeys(clean(by) for one in some for by in one.get("by") or ())
        said = clean(why) if why else f"by {', '.join(names)}"
        where = _where(some, units)
        yield Text(f"  {clean(of)} {requirement}: {said}{where}")
    yield ""


def _where(some: list[dict[str, Any]], units: str) -> str:
    """Say where something is open: along walls, or at some places of the floor."""
    if all(one.get("at") == "best" for one in some):
        return ""
    spans = [
        f"{_wall(one)} {_span(low, high, units)}"
        for one in some
        for low, high in one.get("along") or ()
    ]
    if not spans or len(spans) > _SPANS:
        return ", at some places"
    return f", along {'; '.join(spans)}"


def _wall(one: dict[str, Any]) -> str:
    """Name a wall; those of an outline have the word in their names."""
    name = clean(str(one["wall"]))
    return name if name.startswith("wall") else f"wall {name}"
