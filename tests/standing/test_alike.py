"""Ids that are not the same by letter case alone: the product's own contract."""

from __future__ import annotations

from model3d import check, read_text

TEXT = """\
title: Alike
units: mm
rules: nec-2023
room:
  size: [4000, 3000]
  height: 2700
  doors:
    - {id: t1, wall: south, along: 0, width: 900, height: 2100}
items:
  - {id: T1, kind: obstacle, size: [500, 150, 900], place: {at: [1000, 1000]}}
  - {id: T2, kind: obstacle, size: [500, 150, 900], place: {at: [3000, 1000]}}
"""


def test_an_id_that_is_another_by_its_case_is_told() -> None:
    report = check(read_text(TEXT, "room.yaml"))
    told = [(one.item, one.what) for one in report.assumed]
    assert told == [("T1", "It is not t1: letters of another case make another id.")]
