"""The page: one file with the room, its judgements and its lesson, for any browser.

The file holds its own script, style and data; nothing else is ever asked for. What
comes from a scene is data: the script sets it as text and never as markup.
"""

from __future__ import annotations

import base64
import gzip
import hashlib
import html
import json
from collections import Counter
from importlib.resources import files
from string import Template
from typing import TYPE_CHECKING, Any, Final

from viewer.output.outlet import write_whole
from viewer.page.data import lean, once
from viewer.page.remedies import remedies, shorten
from viewer.page.taught import taught
from viewer.page.whatif import whatif
from viewer.sheet.meanings import SIGNS
from viewer.stage import build_stage, document, palette, plain
from viewer.stage.looking.views import view_of_place
from viewer.wording.cleaning import clean

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from model3d import Report, Scene
    from model3d.scene.parts.lesson import Change
    from viewer.stage import Stage

WEB: Final = files("viewer.page") / "web"
"""The folder of the page's parts; viewer.js is built from the source in it."""

COURSE: Final = "Lessons"
"""The title of a page with several lessons."""

_SMALLEST: Final = 9
"""The level of compression."""
_ASPECT: Final = 1.6
"""Width over height that the page's script takes a view to be made for."""

COLOURS: Final = {
    "ink": palette.INK,
    "faint": palette.FAINT_INK,
    "paper": palette.PAPER,
    "ground": palette.BACKGROUND,
    "ground-top": palette.BACKGROUND_TOP,
    "space": palette.SPACE,
    "space-edge": palette.SPACE_EDGE,
    "clear-edge": palette.CLEAR_EDGE,
    "intrusion": palette.INTRUSION,
    "intrusion-edge": palette.INTRUSION_EDGE,
    "way": palette.WAY,
    "way-edge": palette.WAY_EDGE,
    "selection": palette.SELECTION,
    "selection-edge": palette.SELECTION_EDGE,
    # White figures on the intrusion's own colour would be too faint to read.
    "not-met": palette.mixed(palette.INTRUSION, palette.INTRUSION_EDGE, 0.3),
}
"""The palette, as the page's style and script name it."""


def write(
    scene: Scene, report: Report, path: Path, *, still: bytes | None = None
) -> None:
    """Write the page of a scene and its lesson, whole or not at all.

    The same scene gives the same bytes.

    Args:
        scene: What was checked.
        report: What the check answered.
        path: The file; one that is there is replaced.
        still: A PNG picture, shown by browsers that draw no 3D.

    Raises:
        OSError: The file cannot be written; then nothing has changed.
        LessonError: The scene's lesson cannot be run.
        ValueError: The report does not say where things stand.
    """
    if scene.lesson:
        lesson = taught(scene)
        stage, told = lesson.stage, lesson.told
    else:
        stage = build_stage(scene, report)
        told = lean(document(stage))
        told["remedies"] = remedies(report, stage, _drawn)
    judged = whatif(scene, report)
    shorten(told, lambda: len(page(stage, told, whatif=judged)))
    write_whole(path, page(stage, told, still=still, whatif=judged))


def _drawn(scene: Scene, report: Report, _: Sequence[Change]) -> Stage:
    return build_stage(scene, report)


def course_room(scene: Scene) -> dict[str, Any]:
    """Return a lesson as a page with several takes it, as plain data.

    Raises:
        LessonError: The scene has no lesson, or it cannot be run.
        BookError: The scene's rule book cannot be used.
        MeshError: A mesh file of the scene cannot be used.
    """
    found = taught(scene)
    room = _room(found.stage, found.told, whatif(scene, found.report))
    return {**room, **_entry(scene)}


def write_course(rooms: Sequence[dict[str, Any]], path: Path) -> None:
    """Write one page with several lessons and their index, whole or not at all.

    Args:
        rooms: The lessons, see ``course_room``, in their order.
        path: The file; one that is there is replaced.

    Raises:
        OSError: The file cannot be written; then nothing has changed.
    """
    data = {"course": [*rooms], "live": None}
    words = f"{len(rooms)} lessons."
    write_whole(path, _written(data, COURSE, words, packed=True))


def _entry(scene: Scene) -> dict[str, Any]:
    """Return what the index says of a lesson."""
    steps = scene.lesson.steps if scene.lesson else ()
    minutes = [step.minutes for step in steps if step.minutes is not None]
    return {
        "place": scene.title,
        "questions": sum(step.ask is not None for step in steps),
        "minutes": sum(minutes) if minutes else None,
    }


def page(
    stage: Stage,
    told: dict[str, Any] | None = None,
    *,
    still: bytes | None = None,
    live: dict[str, Any] | None = None,
    whatif: dict[str, Any] | None = None,
) -> bytes:
    """Return the page of a stage.

    Args:
        stage: What is shown.
        told: Its document as a page takes it; made of the stage where it is left out.
        still: A PNG picture, shown by browsers that draw no 3D.
        live: What a page that is served must know, see ``viewer.live.serving.server``.
        whatif: What a page must know that judges by itself what is moved in it.
    """
    data = {
        **_room(stage, told or lean(document(stage)), whatif),
        "live": live,
        "still": None if still is None else _data_uri(still),
    }
    return _written(data, stage.title, _counts(stage))


def _room(
    stage: Stage, told: dict[str, Any], whatif: dict[str, Any] | None
) -> dict[str, Any]:
    return {
        "stage": told,
        "start": plain(view_of_place(stage, _ASPECT)),
        "whatif": whatif,
    }


def _written(
    data: dict[str, Any], title: str, words: str, *, packed: bool = False
) -> bytes:
    """Return a page with its data, its title and what is said without a script.

    Args:
        data: What the script shows.
        title: Of the page.
        words: What is said where no script runs.
        packed: The data is long and has much in common: it is told compressed, as
            every browser that runs the script can read it.
    """
    names = {name.replace("-", "_"): value for name, value in COLOURS.items()}
    live = data["live"] is not None
    style, script = _style(), _part("viewer.js").replace("</script", "<\\/script")
    told = _json(once({**data, "palette": names, "signs": SIGNS}))
    text = Template(_part("template.html")).substitute(
        policy=policy(style, script, live=live),
        title=html.escape(clean(title)),
        counts=html.escape(words),
        style=style,
        kind="application/gzip" if packed else "application/json",
        data=_packed(told) if packed else told,
        script=script,
    )
    # Half a surrogate pair in a title has no UTF-8.
    return text.encode("utf-8", "replace")


def policy(style: str, script: str, *, live: bool) -> str:
    """Return what the page may do: run its own script, show its own data."""
    connect = "'self'" if live else "'none'"
    return (
        "default-src 'none'; base-uri 'none'; form-action 'none'; img-src data:; "
        f"connect-src {connect}; script-src {_hash(script)}; style-src {_hash(style)}"
    )


def _part(name: str) -> str:
    # A browser hashes line feeds only, whatever a checkout has made of them.
    return (WEB / name).read_text(encoding="utf-8").replace("\r\n", "\n")


def _style() -> str:
    colours = "".join(f"--{name}:{value};" for name, value in COLOURS.items())
    return f":root{{{colours}}}\n{_part('style.css')}"


def _hash(text: str) -> str:
    digest = hashlib.sha256(text.encode()).digest()
    return f"'sha256-{base64.b64encode(digest).decode('ascii')}'"


def _data_uri(png: bytes) -> str:
    return f"data:image/png;base64,{base64.b64encode(png).decode('ascii')}"


def _packed(text: str) -> str:
    # Without a time in it: the same scenes give the same bytes.
    data = gzip.compress(text.encode(), _SMALLEST, mtime=0)
    return base64.b64encode(data).decode("ascii")


def _json(data: object) -> str:
    """Write JSON that cannot end the script it stands in, nor open a comment."""
    return json.dumps(data, separators=(",", ":")).replace("<", "\\u003c")


def _counts(stage: Stage) -> str:
    found = Counter(judgement.verdict for judgement in stage.judgements)
    parts = f"{found['not-met']} not met, {found['open']} open, {found['met']} met"
    return f"Judgements: {parts}."
