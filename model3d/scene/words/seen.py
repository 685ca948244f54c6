"""What can be seen of an id: two that look alike must not be two things.

Categories, default-ignorable signs and compatible forms are those of the Unicode
Character Database (UAX 44); the two forms of an accent are those of UAX 15.
"""

from __future__ import annotations

import re
import unicodedata
from typing import Final

_UNSEEN: Final = frozenset({"Cc", "Cf", "Co", "Cs", "Zl", "Zp"})
"""Categories of signs that are not seen, or that each computer shows as it likes."""
_BLANKS: Final = re.compile(
    "[\u034f\u115f\u1160\u17b4\u17b5\u180b-\u180f\u2800\u3164\ufe00-\ufe0f\uffa0"
    "\U000e0100-\U000e01ef]"
)
"""Letters and marks that are not seen either: fillers, selectors of a variant."""
_SAME: Final = ("<wide>", "<narrow>", "<noBreak>")
"""How a sign is another one: by its width alone, or by where a line may end."""


def unseen(text: str) -> str | None:
    r"""Return the first sign of a text that is not seen, by its code.

    >>> unseen("LP1"), unseen("LP\u200b1"), unseen("M\u00b2")
    (None, 'U+200B', None)
    """
    if text.isascii() and text.isprintable():
        return None
    for sign in text:
        if unicodedata.category(sign) in _UNSEEN or _BLANKS.match(sign):
            return f"U+{ord(sign):04X}"
    return None


def as_seen(text: str) -> str:
    r"""Return a text so that it is the same as any other that looks as it does.

    >>> as_seen("Ta\u0308fel\u00a0\uff11") == as_seen(" T\u00e4fel 1")
    True
    >>> as_seen("M\u00b2"), as_seen("m2")
    ('M²', 'm2')
    """
    if not text.isascii():
        text = unicodedata.normalize("NFC", "".join(map(_plain, text)))
    return " ".join(text.split())


def _plain(sign: str) -> str:
    is_same = unicodedata.decomposition(sign).startswith(_SAME)
    return unicodedata.normalize("NFKC", sign) if is_same else sign
