"""The workers of a running Dask scheduler, which share no folder with this machine.

Which worker judges what, and what is done again when one dies, is the scheduler's; here
rooms are sent as room is for them, and what comes back is put in its place.
"""

from __future__ import annotations

import logging
import time
import uuid
from collections import OrderedDict
from concurrent.futures import CancelledError
from contextlib import contextmanager, suppress
from dataclasses import replace
from pathlib import PurePosixPath
from typing import TYPE_CHECKING, Any, Final

from viewer.portfolio.parcel import contents_of, judge_parcel, key_of, parcel_of
from viewer.portfolio.room import answer, answered, lost
from viewer.portfolio.version import version
from viewer.wording.refusal import Refused, UnusableError

if TYPE_CHECKING:
    from collections.abc import Generator, Iterator, Sequence

    from viewer.portfolio.parcel import Returned
    from viewer.portfolio.question import Question
    from viewer.portfolio.room import RoomOutcome, RoomTask
    from viewer.report.basis import Basis

PATIENCE: Final = 10.0
"""Seconds until nobody has answered."""
_RETURN: Final = 30.0
"""Seconds that no worker is there until none is left: one that died may come again."""
_LOOK: Final = 2.0
"""Seconds between two looks at who is there."""
_ALL_EVENTS: Final = "all"
"""The scheduler's name for what it tells of everybody."""
_CAME: Final = "add-worker"
"""The scheduler's name for a worker that has come."""
_AHEAD: Final = 4
"""Rooms sent for each that can be worked on: nobody waits, and little is on its way."""
_SOME: Final = "a worker"
_FILES: Final = 64
"""Files that the cluster is asked to keep for rooms to come."""


class NobodyLeftError(Exception):
    """The scheduler, or every worker, is gone."""


def cluster_answers(
    rooms: Sequence[RoomTask], question: Question, address: str, limit: float | None
) -> Generator[tuple[int, RoomOutcome]]:
    """Yield the number of each room and what comes of it, as they are done.

    Args:
        rooms: All of them.
        question: What is asked of each.
        address: Of the scheduler.
        limit: Seconds that a room may take; None where there is no limit.

    Raises:
        UnusableError: Nobody is there, a worker has another version of the program, or
            the extra [cluster] is not installed; in one line.
        NobodyLeftError: Nobody is there any more.
    """
    library = _library()
    with _client(library, address) as client:
        _require_version(client)
        run = _OnItsWay(library, client, rooms, question, limit)
        try:
            yield from run.answers()
        except (CancelledError, OSError) as error:
            raise NobodyLeftError from error
        finally:
            with suppress(Exception):
                client.cancel([*run.pending])


class _OnItsWay:
    """What is on its way."""

    def __init__(
        self,
        library: Any,  # noqa: ANN401 - it brings no types
        client: Any,  # noqa: ANN401
        rooms: Sequence[RoomTask],
        question: Question,
        limit: float | None,
    ) -> None:
        self.library = library
        self.client = client
        self.rooms = rooms
        self.question = question
        self.limit = limit
        self.name = f"standclear-{uuid.uuid4().hex}"
        self.sent = 0
        self.pending: dict[Any, tuple[int, Basis]] = {}
        self.files: OrderedDict[str, Any] = OrderedDict()
        self.doubted: list[int] = []
        self.looked = self.there = time.monotonic()
        self.places = _AHEAD

    def answers(self) -> Iterator[tuple[int, RoomOutcome]]:
        """Yield answers as they come."""
        self.client.subscribe_topic(_ALL_EVENTS, self._hear)
        self._look()
        for number, room in enumerate(self.rooms):
            while len(self.pending) >= self.places:
                yield from self._come()
            found = self._send(number, room)
            if found is not None:
                yield number, found
        while self.pending:
            yield from self._come()
        # Workers had more than one room when they ended: each alone shows which it is.
        for number in self.doubted:
            self.files.clear()  # one may have been lost with a worker
            found = self._send(number, self.rooms[number])
            if found is not None:
                yield number, found
            while self.pending:
                yield from self._come(alone=True)

    def _send(self, number: int, room: RoomTask) -> RoomOutcome | None:
        """Send a room; what needs no judging is answered here."""
        from model3d.scene.text.file_content import scene_bytes  # noqa: PLC0415

        try:
            data = room.data if room.data is not None else scene_bytes(room.file)
            contents = contents_of(room, data, self.question)
        except (OSError, ValueError):
            return answer(room, self.question)  # which says why it cannot be read
        parcel = parcel_of(room, data, [*contents], self.question, self.limit)
        basis = parcel.basis
        if basis == room.before and basis.hash and basis.version:
            return answer(room, self.question)
        future = self.client.submit(
            judge_parcel,
            parcel,
            [self._file(content) for content in contents.values()],
            key=self._key(),
            pure=False,
        )
        self.pending[future] = number, basis
        return None

    def _file(self, content: bytes) -> Any:  # noqa: ANN401 - it brings no types
        """Return what stands for a file that the cluster has, or can make again."""
        key = key_of(content)
        if key not in self.files:
            self.files[key] = self.client.submit(
                bytes, content, key=self._key(), pure=False
            )
        self.files.move_to_end(key)
        while len(self.files) > _FILES:
            self.files.popitem(last=False)
        return self.files[key]

    def _key(self) -> str:
        """Return a name that nothing else has, not even what was sent before."""
        self.sent += 1
        return f"{self.name}-{self.sent}"

    def _come(self, *, alone: bool = False) -> Iterator[tuple[int, RoomOutcome]]:
        """Yield what has come; wait until something has, or nobody is left.

        Args:
            alone: No other room is on its way: one that workers end with is to blame.
        """
        if time.monotonic() - self.looked > _LOOK:
            self._look()
        with suppress(TimeoutError):
            done = self.library.wait(
                [*self.pending], timeout=_LOOK, return_when="FIRST_COMPLETED"
            ).done
            for future in done:
                if not alone and self._is_doubted(future):
                    number, _ = self.pending.pop(future)
                    self.doubted.append(number)
                else:
                    yield self._answer(future)

    def _hear(self, event: tuple[float, dict[str, Any]]) -> None:
        """Note that a worker came: one that dies at once is gone before a look."""
        _, told = event
        if told.get("action") == _CAME:
            self.there = time.monotonic()

    def _look(self) -> None:
        """See who is there.

        Raises:
            NobodyLeftError: Nobody is, for too long.
        """
        if self.client.status != "running":
            raise NobodyLeftError
        workers = self.client.scheduler_info()["workers"].values()
        self.looked = time.monotonic()
        if workers:
            self.there = self.looked
            self.places = _AHEAD * sum(one["nthreads"] for one in workers)
        elif self.looked - self.there > _RETURN:
            raise NobodyLeftError

    def _is_doubted(self, future: Any) -> bool:  # noqa: ANN401 - it brings no types
        return future.status == "error" and self._is_killed(future.exception())

    def _is_killed(self, error: BaseException) -> bool:
        return isinstance(error, self.library.KilledWorker)

    def _answer(self, future: Any) -> tuple[int, RoomOutcome]:  # noqa: ANN401
        number, basis = self.pending.pop(future)
        room = self.rooms[number]
        if future.status in {"cancelled", "lost"}:
            raise NobodyLeftError
        if future.status == "error":
            return number, lost(room, self.question, self._why(future.exception()))
        return number, self._opened(room, basis, future.result())

    def _why(self, error: BaseException) -> str:
        if self._is_killed(error):
            return "not judged: the workers that were at work on it ended"
        return f"not judged: {type(error).__name__}: {error}"

    def _opened(self, room: RoomTask, basis: Basis, returned: Returned) -> RoomOutcome:
        if returned.version != version():
            raise _another_version(_SOME, returned.version)
        if returned.lost:
            return lost(room, self.question, f"not judged: {returned.lost}")
        if returned.answer is not None:
            return returned.answer
        folder = room.file.parent
        mistakes = tuple(
            replace(one, file=str(folder / PurePosixPath(one.file)))
            for one in returned.mistakes
        )
        return answered(Refused(room.file, mistakes), basis, self.question)


def _library() -> Any:  # noqa: ANN401 - it brings no types
    try:
        import dask.config  # noqa: PLC0415 - not everybody has it
    except ImportError:
        msg = (
            "standclear: --cluster needs the extra [cluster]: python -m pip install "
            '"standclear[cluster]"; or use --jobs on this machine'
        )
        raise UnusableError([msg]) from None
    # What it has to say to programmers is nothing to a user.
    dask.config.set({"logging": {"distributed": "critical", "tornado": "critical"}})
    import distributed  # noqa: PLC0415

    for name in ("distributed", "tornado", "asyncio"):
        logging.getLogger(name).setLevel(logging.CRITICAL)
    return distributed


@contextmanager
def _client(library: Any, address: str) -> Iterator[Any]:  # noqa: ANN401
    try:
        client = library.Client(address, timeout=PATIENCE)
    except (OSError, ValueError, ImportError, RuntimeError, TypeError):
        msg = (
            f"--cluster: found nobody at {address}, right is the address of a running "
            "Dask scheduler, like tcp://host:8786"
        )
        raise UnusableError([msg]) from None
    try:
        try:
            client.wait_for_workers(1, timeout=PATIENCE)
        except TimeoutError:
            msg = f"--cluster: found no worker at {address}, right is one or more"
            raise UnusableError([msg]) from None
        yield client
    finally:
        with suppress(Exception):
            client.close(timeout=_LOOK)


def _require_version(client: Any) -> None:  # noqa: ANN401
    """Refuse a worker that would answer by another program.

    Raises:
        UnusableError: There is one; in one line.
    """
    for worker, found in sorted(client.run(version, on_error="return").items()):
        if found != version() or not found:
            raise _another_version(worker, found)


def _another_version(where: str, found: object) -> UnusableError:
    it = f"version {found}" if isinstance(found, str) and found else "no standclear"
    own = version() or "an installed one"
    return UnusableError([f"--cluster: found {it} at {where}, right is {own}"])
