"""Where each mistake of a scene is written: at an item, or at the type it comes from.

A mistake that has to do with a type tells the line of the type and of a use.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.scene.text.gear_file import NOT_IN_A_TYPE, GearMistake, chain_of, told_at
from model3d.scene.words.mistakes import KeyStep, Loc, at_loc

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.scene.text.composing.nodes import Fault
    from model3d.scene.text.entries import Expansion, WrittenItem
    from model3d.scene.words.mistakes import Found

_ITEM: Final = 2
_ADDED: Final = 6
"""Steps of the way to an item, and to one that a lesson adds."""


def told_of(
    short: Expansion, mistakes: list[Found], faults: list[Fault]
) -> list[GearMistake]:
    """Return the mistakes of a scene, each once, in the order of its files.

    Args:
        short: The scene as it is written, and written out.
        mistakes: Those that were found in what is written out.
        faults: Those of the text itself.
    """
    here = short.source.file
    # The value of a tag or a key that cannot be used is no mistake of its own, nor is
    # what comes of a type that has one by itself.
    first = [GearMistake(here, *fault) for fault in faults] + short.mistakes
    faulty = {(one.file, one.mark) for one in first}
    # What a merge key would have brought is not missing.
    merged = {fault.loc for fault in faults if "(<<)" in fault.message}
    later: dict[object, GearMistake] = {}
    for loc, message in mistakes:
        if loc[:-1] in merged and message.startswith("found nothing"):
            continue
        one = _told(short, loc, message)
        if one is not None and (one.file, one.mark) not in faulty:
            # Copies of an item have one place, and no two lines for one mistake.
            whose = None if _is_copied(short, loc) else loc
            later.setdefault((one.file, one.mark, message, whose), one)
    uses = _uses(short)
    of_type = {
        entry.loc: entry for entry in short.entries.values() if entry.type is not None
    }
    told = [
        _with_both_lines(one, uses, of_type, here)
        for one in dict.fromkeys([*first, *later.values()])
    ]
    return sorted(
        told, key=lambda one: (one.file != here, one.file, one.mark, one.message)
    )


def _told(short: Expansion, loc: Loc, message: str) -> GearMistake | None:
    """Return a mistake at the place where what it is about is written."""
    entry, rest = short.entry_at(loc)
    if entry is None:
        return short.source.told(loc, message)
    if rest and rest[0] in entry.inherited:
        one = entry.inherited[str(rest[0])]
        return one.source.told((*one.loc, *rest), message)
    own = at_loc(short.source.root.value, entry.loc)
    if entry.broken and not (rest and isinstance(own, dict) and rest[0] in own):
        return None
    return short.source.told((*entry.loc, *rest), message)


def _is_copied(short: Expansion, loc: Loc) -> bool:
    entry, rest = short.entry_at(loc)
    return entry is not None and bool(
        entry.count > 1 or (rest and rest[0] in entry.inherited)
    )


def _with_both_lines(
    told: GearMistake,
    uses: dict[str, list[tuple[GearMistake, str]]],
    of_type: dict[Loc, WrittenItem],
    here: str,
) -> GearMistake:
    """Return a mistake that tells the line of a type and of its use, if it has one."""
    if told.loc[:1] == ("types",) and len(told.loc) > 1:
        users = uses.get(str(told.loc[1]), [])
        if not users:
            return told
        use, name = users[0]
        there = told_at(use.file, use.mark, told.file)
        more = f" and {len(users) - 1} more" if len(users) > 1 else ""
        return told.saying(f"; used in {there}{name and f' ({name})'}{more}")
    entry = of_type.get(told.loc[:_ITEM]) or of_type.get(told.loc[:_ADDED])
    own = told.loc[len(entry.loc) :] if entry else ()
    if told.file != here or entry is None or entry.type is None:
        return told
    if own and own[0] in NOT_IN_A_TYPE:
        return told  # what no type can say has nothing to do with it
    there = told_at(entry.type.source.file, entry.type.mark, told.file)
    return told.saying(f"; of type {entry.type.name} ({there})")


def _uses(short: Expansion) -> dict[str, list[tuple[GearMistake, str]]]:
    """Return the uses of each type, with the ids that are written there."""
    found: dict[str, list[tuple[GearMistake, str]]] = {}
    for entry in _once(short):
        own = at_loc(short.source.root.value, (*entry.loc, "id"))
        name = str(own) if isinstance(own, str | int) else ""
        use = short.source.told((*entry.loc, KeyStep("type")), "")
        base = entry.type.name if entry.type else ""
        for one in chain_of(base, short.types):
            found.setdefault(one.name, []).append((use, name))
    return found


def _once(short: Expansion) -> Iterator[WrittenItem]:
    for entry in short.entries.values():
        if entry.type is not None and entry.copy == 0:
            yield entry
