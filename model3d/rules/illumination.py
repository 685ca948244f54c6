"""Light in the working space.

Applies to: rooms with equipment that the rule names: by kind, as service equipment, or
above the low-voltage table.

Measures: nothing. That the room is lit, and what switches the light, must be stated
(lighting in the room); a luminaire in the scene says that there is light.

Breach: no light, or light that automatic means alone control.

Exceptions: outdoors nothing is asked for. 29 CFR 1926 does not bar automatic control,
nor does 29 CFR 1910 above the low-voltage table.

Source: NEC 110.26(D), 110.34(D); 29 CFR 1910.303(g)(1)(v), (h)(5)(iv); 29 CFR
1926.403(i)(1)(v), (j)(3)(ii).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.codebook.unread import unread_rules
from model3d.judging.requirement import requirement_of
from model3d.judging.results import ROOM, Judgement
from model3d.working import is_high_voltage

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model3d.codebook import Entry
    from model3d.judging.results import Verdict
    from model3d.judging.situation import Situation
    from model3d.scene.parts.stated import Lighting
    from model3d.standing.placed import Placed

TABLES: Final = ("illumination",)
REQUIREMENT: Final = requirement_of(__name__)
_SERVICE: Final = "service-equipment"
_BARRED: Final = {
    "required": "automatic_only_barred",
    "high_voltage_required": "high_voltage_automatic_barred",
}
"""The key that bars automatic control, by the key that asks for light."""


def room_claims(situation: Situation) -> Iterator[Judgement]:
    """Judge the lighting of the room, once."""
    entry = situation.book.entry(TABLES[0])
    if situation.outdoors and entry.flag("indoors_only"):
        return
    needed = {_key(item, entry, situation) for item in situation.live} - {""}
    if not needed:
        return
    # What holds at low voltage says more than its counterpart.
    key = max(needed, key=("high_voltage_required", "required").index)
    verdict, reason, decides = _answer(situation, entry, key)
    yield Judgement(
        REQUIREMENT,
        ROOM,
        verdict,
        entry.cite(decides),
        reason,
        missing=reason if verdict == "open" else "",
        unread=unread_rules(entry, decides),
    )


def _key(item: Placed, entry: Entry, situation: Situation) -> str:
    """Return the key of the sentence that asks for light at an item, or ""."""
    if is_high_voltage(item, situation):
        return "high_voltage_required"
    kinds = entry.words("kinds")
    service = item.item is not None and bool(item.item.service) and _SERVICE in kinds
    return "required" if service or item.kind.name in kinds else ""


def _answer(situation: Situation, entry: Entry, key: str) -> tuple[Verdict, str, str]:
    """Return verdict, reason and the key of the sentence that decides."""
    stated = situation.scene.stated.lighting
    shown = any(item.kind.luminaire for item in situation.items)
    if stated is None and not shown:
        return "open", f"Say whether the working spaces are lit: {_SAY}", key
    if stated is not None and not stated.present:
        return "not-met", "The working spaces are not lit.", key
    barred = _BARRED[key]
    if not entry.flag(barred):
        return "met", "The working spaces are lit.", key
    return *_control(stated), barred


def _control(stated: Lighting | None) -> tuple[Verdict, str]:
    match stated.control if stated else None:
        case None:
            return "open", f"Say what switches the light: {_SAY}"
        case "automatic":
            return "not-met", "Automatic means alone control the light."
        case _:
            return "met", "The light is not controlled by automatic means only."


_SAY: Final = "lighting in the room, with present and control."
