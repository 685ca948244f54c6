"""Check a scene: every rule at every item, one report."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model3d.codebook import load_book
from model3d.judging.report import Assumption, Report
from model3d.judging.situation import Situation
from model3d.judging.systems import answers
from model3d.rules import all_questions, requirements
from model3d.scene.scene import require_scene
from model3d.scene.unswept import unswept
from model3d.standing.arrangement import arrange
from model3d.standing.remarks.detailed import details_told
from model3d.standing.remarks.like_ids import likenesses_told
from model3d.standing.remarks.overhang import overhangs_told
from model3d.standing.remarks.overridden import overrides_told
from model3d.standing.remarks.surveyed import clouds_told
from model3d.standing.remarks.unclosed import unclosed_told

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from model3d.codebook import Measures
    from model3d.judging.results import Judgement
    from model3d.scene.scene import Scene
    from model3d.standing.arrangement import Arrangement


def check(scene: Scene) -> Report:
    """Judge every item of a scene by every rule of its rule book.

    Raises:
        BookError: The scene's rule book cannot be used.
        MeshError: A mesh file of the scene cannot be used.
        TypeError: It is no scene.
    """
    require_scene(scene)
    with unswept():
        situation = situate(scene)
        judged = _judgements(situation)
        return report_of(judged, situation.arrangement, situation.book.id)


def report_of(
    judgements: Iterable[Judgement], arrangement: Arrangement, rules: str
) -> Report:
    """Put the judgements of a scene in their order.

    Args:
        judgements: All of them.
        arrangement: The scene as it was judged.
        rules: Id of the rule book.
    """
    scene = arrangement.scene
    ordered = sorted(judgements, key=_order)
    assumed = {pair for judgement in ordered for pair in judgement.assumed}
    notes = (
        likenesses_told,
        overhangs_told,
        details_told,
        clouds_told,
        overrides_told,
    )
    assumed |= {pair for told in notes for pair in told(arrangement)}
    in_the_way = {hit.item for one in ordered for hit in one.intrusions}
    assumed |= {*unclosed_told(in_the_way, arrangement)}
    unread = {cited for judgement in ordered for cited in judgement.unread}
    return Report(
        scene=scene.title,
        file=scene.file.name if scene.file else "",
        rules=rules,
        judgements=tuple(ordered),
        assumed=tuple(Assumption(item, what) for item, what in sorted(assumed)),
        unread=tuple(sorted(unread)),
        no_place=arrangement.no_place,
        arrangement=arrangement,
        asked=requirements(),
    )


def situate(scene: Scene) -> Situation:
    """Put a scene's items in place and open its rule book."""
    folder = scene.file.parent if scene.file else None
    book = load_book(scene.rules, folder, installed=scene.installed)
    own: Measures = "inch-pound" if scene.units in {"in", "ft"} else "si"
    accepted: Measures = scene.measures or "either"
    measures = own if accepted == "either" else accepted
    return Situation(arrange(scene), book, measures, accepted)


def _judgements(situation: Situation) -> Iterator[Judgement]:
    for question in all_questions(situation):
        yield from answers(question, situation)


def _order(judgement: Judgement) -> tuple[str, str, int, int, str]:
    return (
        judgement.subject,
        judgement.requirement,
        -1 if judgement.leaf is None else judgement.leaf,
        -1 if judgement.tier is None else judgement.tier,
        judgement.side or "",
    )
