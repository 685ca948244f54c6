"""Make a room with a question by lot, and check the answer before it is given.

The figures of the law come from the check of the room itself; what is drawn by lot is
only the room, and how far the size that decides is from the limit.
"""

from __future__ import annotations

from importlib import import_module
from pkgutil import iter_modules
from textwrap import fill, indent
from typing import TYPE_CHECKING, Final

import yaml

from model3d.check import check
from model3d.judging.requirement import requirement_of
from model3d.lessons import run_lesson
from model3d.lessons.drills import makers
from model3d.lessons.drills.dice import Dice
from model3d.rules import requirements
from model3d.scene.scene import Scene
from model3d.scene.words.nearest import hint, listed
from model3d.wording import length

if TYPE_CHECKING:
    from collections.abc import Callable

    from model3d.judging.report import Report
    from model3d.judging.results import Judgement, Verdict
    from model3d.lessons.drills.sketch import Sketch, Written

_MOST_DRAWN: Final = 200
"""Rooms that are drawn before it is a fault of the program."""
_HAIR: Final = 1e-6
"""Metres; less is nothing."""
_LINE: Final = 88
"""Columns of the text."""


class DrillError(ValueError):
    """A rule that is none or has no questions, or a seed below zero."""


def drilled() -> tuple[str, ...]:
    """Return the rules that there are questions for."""
    return tuple(sorted(_makers()))


def _makers() -> dict[str, str]:
    path, name = makers.__path__, makers.__name__
    modules = (f"{name}.{one.name}" for one in iter_modules(path))
    return {requirement_of(module): module for module in modules}


def new_lesson(rule: str, seed: int) -> str:
    """Return a scene with a lesson of one question, as the text of a file.

    The same rule and seed give the same text. Of eight seeds in a row three to five
    are not met; none is open.

    Args:
        rule: What is asked about.
        seed: Which of its questions, from 0.

    Raises:
        DrillError: There are no questions for the rule, or the seed is below zero.
    """
    known = _makers()
    if rule not in known:
        there = rule in requirements()
        found = f'found "{rule}"' + (", which has no questions yet" if there else "")
        msg = f"{found}, right is {listed(drilled())}{hint(rule, drilled())}"
        raise DrillError(msg)
    if seed < 0:
        msg = f"found seed {seed}, right is a whole number from 0"
        raise DrillError(msg)
    wanted: Verdict = "not-met" if _is_breach(rule, seed) else "met"
    sketch: Callable[[Dice], Sketch] = import_module(known[rule]).sketch
    for attempt in range(_MOST_DRAWN):
        dice = Dice(rule, seed, attempt)
        drawn = sketch(dice)
        scene = _asked(drawn, dice, rule, wanted)
        if scene is not None:
            return _text(drawn, scene, rule, seed)
    msg = f"no question about {rule} of seed {seed} came out in {_MOST_DRAWN} rooms"
    raise AssertionError(msg)


def _is_breach(rule: str, seed: int) -> bool:
    """Tell by lot which one of two seeds in a row is not met."""
    pair, place = divmod(seed, 2)
    return Dice(rule, "pair", pair).number(2) == place


def _asked(drawn: Sketch, dice: Dice, rule: str, wanted: Verdict) -> Written | None:
    """Return the scene with its question, or None where no size gives the verdict.

    The room is all right before, and nothing in it is open before or after.
    """
    before = check(Scene.model_validate(drawn.scene))
    if any(one.verdict != "met" for one in before.judgements):
        return None
    # What stands opposite may ask for more than the empty room: then it is drawn again.
    limit = _limit(drawn, before, rule)
    short = 1 - drawn.far if wanted == "not-met" else 1.0
    far = 1.0 if wanted == "not-met" else 1 + drawn.far
    for size in dice.mixed(drawn.ruler.between(limit * short, limit * far, drawn.fine)):
        scene = _with_question(drawn, rule, wanted, size, limit)
        (result,) = run_lesson(Scene.model_validate(scene))
        judgements = result.report.judgements
        if _limit(drawn, result.report, rule) != limit:
            return None
        if result.passed and not any(_spoils(one, rule, wanted) for one in judgements):
            judged = _worst(result.report, drawn.item, rule)
            return _with_question(drawn, rule, wanted, size, limit, judged)
    return None


def _spoils(one: Judgement, rule: str, wanted: Verdict) -> bool:
    """Tell whether a judgement makes a question unfit: an open one, another fault."""
    return one.verdict != "met" and (one.verdict, one.requirement) != (wanted, rule)


def _worst(report: Report, item: str, rule: str) -> Judgement:
    return max(report.of(item, rule), key=lambda one: one.verdict == "not-met")


def _limit(drawn: Sketch, report: Report, rule: str) -> float:
    """Return what is required, metres."""
    if drawn.limit is not None:
        return drawn.limit
    return _worst(report, drawn.item, rule).required[drawn.size] - drawn.base


def _with_question(
    drawn: Sketch,
    rule: str,
    wanted: Verdict,
    size: float,
    limit: float,
    judged: Judgement | None = None,
) -> Written:
    """Return a room with its lesson; with a judgement the answer is said."""
    there, units = drawn.ruler.metres(size), drawn.ruler.units
    needs = drawn.needs.format(limit=length(limit, units))
    told = f"{needs[:1].upper()}{needs[1:]}, and {length(there, units)} are there"
    step = {
        "ask": drawn.ask.format(size=length(there, units)),
        "choices": [
            {
                "text": word,
                "right": (word == "Yes") == (wanted == "met"),
                "why": f"{told}.",
            }
            for word in ("Yes", "No")
        ],
        "do": drawn.changes(size),
        "say": _answer(told, judged, there - limit, units) if judged else told,
        "look": {"at": drawn.item, "from": drawn.look},
        "expect": {drawn.item: {rule: wanted}},
    }
    return {**drawn.scene, "lesson": {"title": _title(rule), "steps": [step]}}


def _answer(told: str, judged: Judgement, apart: float, units: str) -> str:
    """Say yes or no, the two sizes, and the sentence that decides."""
    if judged.verdict == "not-met":
        missing = f"{length(-apart, units)} are missing"
        return f"No. {told}: {missing}. {judged.reason} ({judged.citation})"
    spare = length(apart, units) if apart > _HAIR else "nothing"
    return f"Yes. {told}, with {spare} to spare."


def _title(rule: str) -> str:
    return f"A question about {rule.replace('-', ' ')}"


def _text(drawn: Sketch, scene: Written, rule: str, seed: int) -> str:
    head = (
        f"# Lesson: {_title(rule).lower()}, made by lot.\n"
        f"# standclear lesson --new {rule} --seed {seed}\n"
        "#\n"
        f"{indent(fill(f'What to learn: {drawn.learn}.', _LINE - 2), '# ')}\n"
    )
    body = yaml.dump(
        scene,
        Dumper=_Dumper,
        sort_keys=False,
        allow_unicode=True,
        width=_LINE,
        default_flow_style=None,
    )
    return head + body


class _Dumper(yaml.SafeDumper):
    """Writes what is said twice twice: people are to read it."""

    def ignore_aliases(self, data: object) -> bool:
        """Return that nothing is an alias."""
        del data
        return True
