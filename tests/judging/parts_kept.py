"""Sentences read as a stranger would, to find the parts that their makers kept."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from model3d.judging.results import ROOM
from model3d.wording.said import Amount, Other, parts_of, renamed, sentences_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d import Judgement, Report

FIGURE: Final = re.compile(r"\d (?:mm|m|in|ft|degrees)\b")
IN_BRACKETS: Final = re.compile(r"\((?:under )?\d[\d /.]*(?:mm|m|ft|in)\b[^()]*\)")
NEW_SENTENCE: Final = re.compile(r"(?<=[.]) +(?=[A-Z])")


def parts_lost(report: Report) -> Iterator[str]:
    """Yield what a reader finds in a report and the makers kept as no part."""
    for judged in report.judgements:
        yield from _lost(judged, judged.reason)
        yield from _lost(judged, judged.missing)


def _of_type(text: str, wanted: type[str]) -> list[str]:
    return [part for part in parts_of(text) if type(part) is wanted]


def _lost(judged: Judgement, text: str) -> Iterator[str]:
    if bool(FIGURE.search(text)) != bool(_of_type(text, Amount)):
        yield f"a figure is no part: {text}"
    if IN_BRACKETS.findall(text) != _of_type(text, Other):
        yield f"what stands in brackets is no part: {text}"
    if judged.subject != ROOM:
        own = re.compile(rf"(?<![\w-]){re.escape(judged.subject)}(?![\w-])")
        if own.sub("each", text) != renamed(text, judged.subject, "each"):
            yield f"{judged.subject} is no part: {text}"
    first, *_ = NEW_SENTENCE.split(text)
    if not first.startswith(sentences_of(text)[0]):
        yield f"two sentences are one part: {text}"
