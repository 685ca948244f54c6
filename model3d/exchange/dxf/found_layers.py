"""The layers of a plan: what is found on each, and a table to start from."""

from __future__ import annotations

import csv
import io
from collections import Counter, defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from model3d.exchange.dxf.layer_table import written_name

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.exchange.dxf.drawn_plan import Plan
    from model3d.geometry.frame import Corner

_METRIC: Final = ("mm", "cm", "m", "dm")


@dataclass(frozen=True, slots=True)
class PlanLayer:
    """What is found on a layer.

    Attributes:
        name: Its name.
        closed, open, texts, other: Closed outlines, open lines, texts, and what else
            is drawn there and not read.
        extent: The least x and y and the greatest, metres; None of texts alone.
    """

    name: str
    closed: int
    open: int
    texts: int
    other: int
    extent: tuple[float, float, float, float] | None

    def told(self, plan: Plan) -> str:
        """Return what is found on it, in the plan's own unit."""
        parts = [f"{self.closed} closed", f"{self.open} open"]
        many = "" if self.texts == 1 else "s"
        parts += [f"{self.texts} text{many}"] if self.texts else []
        parts += [f"{self.other} other"] if self.other else []
        if self.extent is not None:
            x0, y0, x1, y1 = (round(one / plan.metres, 3) + 0.0 for one in self.extent)
            size = f"{round(x1 - x0, 3):.12g} x {round(y1 - y0, 3):.12g}"
            unit = plan.unit or "units"
            parts.append(f"{size} {unit} from {x0:.12g}, {y0:.12g}")
        return ", ".join(parts)


def layers_of(plan: Plan) -> list[PlanLayer]:
    """Return the layers that something is drawn on, by name."""
    closed, open_, texts = (
        Counter(one.layer for one in several)
        for several in (plan.rings, plan.lines, plan.labels)
    )
    other: Counter[str] = Counter()
    for left in plan.left:
        other[left.layer] += 0 if left.whole else left.count
    points: defaultdict[str, list[Corner]] = defaultdict(list)
    for ring in plan.rings:
        points[ring.layer] += ring.outer
    for line in plan.lines:
        points[line.layer] += line.points
    names = {*closed, *open_, *texts, *other}
    return [
        PlanLayer(
            *(name, closed[name], open_[name], texts[name], other[name]),
            extent=_extent(points[name]),
        )
        for name in sorted(names, key=lambda one: (one.casefold(), one))
    ]


def _extent(points: list[Corner]) -> tuple[float, float, float, float] | None:
    if not points:
        return None
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def listed_layers(plan: Plan) -> Iterator[str]:
    """Yield a line for each layer."""
    for layer in layers_of(plan):
        yield f"layer {layer.name}: {layer.told(plan)}"


def table_text(plan: Plan) -> str:
    """Return a table of the layers to be filled in, as CSV.

    Column Found is for people; what stands in it is not read.
    """
    unit = "mm" if plan.unit in _METRIC or not plan.unit else "in"
    heights = [f"{one} ({unit})" for one in ("Height", "Bottom", "Top", "Thickness")]
    text = io.StringIO()
    write = csv.writer(text, lineterminator="\n").writerow
    write(["Layer", "Becomes", *heights, "Facing", "System", "Amps", "Found"])
    for layer in layers_of(plan):
        write([written_name(layer.name), *[""] * 8, layer.told(plan)])
    return text.getvalue()
