"""A change as data that puts a judgement right, and the proof that it does."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import chain
from typing import TYPE_CHECKING, Any, Final

from model3d.check import situate
from model3d.mending.effort import WHOLE
from model3d.mending.map.probe import Key, key_of
from model3d.mending.map.quick import is_still_broken
from model3d.mending.proof.sketch import changed, sketched
from model3d.mending.proof.soundness import stands_well
from model3d.scene.parts.lesson import MoveItem, SetItem
from model3d.wording.said import say

if TYPE_CHECKING:
    from collections.abc import Sequence

    from model3d.following import Following
    from model3d.following.supposition import Supposition
    from model3d.judging.report import Report
    from model3d.judging.results import Judgement, Verdict
    from model3d.judging.situation import Situation
    from model3d.mending.effort import Effort
    from model3d.scene.parts.lesson import Change
    from model3d.scene.scene import Scene

_KEPT: Final = 32
"""Of so many changes that seem to cure a breach what was looked at is kept."""
_RANK: Final[dict[Verdict, int]] = {"met": 0, "open": 1, "not-met": 2}


@dataclass(frozen=True, slots=True)
class Remedy:
    """A change that puts a judgement right and makes nothing worse.

    Attributes:
        do: The change, in the language of lessons.
        size: How far something is moved in all, metres; 0 where nothing moves.
        clause: What is done, in words that another such may follow.
    """

    do: tuple[Change, ...]
    size: float
    clause: str

    @property
    def changes(self) -> set[str]:
        """The ids of what is changed."""
        return changed_items(self.do)

    @property
    def text(self) -> str:
        """What is done, in a sentence."""
        return say("{}.", self.clause)

    def order(self) -> tuple[float, int, str]:
        """Return what remedies are sorted by, the smallest first."""
        return round(self.size, 6), len(self.do), self.text

    def document(self) -> dict[str, Any]:
        """Return the contract's plain data, the size in millimetres."""
        return {
            "do": [written(change) for change in self.do],
            "size": round(self.size * 1000, 2) + 0.0,
            "text": self.text,
        }


def changed_items(do: Sequence[Change]) -> set[str]:
    """Return the ids of the items that changes move or set."""
    return {
        one.move if isinstance(one, MoveItem) else one.set
        for one in do
        if isinstance(one, MoveItem | SetItem)
    }


def written(change: Change) -> dict[str, Any]:
    """Return a change as it would be written in a lesson."""
    found: dict[str, Any] = change.model_dump(by_alias=True, exclude_unset=True)
    return found


@dataclass(frozen=True)
class Bench:
    """A scene on which changes are tried.

    Attributes:
        following: The scene, of which is known what each judgement looked at.
        report: What a check of it says.
        step: What changes are rounded to, metres.
        effort: How much may be tried; None: as much as it takes.
    """

    following: Following
    report: Report
    step: float
    effort: Effort | None = None

    @property
    def scene(self) -> Scene:
        """The scene."""
        return self.following.scene

    @cached_property
    def before(self) -> dict[Key, Verdict]:
        """Every verdict of the scene as it is."""
        return {key_of(one): one.verdict for one in self.report.judgements}

    @cached_property
    def broken(self) -> frozenset[tuple[str, str]]:
        """Requirement and subject of what is not met."""
        return frozenset(
            (one.requirement, one.subject)
            for one in self.report.judgements
            if one.verdict == "not-met"
        )

    @cached_property
    def situation(self) -> Situation:
        """The scene as maps of free places start from it."""
        return situate(self.scene)

    @cached_property
    def maps(self) -> dict[str, Any]:
        """Maps of free places that were made already."""
        return {}

    @cached_property
    def _supposed(self) -> dict[str, Supposition | None]:
        return {}

    @cached_property
    def _likely(self) -> dict[str, tuple[Scene, Supposition]]:
        """What seemed to cure a breach last, and waits for its proof, by changes."""
        return {}

    @cached_property
    def _sound(self) -> dict[str, bool]:
        return {}

    @property
    def may_ask(self) -> bool:
        """Whether one more question to a rule may be asked for this breach."""
        return self.effort is None or self.effort.may_ask

    def may_try(self, count: int = 1) -> bool:
        """Count a question to one rule, or ``WHOLE``; False where no more may be."""
        return self.effort is None or self.effort.take(count)

    def length(self, metres: float) -> str:
        """Write a length in both systems, the scene's own first."""
        return self.situation.length(metres)

    def seems_cured(self, judged: Judgement, do: Sequence[Change]) -> bool:
        """Tell whether the rule itself is met after changes; the rest is not asked."""
        if not self.may_try():
            return False
        scene = sketched(self.scene, do)
        if scene is None:
            return False
        supposed = self.following.suppose(scene)
        if not stands_well(self.situation.arrangement, supposed.situation):
            return False
        about = judged.requirement, judged.subject
        if is_still_broken(*about, supposed.situation) or supposed.is_breach(*about):
            return False
        seems = is_cured(judged, supposed.seems(*about))
        if seems:
            self._keep(do, scene, supposed)
        return seems

    def _keep(self, do: Sequence[Change], scene: Scene, supposed: Supposition) -> None:
        """Keep what seems to cure a breach: its proof looks at much of it again."""
        if len(self._likely) >= _KEPT:
            del self._likely[next(iter(self._likely))]
        self._likely[_name(do)] = scene, supposed

    def keeps_apart(self, do: Sequence[Change]) -> bool:
        """Tell whether changes put nothing into anything, or out of the room."""
        scene = changed(self.scene, do)
        if scene is None:
            return False
        after = self.following.suppose(scene).situation
        return stands_well(self.situation.arrangement, after)

    def after(self, do: Sequence[Change]) -> Report | None:
        """Return what a check of the whole scene says after changes."""
        supposed = self._suppose(do)
        return None if supposed is None else supposed.report

    def judged_after(self, judged: Judgement, do: Sequence[Change]) -> Judgement | None:
        """Return what comes of a judgement after changes; None where that is nothing.

        Nothing too where no more may be asked, or no such changes can be made.
        """
        if not self.may_try() or (scene := sketched(self.scene, do)) is None:
            return None
        supposed = self.following.suppose(scene)
        found = supposed.judge(judged.requirement, judged.subject)
        return next((one for one in found if key_of(one) == key_of(judged)), None)

    def left_broken(self, do: Sequence[Change]) -> int:
        """Return how much of what is not met is still so after changes.

        Args:
            do: Changes that were proved: they make nothing worse.
        """
        supposed = self._suppose(do)
        if supposed is None:
            return len(self.broken)
        found = (supposed.judge(*pair) for pair in self.broken)
        return sum(one.verdict == "not-met" for all_of in found for one in all_of)

    def proves(self, judged: Judgement, do: Sequence[Change]) -> bool:
        """Tell whether changes put a judgement right and make none worse.

        The whole scene is judged after the changes, the judgement itself first.
        """
        if not self.may_try(WHOLE):
            return False
        supposed = self._suppose(do)
        if supposed is None:
            return False
        before = supposed.asked
        found = supposed.judge(judged.requirement, judged.subject)
        proved = is_cured(judged, found) and self._is_sound(do, supposed)
        if self.effort is not None:
            # What fails soon, or was judged already, takes less than a whole check.
            asked = supposed.asked - before
            self.effort.give_back(WHOLE - min(asked, WHOLE))
        return proved

    def _suppose(self, do: Sequence[Change]) -> Supposition | None:
        name = _name(do)
        if name not in self._supposed:
            scene = changed(self.scene, do)
            sketch, found = self._likely.pop(name, (None, None))
            if scene is None:
                found = None
            elif found is None or sketch != scene:
                found = self.following.suppose(scene)
            self._supposed[name] = found
        return self._supposed[name]

    def _is_sound(self, do: Sequence[Change], supposed: Supposition) -> bool:
        name = _name(do)
        if name not in self._sound:
            before = self.situation.arrangement
            remade = chain.from_iterable(supposed.remade())
            self._sound[name] = stands_well(before, supposed.situation) and not any(
                map(self._is_worse, remade)
            )
        return self._sound[name]

    def worse(self, report: Report) -> list[Judgement]:
        """Return what is worse than before; what is new counts where it is not met."""
        return list(filter(self._is_worse, report.judgements))

    def _is_worse(self, one: Judgement) -> bool:
        return _RANK[one.verdict] > _RANK[self.before.get(key_of(one), "met")]


def _name(do: Sequence[Change]) -> str:
    return repr([written(change) for change in do])


def is_cured(judged: Judgement, found: Sequence[Judgement]) -> bool:
    """Tell whether what was not met is met.

    Where an item has other leaves now, all of them must be met.
    """
    own = [
        one
        for one in found
        if (one.requirement, one.subject) == (judged.requirement, judged.subject)
    ]
    same = [one for one in own if key_of(one) == key_of(judged)]
    asked = same or own
    return bool(asked) and all(one.verdict == "met" for one in asked)
