"""One small set of changes that leaves as little as can be not met."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from model3d.mending.map.probe import key_of
from model3d.mending.proof.remedy import written
from model3d.mending.proof.sketch import changed
from model3d.mending.remedies import about, bench_of, mend
from model3d.scene.parts.lesson import SetItem

if TYPE_CHECKING:
    from model3d.mending.map.probe import Key
    from model3d.mending.proof.remedy import Bench, Remedy
    from model3d.mending.remedies import Mend
    from model3d.scene.parts.lesson import Change
    from model3d.scene.scene import Scene


_REPLACED: Final = 1.0
"""Metres. To get a thing of another size is as much trouble as to move it so far."""


@dataclass(frozen=True, slots=True)
class Altogether:
    """What is to be done in all, and what is left.

    Attributes:
        remedies: One after the other; each was proved where those before were done.
        left: What could not be cured.
    """

    remedies: tuple[Remedy, ...]
    left: tuple[Mend, ...]

    @property
    def do(self) -> tuple[Change, ...]:
        """All changes, in order."""
        return tuple(change for one in self.remedies for change in one.do)

    def document(self) -> dict[str, Any]:
        """Return the contract's JSON document."""
        return {
            "format": 1,
            "do": [written(change) for change in self.do],
            "left": [{**about(one.judged), "why": one.why} for one in self.left],
        }


def mend_all(scene: Scene, step: float | None = None) -> Altogether:
    """Look for changes that together cure what is not met, and make nothing worse.

    Of the remedies of all breaches that is taken which cures most, of equal ones the
    smallest; then the whole is checked again. What nothing cures is tried once more
    when the others are cured. What is left then is tried before all others, for one
    cure may stand in the way of another; that is kept where it leaves less.

    Raises:
        BookError: The scene's rule book cannot be used.
        MeshError: A mesh file of the scene cannot be used.
    """
    found = _one_by_one(scene, step, frozenset())
    if found.left and found.remedies:
        first = frozenset(key_of(one.judged) for one in found.left)
        other = _one_by_one(scene, step, first)
        found = min(found, other, key=lambda one: len(one.left))
    return found


def _one_by_one(scene: Scene, step: float | None, first: frozenset[Key]) -> Altogether:
    bench = bench_of(scene, step)
    taken: list[Remedy] = []
    left: dict[Key, Mend] = {}
    fresh = True
    while True:
        found = _next(bench, left, first)
        if found is None:
            if not (left and fresh and taken):
                break
            # What was cured meanwhile may have made room for what is left.
            left, fresh = {}, False
            continue
        after = changed(bench.scene, found.do)
        if after is None:
            break
        taken.append(found)
        bench = bench_of(after, bench.step)
        broken = {key_of(j) for j in bench.report.judgements if j.verdict == "not-met"}
        left = {key: one for key, one in left.items() if key in broken}
    return Altogether(tuple(taken), tuple(left.values()))


def _next(bench: Bench, left: dict[Key, Mend], first: frozenset[Key]) -> Remedy | None:
    """Return what is to be done next; breaches that nothing cures are noted."""
    broken = [
        one
        for one in bench.report.judgements
        if one.verdict == "not-met" and key_of(one) not in left
    ]
    for early in (True, False):
        offered: list[Remedy] = []
        for judged in broken:
            if (key_of(judged) in first) == early:
                found = mend(judged, bench)
                offered += found.remedies
                if not found.remedies:
                    left[key_of(judged)] = found
        if offered:
            return min(offered, key=lambda one: _order(one, bench))
    return None


def _order(remedy: Remedy, bench: Bench) -> tuple[int, int, float, str]:
    """Put first what cures most, then the fewest changes, then the least of them."""
    broken = bench.left_broken(remedy.do)
    replaced = any(
        isinstance(one, SetItem) and "size" in one.fields for one in remedy.do
    )
    size = _REPLACED if replaced else round(remedy.size, 6)
    return broken, len(remedy.do), size, remedy.text
