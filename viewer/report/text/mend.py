"""What puts a scene right, as text for people."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from rich.table import Table
from rich.text import Text

from model3d.judging.unseen import not_looked_at
from model3d.mending.slack import to_measure
from model3d.wording import length
from viewer.output.terminal import PLAIN_WIDTH, rendered
from viewer.wording.cleaning import clean
from viewer.wording.words import CAUTION

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from rich.console import RenderableType

    from model3d import Judgement, Scene
    from model3d.mending.altogether import Altogether
    from model3d.mending.remedies import Mend
    from model3d.mending.slack import Slack

PROVED: Final = (
    "Each was made and the whole room checked: what it cures is met, nothing is worse."
)
NOTHING_FOUND: Final = "None found."
TIGHTEST: Final = 10
"""So many of the tightest distances are told."""


def mend_text(
    scene: Scene,
    found: Sequence[Mend],
    *,
    width: int = PLAIN_WIDTH,
    colour: bool = False,
) -> str:
    """Return the remedies of a scene as text for people.

    Args:
        scene: The scene.
        found: What may be done about each breach.
        width: Columns that no line exceeds.
        colour: Add colours, by escape sequences.
    """
    parts: list[RenderableType] = [*_head(scene, "what puts it right")]
    number = 0
    for one in found:
        parts.append(_about(one.judged))
        table = Table.grid(padding=(0, 1))
        table.add_column(justify="right", min_width=4)
        table.add_column(overflow="fold")
        for remedy in one.remedies:
            number += 1
            table.add_row(str(number), Text(clean(remedy.text)))
        if not one.remedies:
            table.add_row("", Text(f"{NOTHING_FOUND} {clean(one.why)}"))
        elif one.cut_short:
            table.add_row("", Text(clean(one.cut_short)))
        parts += [table, ""]
    if not found:
        parts += [Text("Nothing is not met: there is nothing to put right."), ""]
    elif number:
        parts += [Text(PROVED), ""]
    parts += [Text(line) for line in CAUTION]
    return rendered(parts, width=width, colour=colour)


def all_text(
    scene: Scene, found: Altogether, *, width: int = PLAIN_WIDTH, colour: bool = False
) -> str:
    """Return one set of changes for a whole scene as text for people."""
    parts: list[RenderableType] = [*_head(scene, "all at once")]
    for number, remedy in enumerate(found.remedies, 1):
        parts.append(Text(f"{number:>4} {clean(remedy.text)}"))
    if not found.remedies:
        parts.append(Text("There is no change to be made."))
    parts.append("")
    if found.left:
        parts.append(Text(f"NOT CURED ({len(found.left)})", style="bold red"))
        for one in found.left:
            parts += [_about(one.judged), Text(f"     {clean(one.why)}")]
    else:
        parts.append(Text("After that nothing is not met."))
    if found.remedies:
        parts.append(Text("Each step was checked: nothing is worse than before."))
    parts += ["", *(Text(line) for line in CAUTION)]
    return rendered(parts, width=width, colour=colour)


def slack_text(
    scene: Scene,
    found: Sequence[Slack],
    *,
    width: int = PLAIN_WIDTH,
    colour: bool = False,
) -> str:
    """Return the tightest ten distances as text for people."""
    parts: list[RenderableType] = [
        *_head(scene, "how far things may come before what is met fails")
    ]
    table = Table.grid(padding=(0, 2))
    for one in found[:TIGHTEST]:
        table.add_row(
            length(one.distance, scene.units),
            clean(one.thing),
            f"{clean(one.subject)} {one.requirement}",
        )
    parts.append(table if found else Text("Nothing movable is near a limit."))
    again = to_measure(scene, tuple(found))
    if again is not None:
        words = f"Measure again: from {clean(again.thing)} to {clean(again.subject)}."
        parts += ["", Text(words, style="bold")]
    parts += ["", *(Text(line) for line in CAUTION)]
    return rendered(parts, width=width, colour=colour)


def _head(scene: Scene, words: str) -> Iterator[RenderableType]:
    yield Text(f"{clean(scene.title)}: {words}", style="bold")
    yield ""
    if unread := not_looked_at(scene):
        yield Text(unread)
        yield ""


def _about(judged: Judgement) -> Text:
    parts = {"leaf": judged.leaf, "tier": judged.tier}
    numbered = [f"{k} {v + 1}" for k, v in parts.items() if v is not None]
    part = ", ".join([*numbered, *([judged.side] if judged.side else [])])
    what = " ".join(filter(None, (judged.requirement, part)))
    return Text.assemble(
        (clean(judged.subject), "bold"), f" {what}: {clean(judged.reason)}"
    )
