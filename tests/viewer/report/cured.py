"""The example rooms' remedies, looked for once: it takes a while."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from tests.viewer.figure.examples import report_of
from viewer.report.document.cures import cures_of
from viewer.report.document.dossier import dossier

if TYPE_CHECKING:
    from viewer.report.document.content import Document, Paper
    from viewer.report.document.cures import Cures


@cache
def cures_in(name: str) -> Cures:
    """Look for what cures an example room."""
    return cures_of(report_of(name))


def report_on(*names: str, paper: Paper = "a4", every: bool = False) -> Document:
    """Return the report on example rooms."""
    reports, cured = zip(
        *((report_of(name), cures_in(name)) for name in names), strict=True
    )
    return dossier(reports, paper=paper, every=every, cured=cured)
