"""Answers that are worked out some at a time."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model3d.egress.ground.lookahead import Lookahead

if TYPE_CHECKING:
    from collections.abc import Sequence


def squares(order: Sequence[int]) -> tuple[Lookahead[int, int], list[list[int]]]:
    """Return what answers with squares, and what it worked out each time."""
    worked: list[list[int]] = []

    def work(some: Sequence[int]) -> list[int]:
        worked.append([*some])
        return [one * one for one in some]

    return Lookahead(order, work), worked


def test_whoever_asks_for_all_has_them_worked_out_together() -> None:
    asked, worked = squares(range(300))
    assert [asked.of(one) for one in range(300)] == [one * one for one in range(300)]
    assert [len(some) for some in worked] == [1, 2, 4, 8, 16, 32, 64, 64, 64, 45]


def test_whoever_asks_for_some_has_no_more_than_twice_as_many_worked_out() -> None:
    asked, worked = squares(range(300))
    for one in range(0, 300, 30):
        assert asked.of(one) == one * one
    assert sum(map(len, worked)) < 2 * len(range(0, 300, 30))


def test_nothing_is_worked_out_twice() -> None:
    asked, worked = squares(range(20))
    for one in (5, 3, 4, 5, 0, 1, 2, 3, 19, 5):
        assert asked.of(one) == one * one
    every = [one for some in worked for one in some]
    assert len(every) == len(set(every))


def test_what_is_not_in_the_order_is_worked_out_alone() -> None:
    asked, worked = squares(range(5))
    assert asked.of(7) == 49
    assert worked == [[7]]
