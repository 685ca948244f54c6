"""Lines whose ends meet, joined into rings: four lines may be a board."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from model3d.exchange.dxf.file.curve import CurvePiece
    from model3d.geometry.frame import Corner

    Chain = Sequence[CurvePiece]

GAP: Final = 0.005
"""Metres between ends that were meant to meet."""
_ENDS: Final = 2


@dataclass(frozen=True, slots=True)
class Loop:
    """A ring made of lines.

    Attributes:
        edges: One behind the other.
        pieces: How many lines it is made of.
        gap: The widest distance between two ends that were joined, metres.
    """

    edges: tuple[CurvePiece, ...]
    pieces: int
    gap: float


class _Nodes:
    """Points that are one where they are no farther apart than the gap."""

    def __init__(self) -> None:
        self.cells: defaultdict[tuple[int, int], list[tuple[Corner, int]]]
        self.cells = defaultdict(list)
        self.count = 0

    def number(self, point: Corner) -> int:
        x, y = math.floor(point[0] / GAP), math.floor(point[1] / GAP)
        for near in ((i, j) for i in (x - 1, x, x + 1) for j in (y - 1, y, y + 1)):
            for other, number in self.cells.get(near, ()):
                if math.dist(point, other) <= GAP:
                    return number
        self.count += 1
        self.cells[x, y].append((point, self.count))
        return self.count


def joined(chains: Sequence[Chain]) -> tuple[list[Loop], list[Chain]]:
    """Return the rings that lines make whose ends meet, and the lines that make none.

    Lines of which one end meets nothing are left, and then those that hang on them.
    Where three ends meet after that nobody can tell which two belong together: all
    lines that hang together with them are left as they are.
    """
    nodes = _Nodes()
    ends = [
        (nodes.number(chain[0].start), nodes.number(chain[-1].end)) for chain in chains
    ]
    at: defaultdict[int, list[int]] = defaultdict(list)
    for number, (one, other) in enumerate(ends):
        at[one].append(number)
        at[other].append(number)
    left = [chains[number] for number in _hanging(ends, at)]
    loops = []
    for group in _groups(ends, at):
        closes = all(len(at[node]) == _ENDS for n in group for node in ends[n])
        if closes:
            loops.append(_loop(chains, ends, at, group[0]))
        else:
            left += [chains[number] for number in sorted(group)]
    return loops, left


def met(lines: Sequence[tuple[Corner, Corner]]) -> list[tuple[bool, bool]]:
    """Tell of both ends of each line whether another end is there."""
    nodes = _Nodes()
    ends = [(nodes.number(start), nodes.number(end)) for start, end in lines]
    count = Counter(node for both in ends for node in both)
    return [(count[start] > 1, count[end] > 1) for start, end in ends]


def _hanging(
    ends: Sequence[tuple[int, int]], at: defaultdict[int, list[int]]
) -> list[int]:
    """Take away what leads nowhere, and return it."""
    gone: set[int] = set()
    waiting = [node for node, there in at.items() if len(there) == 1]
    while waiting:
        node = waiting.pop()
        for number in [*at[node]] if len(at[node]) == 1 else ():
            gone.add(number)
            for end in ends[number]:
                at[end].remove(number)
                waiting.append(end)
    return sorted(gone)


def _groups(
    ends: Sequence[tuple[int, int]], at: defaultdict[int, list[int]]
) -> Iterator[list[int]]:
    seen: set[int] = set()
    there = sorted({number for numbers in at.values() for number in numbers})
    for first in there:
        if first in seen:
            continue
        group, waiting = [], [first]
        seen.add(first)
        while waiting:
            number = waiting.pop()
            group.append(number)
            for node in ends[number]:
                new = [one for one in at[node] if one not in seen]
                seen.update(new)
                waiting += new
        yield group


def _loop(
    chains: Sequence[Chain],
    ends: Sequence[tuple[int, int]],
    at: defaultdict[int, list[int]],
    first: int,
) -> Loop:
    edges: list[CurvePiece] = [*chains[first]]
    pieces, number, node = 1, first, ends[first][1]
    while node != ends[first][0]:
        number = next(one for one in at[node] if one != number)
        chain = chains[number]
        forth = ends[number][0] == node
        edges += chain if forth else [edge.back() for edge in reversed(chain)]
        node = ends[number][1 if forth else 0]
        pieces += 1
    around = zip(edges, (*edges[1:], edges[0]), strict=True)
    gap = max(math.dist(one.end, other.start) for one, other in around)
    return Loop(tuple(edges), pieces, gap)
