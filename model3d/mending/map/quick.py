"""What tells in a moment that a rule is not met, before the rule itself is asked."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from model3d.judging.measured.fit import fit
from model3d.working.box import REQUIREMENT, working_space
from model3d.working.needs import needs
from model3d.working.within.inside import Allowance

if TYPE_CHECKING:
    from model3d.judging.situation import Situation


def is_still_broken(requirement: str, subject: str, situation: Situation) -> bool:
    """Tell whether a breach is there for certain in a changed scene; False: perhaps.

    Something reaches into a working space by the least of the depths of all conditions.
    Which of them holds takes much longer to find out.

    Args:
        requirement: Of the breach.
        subject: Id of the item that it is at.
        situation: The changed scene, asked by the figures that a verdict rests on.
    """
    item = situation.arrangement.items.get(subject)
    if requirement != REQUIREMENT or item is None or item.front is None:
        return False
    figures = needs(item, situation, situation.measures)
    space = working_space(item, situation, figures)
    if space.permission:
        return False
    depths = (min(figures.depths),) * 3
    least = Allowance(item, situation, depths, figures)
    tolerance = situation.survey_tolerance
    space = replace(space, limit=least)
    return bool(fit(space.resized(-tolerance) if tolerance else space, situation).hits)
