"""The lines that are open to a server: so many, and each only as long as it is used."""

from __future__ import annotations

import math
import socket
import threading
import time
from contextlib import suppress
from dataclasses import dataclass
from typing import Final

MOST: Final = 256
"""Open at once; a browser opens six."""


@dataclass(slots=True)
class _Use:
    """What a line is used for.

    Attributes:
        until: When it is cut, by the clock that never goes back, seconds.
        idle: Nothing is being answered on it; what was sent there may be half of it.
    """

    until: float
    idle: bool


class Lines:
    """Every open line, and until when it may be; safe from any thread."""

    def __init__(self, most: int = MOST) -> None:
        self._most = most
        self._uses: dict[socket.socket, _Use] = {}
        self._lock = threading.Lock()

    def __len__(self) -> int:
        return len(self._uses)

    def take(self, line: socket.socket, seconds: float) -> bool:
        """Count a new line, and tell whether there is room for it.

        Where all are taken, the one that is idle and would be cut first is cut now.
        """
        with self._lock:
            if len(self._uses) >= self._most:
                idle = [one for one, use in self._uses.items() if use.idle]
                if not idle:
                    return False
                first = min(idle, key=lambda one: self._uses[one].until)
                _cut(first)
                del self._uses[first]
            self._uses[line] = _Use(time.monotonic() + seconds, idle=True)
            return True

    def keep(
        self, line: socket.socket, seconds: float = math.inf, *, idle: bool = False
    ) -> None:
        """Say how much longer a line may be open, counted from now."""
        with self._lock:
            if line in self._uses:
                self._uses[line] = _Use(time.monotonic() + seconds, idle)

    def leave(self, line: socket.socket) -> None:
        """Forget a line that has been closed."""
        with self._lock:
            self._uses.pop(line, None)

    def cut_late(self) -> None:
        """Cut every line whose time is over; whoever reads from it is told its end."""
        now = time.monotonic()
        with self._lock:
            for line, use in self._uses.items():
                if use.until < now:
                    _cut(line)


def _cut(line: socket.socket) -> None:
    with suppress(OSError):
        line.shutdown(socket.SHUT_RDWR)
