"""What follows from a kind for the judging, in words, from the columns of its row."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from model3d.scene.kinds import Kind

_FOLLOWS: Final = {
    "needs_working_space": "it needs a working space in front, and a way out of it",
    "dedicated": "the space above and below it is kept for electrical equipment",
    "sectional": "it is built of sections: where two touch, line_up is asked for",
    "without_devices": "it holds no overcurrent, switching or control devices, so what "
    "is asked of large equipment and of personnel doors is not asked of it",
    "rack": "its cells have rules of their own: tiers, top_clearance",
    "cabinet": "its cells have rules of their own: tiers, or listed: true",
    "storage_unit": "it stands apart from others of its kind",
    "holds_meter": "meters stand in it",
    "meter": "it may reach further into a working space than other equipment",
    "leak_guard": "it protects what is below it",
    "holds_goods": "goods stand in it: its box is drawn around its boards",
    "goods": "it must not be stored in a working space",
    "gas": "it must stay out of battery rooms",
    "sprinkler": "sprinklers have sentences of their own",
    "luminaire": "lights have sentences of their own",
    "underfoot": "equipment and people stand on it as on a floor",
    "stair": "people walk on it",
    "hole": "the floor has a hole there: nobody stands over it",
    "spans": "it may cross the space of equipment above ceilings and in crawl spaces",
    "backing": "equipment is fixed to it with its back",
    "anything": "it may be anything: say foreign and grounded where they matter",
}
"""What a column says where it is true."""


_IN_COLUMNS: Final = ("needs_working_space", "dedicated")
"""What a table of kinds tells in columns of their own."""


def in_columns(kind: Kind) -> tuple[str, str, str, str, str]:
    """Return it in columns: space, above it, what it is of, surface, and more.

    >>> from model3d.scene.kinds import KINDS
    >>> in_columns(KINDS["transformer"])[:4]
    ('yes', '', 'electrical', 'grounded')
    """
    of = {kind.associated: "electrical", kind.foreign: "foreign"}.get(True)
    surface = {None: "say", True: "grounded", False: "not"}[kind.grounded]
    more = [
        words
        for column, words in _FOLLOWS.items()
        if getattr(kind, column) and column not in _IN_COLUMNS
    ]
    return (
        "yes" if kind.needs_working_space else "",
        "yes" if kind.dedicated else "",
        of or ("building" if kind.structure else ""),
        "" if kind.hole or kind.anything else surface,
        "; ".join(more),
    )


def consequences(kind: Kind) -> tuple[str, ...]:
    """Return what follows from a kind, unless its item says otherwise."""
    belongs: tuple[str, ...] = ()
    if kind.associated:
        own = kind.needs_working_space or kind.meter
        belongs = (
            "it belongs to the electrical installation"
            + ("" if own else ": it may reach a little past the front of other gear"),
        )
    elif kind.foreign:
        belongs = ("it is foreign to the electrical installation",)
    elif kind.structure:
        belongs = ("it is part of the building",)
    told = [words for column, words in _FOLLOWS.items() if getattr(kind, column)]
    return (*told[:1], *belongs, *told[1:], *_surface(kind))


def _surface(kind: Kind) -> tuple[str, ...]:
    if kind.hole or kind.anything:
        return ()
    match kind.grounded:
        case None:
            return ("whether its surface counts as grounded is asked for: grounded",)
        case True:
            return ("its surface counts as grounded",)
        case _:
            return ("its surface does not count as grounded",)
