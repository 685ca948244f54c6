"""Words of the trade that are other names for a kind of item."""

import re
from typing import Final

_OTHER_WORDS: Final = {
    "panelboard": "load-center pnl rpp load-centre breaker-panel "
    "lighting-panel distribution-panel power-panel receptacle-panel branch-panel "
    "ltg-panel rcpt-panel",
    "switchboard": "swbd distribution-board main-switchboard",
    "switchgear": "swgr metal-clad ring-main-unit rmu",
    "motor-control-center": "mcc motor-control-centre",
    "disconnect": "disc safety-switch isolator disconnector disconnect-switch",
    "transfer-switch": "ats mts automatic-transfer-switch",
    "control-panel": "control-cabinet plc-panel",
    "ups": "uninterruptible-power-supply",
    "transformer": "xfmr",
    "battery-rack": "battery-stand",
    "drive": "inverter vfd vsd asd variable-frequency-drive",
    "generator": "genset generator-set",
    "current-transformer-cabinet": "ct-cabinet ct-enclosure ct-can",
    "energy-storage-unit": "ess bess energy-storage-system lithium-battery",
    "meter-socket": "meter-base meter-can",
    "wireway": "gutter auxiliary-gutter trough wire-trough raceway",
    "junction-box": "splice-box j-box",
    "cable-tray": "cable-ladder cable-basket",
    "conduit": "emt raceway conduit-run",
    "busway": "bus-duct busduct busbar-trunking",
    "pad": "housekeeping-pad equipment-pad plinth",
    "support": "strut stand",
    "spill-tray": "spill-containment spill-pan acid-tray",
    "pipe": "water-pipe steam-pipe drain-pipe piping",
    "gas-pipe": "gas-line gas-piping",
    "duct": "air-duct ductwork",
    "leak-guard": "drip-pan drip-tray drip-shield",
    "shelf": "shelving shelves",
    "storage": "goods stored-goods boxes",
    "machine": "pump fan boiler compressor",
    "luminaire": "light light-fixture fixture lamp",
    "sprinkler": "sprinkler-head sprinkler-pipe",
    "column": "pillar",
    "beam": "joist girder",
    "wall": "partition",
    "platform": "raised-floor landing",
    "stair": "steps stairs staircase",
    "ceiling": "suspended-ceiling drop-ceiling lay-in-ceiling",
    "pit": "trench floor-opening",
}
"""In small letters with hyphens; a blank stands between two."""


def other_words(kind: str) -> tuple[str, ...]:
    """Return the words of the trade that are other names for a kind.

    >>> other_words("busway")
    ('bus-duct', 'busduct', 'busbar-trunking')
    """
    return tuple(_OTHER_WORDS.get(kind, "").split())


def kinds_called(word: str) -> tuple[str, ...]:
    """Return the kinds for which a word of the trade is another name.

    >>> kinds_called("Gutter"), kinds_called("bus duct"), kinds_called("zebra")
    (('wireway',), ('busway',), ())
    """
    plain = re.sub(r"[\s_-]", "", word.casefold())
    return tuple(
        kind
        for kind in _OTHER_WORDS
        if plain in {one.replace("-", "") for one in other_words(kind)}
    )
