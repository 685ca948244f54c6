"""Put it right: where a thing may stand, and the smallest change that cures a breach.

``free_places`` maps where an item may stand; ``remedies`` offers changes as data, each
of them proved by a check of the whole scene.
"""

from __future__ import annotations
