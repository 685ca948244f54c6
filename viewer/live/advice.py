"""What may be done about what is not met, found beside while nothing moves."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

from model3d.mending.proof.sketch import changed
from model3d.mending.remedies import bench_of_report, mend
from viewer.stage.listed import ordered

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from model3d import Report, Scene
    from model3d.mending.proof.remedy import Remedy
    from model3d.mending.remedies import Mend


@dataclass(frozen=True, slots=True)
class Advice:
    """Remedies of one scene, as far as they were found.

    Attributes:
        scene: The scene.
        mends: What was found, by the row of the judgement.
        is_done: Whether all rows were looked at.
    """

    scene: Scene
    mends: Mapping[int, Mend] = field(default_factory=dict)
    is_done: bool = False

    def of(self, row: int, found: Mend) -> Advice:
        """Return this with one more row."""
        return replace(self, mends={**self.mends, row: found})

    def remedy(self, row: int, number: int) -> Remedy | None:
        """Return a remedy by its row and its place there; None where there is none."""
        found = self.mends.get(row)
        if found is None or not 0 <= number < len(found.remedies):
            return None
        return found.remedies[number]

    def document(self) -> dict[str, Any]:
        """Return what a page shows, as plain data."""
        return {
            "done": self.is_done,
            "rows": {
                str(row): {
                    "texts": [remedy.text for remedy in one.remedies],
                    "why": one.why,
                }
                for row, one in self.mends.items()
            },
        }


def advised(report: Report) -> Iterator[tuple[int, Mend]]:
    """Yield what may be done about each breach, with its row; it may take a while."""
    bench = bench_of_report(report)
    for row, judged in enumerate(ordered(report)):
        if judged.verdict == "not-met":
            yield row, mend(judged, bench)


def remedied(scene: Scene, remedy: Remedy) -> Scene | None:
    """Return a scene after a remedy, its lesson kept; None where that is no scene."""
    after = changed(scene, remedy.do)
    return None if after is None else scene.model_copy(update={"items": after.items})


def is_move(before: Scene, after: Scene) -> bool:
    """Tell whether items of two scenes differ in nothing but where they are."""
    return all(
        one is other
        or one.model_copy(update={name: getattr(other, name) for name in _WHERE})
        == other
        for one, other in zip(before.items, after.items, strict=True)
    )


_WHERE = ("place", "shift", "from_", "to")
