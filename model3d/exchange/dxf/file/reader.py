"""A plan in a DXF file as plain records: read in a process of its own."""

from __future__ import annotations

import math
import re
from collections import defaultdict
from typing import TYPE_CHECKING, Any, Final

from model3d.exchange.dxf.drawn_plan import (
    UNITS,
    Insert,
    OpenLine,
    Plan,
    PlanText,
    Ring,
    Swing,
)
from model3d.exchange.dxf.file.clips import clip_of, shown
from model3d.exchange.dxf.file.curve import area, flat, middle
from model3d.exchange.dxf.file.entities import (
    ASIDE,
    HATCHES,
    LINES,
    LeftOutError,
    NoNumberError,
    chains_of,
    width_of,
)
from model3d.exchange.dxf.file.labels import TEXTS, label_of
from model3d.exchange.dxf.file.leavings import Leavings
from model3d.exchange.dxf.file.loops import joined
from model3d.exchange.ifc.element import ModelError
from model3d.units import METRES

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable
    from pathlib import Path

    from model3d.exchange.dxf.file.clips import Clips
    from model3d.exchange.dxf.file.curve import CurvePiece

    Blocks = tuple[int, ...]

MOST: Final = 200_000
"""Entities of a plan, those of blocks counted wherever they are inserted."""
DEEPEST: Final = 24
"""Blocks within one another."""
_FEWEST: Final = 3
"""Corners of a ring."""
_CENTIMETRE: Final = 0.01
_LINE: Final = re.compile(r"\bline:? (\d{1,9})\b")


def read_plan(file: Path, drawn_in: str | None, tell: Callable[[str], None]) -> Plan:
    """Return what is drawn in the model space of a plan.

    Args:
        file: A DXF file, as text or binary.
        drawn_in: Its unit, where the user says one.
        tell: Is told what is worked on.

    Raises:
        ModelError: It cannot be read, or is more than is read.
        ImportError: What reads it is not installed.
    """
    import ezdxf

    tell(f"opening {file.name}")
    try:
        document = ezdxf.readfile(file)  # type: ignore[attr-defined, unused-ignore]
        word, metres = UNITS.get(int(document.header.get("$INSUNITS", 0)), ("", 1.0))
        if drawn_in is not None:
            metres = METRES.get(drawn_in, _CENTIMETRE)
        tell("reading what is drawn")
        walk = _Walk(file, document, metres)
        walk.through(document.modelspace(), None, (), (), ())
        return walk.plan(word)
    except (MemoryError, ImportError, ModelError):
        raise
    except Exception as error:
        # The library leaves what is written where a number is due as it is.
        line = _LINE.search(str(error))
        where = f" near line {line[1]}" if line else ""
        msg = f"{file}: found no DXF that can be read{where}, right is a sound file"
        raise ModelError(msg) from error


class _Walk:
    """The state of reading one plan."""

    def __init__(self, file: Path, document: Any, metres: float) -> None:
        self.file, self.document, self.metres = file, document, metres
        self.count = self.inserted = 0
        self.rings: list[Ring] = []
        self.labels: list[PlanText] = []
        self.swings: list[Swing] = []
        self.inserts: list[Insert] = []
        self.unread: dict[int, str] = {}
        self.open: defaultdict[tuple[Blocks, str, float], list[tuple[CurvePiece, ...]]]
        self.open = defaultdict(list)
        self.over = Leavings(metres)

    def through(
        self,
        entities: Iterable[Any],
        layer: str | None,
        blocks: Blocks,
        way: tuple[str, ...],
        clips: Clips,
    ) -> None:
        """Read entities.

        Args:
            entities: Of the plan, or of a block as it is inserted.
            layer: Of the insert: what a block has on layer 0 lies on it.
            blocks: Numbers of the inserts that it lies in, the outer first.
            way: Names of the blocks that this lies in.
            clips: What is shown of those.
        """
        for entity in entities:
            self.count += 1
            if self.count > MOST:
                msg = f"found more than {MOST} entities, right is a smaller plan"
                self.refuse(msg)
            own = str(entity.dxf.get("layer", "0"))
            on = layer if layer is not None and own == "0" else own
            if entity.dxf.get("invisible", 0):
                self.over.leave(on, "hidden thing", entity, hidden=True)
                continue
            kind = entity.dxftype()
            if kind == "INSERT":
                self.insert(entity, on, blocks, way, clips)
            elif kind in TEXTS:
                self.label(entity, on, blocks[-1] if blocks else 0, clips)
            elif kind in LINES:
                self.draw(entity, on, blocks, clips)
            elif kind not in ASIDE:
                self.over.loosen(on, kind.lower().replace("_", " "), entity, "", clips)

    def refuse(self, said: str) -> None:
        """End with a line about the file."""
        msg = f"{self.file}: {said}"
        raise ModelError(msg)

    def insert(
        self,
        entity: Any,
        on: str,
        blocks: Blocks,
        way: tuple[str, ...],
        clips: Clips,
    ) -> None:
        """Read a block where it is inserted, once or in rows."""
        name = str(entity.dxf.name)
        within = (*way, name.casefold())
        if name.casefold() in way:
            self.refuse(f"block {name}: found itself in it, right is a block without")
        if len(within) > DEEPEST:
            msg = f"found blocks more than {DEEPEST} deep in one another, right is less"
            self.refuse(f"block {name}: {msg}")
        block = self.document.blocks.get(name)
        if block is None or block.block.is_xref:
            self.over.leave(on, f"drawing {name}", entity, "in another file")
            return
        across, down = entity.dxf.get("column_count", 1), entity.dxf.get("row_count", 1)
        if across * down > MOST:
            msg = f"found it {across * down} times, right is at most {MOST}"
            self.refuse(f"block {name}: {msg}")
        each = entity.multi_insert() if across * down > 1 else [entity]
        for one in each:
            self.inserted += 1
            number = self.inserted
            clip, fault = clip_of(one, self.metres)
            if fault:
                self.unread[number] = f"{fault} of block {name}"
            within_clips = (*clips, clip) if clip else clips
            x, y, *_ = one.dxf.insert
            if math.isfinite(x) and math.isfinite(y):
                at = float(x) * self.metres, float(y) * self.metres
                self.inserts.append(Insert(on, name, at, number, blocks))
            for attribute in one.attribs:
                self.label(attribute, on, number, clips)
            parts = one.virtual_entities(
                skipped_entity_callback=lambda part, _, whole=one: self.skip(
                    part, on, whole
                )
            )
            self.through(parts, on, (*blocks, number), within, within_clips)

    def skip(self, part: Any, on: str, whole: Any) -> None:
        """Note what cannot be put where its block is."""
        kind = part.dxftype()
        if kind not in ASIDE:
            own = str(part.dxf.get("layer", "0"))
            which = "of a block that is tilted or out of scale"
            self.over.leave(on if own == "0" else own, kind.lower(), whole, which)

    def label(self, entity: Any, on: str, block: int, clips: Clips) -> None:
        """Read a text."""
        found = label_of(entity, on, block, self.metres)
        if found is not None and shown([found.at], clips) != "out":
            self.labels.append(found)

    def draw(self, entity: Any, on: str, blocks: Blocks, clips: Clips) -> None:
        """Read what is lines."""
        try:
            chains = [*chains_of(entity, self.metres)]
            width = width_of(entity, self.metres)
        except LeftOutError as error:
            if entity.dxftype() in HATCHES:
                self.over.leave(on, error.what, entity, error.which, hidden=True)
            else:
                self.over.loosen(on, error.what, entity, error.which, clips)
            return
        except NoNumberError:
            msg = f"layer {on}: found a coordinate that is no number, right is a length"
            self.refuse(msg)
        for edges, closes in chains:
            points = middle(edges)
            seen = shown((*points, points[0]) if closes else points, clips)
            if seen == "out":
                which = "that the clip of its block hides"
                self.over.leave(on, "line", entity, which, hidden=True)
                continue
            if seen == "across":
                which = "across the edge of its block's clip"
                self.over.leave(on, "line", entity, which, whole=True)
            for fault in {self.unread[one] for one in blocks if one in self.unread}:
                self.over.leave(on, "line", entity, f"under the {fault}", whole=True)
            self.swing(on, edges, blocks)
            if closes:
                self.ring(on, edges, blocks, kind=entity.dxftype(), width=width)
            else:
                self.open[blocks, on, width].append(edges)

    def swing(self, on: str, edges: tuple[CurvePiece, ...], blocks: Blocks) -> None:
        """Note the arcs in a line: they may be ways of leaves."""
        for edge in edges:
            arc = edge.arc
            if arc is not None and arc.is_circular:
                degrees = math.degrees(abs(arc.end - arc.start))
                ends = edge.start, edge.end
                self.swings.append(Swing(on, arc.centre, ends, degrees, blocks))

    def ring(
        self,
        on: str,
        edges: tuple[CurvePiece, ...],
        blocks: Blocks,
        *,
        kind: str = "",
        joined: bool = False,
        gap: float = 0.0,
        width: float = 0.0,
    ) -> None:
        """Add a closed line."""
        if area(flat(edges, outward=True)) < 0:
            edges = tuple(edge.back() for edge in reversed(edges))
        if len(flat(edges, outward=True)) < _FEWEST:
            self.over.flatten(on, flat(edges, outward=True), edges[0].start)
            return
        first = edges[0].arc
        circle = None
        if kind == "CIRCLE" and first is not None:
            circle = first.centre, 2 * first.radius
        self.rings.append(
            Ring(
                on,
                flat(edges, outward=True),
                flat(edges, outward=False),
                blocks,
                circle,
                any(edge.arc for edge in edges),
                joined,
                gap,
                width,
                kind in HATCHES,
            )
        )

    def plan(self, word: str) -> Plan:
        """Join what is open and return all that was found."""
        lines: list[OpenLine] = []
        for (blocks, on, width), chains in self.open.items():
            loops, left = joined(chains)
            for loop in loops:
                is_one = loop.pieces == 1
                self.ring(
                    on, loop.edges, blocks, joined=not is_one, gap=loop.gap, width=width
                )
            for edges in left:
                curved = any(edge.arc for edge in edges)
                lines.append(OpenLine(on, middle(edges), curved, width))
        return Plan(
            word,
            self.metres,
            tuple(self.rings),
            tuple(lines),
            tuple(self.labels),
            self.over.left,
            tuple(self.swings),
            tuple(self.inserts),
            tuple(self.over.loose),
        )
