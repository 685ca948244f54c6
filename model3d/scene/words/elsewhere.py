"""What people write for keys that the format calls, or places, another way."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.scene.words.nearest import nearest

if TYPE_CHECKING:
    from collections.abc import Collection

_PLACE: Final = ("place", "{wall: north, along: 800}")
_HUNG: Final = ("place", "{wall: north, along: 800, bottom: 900}")
_AT: Final = ("place", "{at: [1200, 900], facing: south}")
_SUPPLY: Final = ("supply", "{system: 480Y/277, amps: 400}")
_SIZE: Final = "[width, depth, height]"
_CALLED: Final = {
    **dict.fromkeys(("voltage", "volts"), "system"),
    **dict.fromkeys(("amperage", "current", "rating"), "amps"),
    **dict.fromkeys(("offset", "from_left"), "along"),
    **dict.fromkeys(("mounting_height", "elevation", "aff"), "bottom"),
    **dict.fromkeys(("orientation", "rotation", "direction", "angle"), "facing"),
    **dict.fromkeys(("on", "on_top_of", "sits_on"), "stands_on"),
    **dict.fromkeys(("ceiling", "ceiling_height"), "height"),
    **dict.fromkeys(("spacing", "pitch"), "step"),
    **dict.fromkeys(("copies", "quantity"), "count"),
    **dict.fromkeys(("equipment", "devices", "objects"), "items"),
    **dict.fromkeys(("description", "label"), "name"),
    **dict.fromkeys(("dimensions", "dims"), "size"),
    **dict.fromkeys(("code", "codebook", "rulebook"), "rules"),
    **dict.fromkeys(("times", "number"), "count"),
    **dict.fromkeys(("dn", "od", "radius"), "diameter"),
    "above": "over",
    **dict.fromkeys(("below", "beneath"), "under"),
    "start": "from",
    "end": "to",
    "swing": "opens",
    "top": "above",
    "back": "rear",
}
"""Words of the trade, and the key that they mean where it is known: common practice."""
_PARTS: Final = {
    **dict.fromkeys(("width", "depth", "height"), ("size", _SIZE)),
    "length": ("size", f"{_SIZE}, or from and to of a run"),
    **dict.fromkeys(("wall", "along", "offset", "gap"), _PLACE),
    **dict.fromkeys(("position", "location", "mounting"), _PLACE),
    **dict.fromkeys(("bottom", "elevation", "aff", "mounting_height"), _HUNG),
    **dict.fromkeys(("at", "facing", "x", "y", "rotation", "orientation"), _AT),
    "stands_on": ("place", "{stands_on: PAD1}"),
    "over": ("place", "{over: LP1}"),
    "under": ("place", "{under: LP1}"),
    **dict.fromkeys(("system", "voltage", "volts", "amps", "amperage"), _SUPPLY),
    "hinge": ("door", "left, or doors"),
}
"""What is right at an item for a key of one of its parts."""
_WORDS: Final = {
    **dict.fromkeys(("lh", "l.h."), "left"),
    **dict.fromkeys(("rh", "r.h."), "right"),
    **dict.fromkeys(("double", "both"), "pair"),
    **dict.fromkeys(("push bar", "crash bar", "exit device"), "panic"),
    "metric": "si",
    **dict.fromkeys(("imperial", "us"), "inch-pound"),
    **dict.fromkeys(("inch", "inches"), "in"),
    **dict.fromkeys(("foot", "feet"), "ft"),
    **dict.fromkeys(("millimeter", "millimeters", "millimetre", "millimetres"), "mm"),
    **dict.fromkeys(("meter", "meters", "metre", "metres"), "m"),
}
"""Words for one of the words that a key may have (common practice)."""
_WALLS: Final = {
    **dict.fromkeys(("cmu", "cinderblock", "cinder block", "masonry"), "block"),
    **dict.fromkeys(("gwb", "gyp", "gypsum board", "plasterboard"), "gypsum"),
    **dict.fromkeys(("steel", "sheet metal"), "metal"),
}
"""Words for what faces a room (common practice)."""


def meant_key(key: str, known: Collection[str]) -> str | None:
    """Return the known key that another one was meant for.

    >>> meant_key("widht", ["width"]), meant_key("voltage", ["system", "amps"])
    ('width', 'system')
    >>> meant_key("voltage", ["size"]) is None
    True
    """
    called = _CALLED.get(key.casefold())
    return called if called in known else nearest(key, known)


def meant_word(word: str, known: Collection[str]) -> str | None:
    """Return the known word that another one was meant for.

    >>> meant_word("LH", ["left", "right"]), meant_word("left-hand", ["left", "right"])
    ('left', 'left')
    """
    called = _WORDS.get(word.casefold())
    return called if called in known else nearest(word, known)


def within_item(key: str) -> tuple[str, str] | None:
    """Return the key of an item whose part a key belongs into, and how that is written.

    >>> within_item("depth")
    ('size', '[width, depth, height]')
    """
    return _PARTS.get(key.casefold())


def wall_called(word: str) -> str | None:
    """Return the format's own word for what faces a room.

    >>> wall_called("CMU"), wall_called("velvet")
    ('block', None)
    """
    return _WALLS.get(word.casefold())
