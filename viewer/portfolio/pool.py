"""Processes that work side by side: started once, each has one task at a time.

The pools of Python's own library give up all tasks when one process is killed, and do
not say which task it had. Here every process has a pipe of its own, so the one that is
gone is known with its task, another takes its place, and the others go on.
"""

from __future__ import annotations

import logging
import os
import signal
import threading
import warnings
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from multiprocessing import get_context, parent_process
from multiprocessing.connection import wait
from typing import TYPE_CHECKING, Any, Final, Generic, TypeVar

if TYPE_CHECKING:
    from collections.abc import Callable, Generator, Iterator, Sequence
    from multiprocessing.connection import Connection
    from multiprocessing.context import SpawnProcess

Task = TypeVar("Task")
Result = TypeVar("Result")

MOST: Final = 60 if os.name == "nt" else 1_000
"""Processes; Windows waits for so many pipes at a time, and a few are its own."""
_GONE: Final = (EOFError, OSError)
"""What a pipe says when there is nobody at its other end."""
_SECONDS: Final = 5.0
"""A process that was told to end has so long."""


@dataclass(frozen=True, slots=True)
class Lost:
    """A task whose process is gone.

    Attributes:
        why: How it ended.
    """

    why: str


@dataclass(frozen=True, slots=True)
class _Worker:
    process: SpawnProcess
    pipe: Connection[Any, Any]
    task: int


def results(
    work: Callable[[Task], Result], tasks: Sequence[Task], jobs: int
) -> Generator[tuple[int, Result | Lost]]:
    """Yield the number of each task and what comes of it, as they are done.

    With one job the work is done here, in its order; else by processes, which begin
    the tasks in their order. Work, tasks and results must be fit for pickling. When the
    iterator is closed, or something is raised here, no process is left.

    Args:
        work: What is done with a task.
        tasks: All of them.
        jobs: How many processes there are, at most.
    """
    jobs = min(jobs, len(tasks), MOST)
    if jobs <= 1:
        for number, task in enumerate(tasks):
            yield number, work(task)
        return
    yield from _Pool(work, tasks).results(jobs)


class _Pool(Generic[Task, Result]):
    """The processes of one run, and the task that each of them has."""

    def __init__(self, work: Callable[[Task], Result], tasks: Sequence[Task]) -> None:
        self.work = work
        self.tasks = tasks
        self.waiting = iter(range(len(tasks)))
        self.busy: dict[Connection[Any, Any], _Worker] = {}
        # The one way to start a process that is the same on every system.
        self.context = get_context("spawn")

    def results(self, jobs: int) -> Generator[tuple[int, Result | Lost]]:
        """Yield results as they come; every task has one."""
        try:
            for _ in range(jobs):
                self._start()
            while self.busy:
                for pipe in wait([*self.busy]):
                    yield self._result(self.busy[pipe])  # type: ignore[index]
        finally:
            for worker in self.busy.values():
                worker.process.terminate()
            for worker in self.busy.values():
                _end(worker)

    def _result(self, worker: _Worker) -> tuple[int, Result | Lost]:
        found: Result | Lost
        try:
            found = worker.pipe.recv()
        except _GONE:
            del self.busy[worker.pipe]
            found = Lost(_how_it_ended(worker))
            self._start()
        else:
            self._hand_over(worker)
        return worker.task, found

    def _hand_over(self, worker: _Worker) -> None:
        """Give a process its next task; where there is none, it ends."""
        task = next(self.waiting, None)
        if task is None:
            del self.busy[worker.pipe]
            worker.pipe.close()
            _end(worker)
            return
        self.busy[worker.pipe] = _Worker(worker.process, worker.pipe, task)
        with suppress(*_GONE):  # whoever waits for it is told
            worker.pipe.send(self.tasks[task])

    def _start(self) -> None:
        """Start a process for the next task, if there is one."""
        task = next(self.waiting, None)
        if task is None:
            return
        ours, its = self.context.Pipe()
        process = self.context.Process(target=_serve, args=(its, self.work))
        process.daemon = True
        with _ctrl_c_ignored():
            process.start()
        its.close()
        self.busy[ours] = _Worker(process, ours, task)
        with suppress(*_GONE):
            ours.send(self.tasks[task])


def _serve(pipe: Connection[Any, Any], work: Callable[[Any], Any]) -> None:
    """Do one task after the other; runs in a process of its own."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # whoever started it ends it
    threading.Thread(target=_leave_with_parent, daemon=True).start()
    # What a library has to say to programmers is nothing to a user.
    warnings.simplefilter("ignore")
    logging.getLogger().addHandler(logging.NullHandler())
    with suppress(*_GONE):
        while True:
            pipe.send(work(pipe.recv()))


def _leave_with_parent() -> None:
    """End at once when the process that started this one is gone."""
    parent = parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)


@contextmanager
def _ctrl_c_ignored() -> Iterator[None]:
    """Start processes that leave Ctrl-C alone before they can say so themselves."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)


def _how_it_ended(worker: _Worker) -> str:
    worker.process.join(_SECONDS)
    code = worker.process.exitcode
    _end(worker)
    if code is None:
        return "it said no more"
    if code >= 0:
        return f"exit status {code}"
    with suppress(ValueError):
        return f"signal {-code}, {signal.Signals(-code).name}"
    return f"signal {-code}"


def _end(worker: _Worker) -> None:
    worker.process.join(_SECONDS)
    if worker.process.is_alive():
        worker.process.kill()
        worker.process.join()
    worker.process.close()
    worker.pipe.close()
