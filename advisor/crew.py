"""Jobs done by several processes; one that hangs or dies costs one job, which is told, and never the rest."""

from __future__ import annotations

import contextlib
import multiprocessing
import os
import signal
import time
import traceback
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from enum import Enum
from multiprocessing.connection import Connection, wait
from pathlib import Path
from types import TracebackType
from typing import Any, Generic, TypeVar

from advisor.errors import AdvisorError

PATIENCE = 60.0
"""Seconds that one job may take before its process is held to hang."""
STARTING = 180.0
"""Seconds that a process may take to load the rules and begin."""
WINDOW = 32
"""For each process so many jobs at most are begun beyond the oldest that is not done: what memory must hold."""
_AHEAD = 2
_TICK = 0.2

Job = TypeVar("Job")
Result = TypeVar("Result")


class _Said(Enum):
    """What a process tells, or its silence, besides results."""

    READY, GONE = range(2)


class CrewError(AdvisorError):
    """A process could not begin its work at all."""


@dataclass(frozen=True)
class Lost:
    """In place of the result of a job: why there is none. `failed` tells an exception from a process that is gone."""

    why: str
    failed: bool


@dataclass
class _Task(Generic[Job, Result]):
    """A job, and what came of it."""

    job: Job
    result: Result | Lost | None = None


@dataclass
class _Hand(Generic[Job, Result]):
    """One process: the tasks it has, the oldest of which it works on, and when it last moved on."""

    process: Any
    connection: Connection
    since: float
    ready: bool = False
    tasks: deque[_Task[Job, Result]] = field(default_factory=deque)

    def stuck(self, patience: float) -> bool:
        """Whether it works on the same job, or begins, for too long."""
        busy = bool(self.tasks) or not self.ready
        return busy and time.monotonic() - self.since > (patience if self.ready else STARTING)

    def give(self, task: _Task[Job, Result]) -> None:
        """Hand it a job."""
        if not self.tasks:
            self.since = time.monotonic()
        self.tasks.append(task)
        with contextlib.suppress(OSError):  # a process that has died is found by what it no longer sends
            self.connection.send(task.job)

    def end(self) -> None:
        """End the process at once."""
        self.process.kill()
        self.process.join()
        self.connection.close()


class Crew(Generic[Job, Result]):
    """Processes that do jobs.

    `build` is called in each process and gives what does a job. It, the jobs and the results cross between the
    processes by pickle; jobs are small, since one is sent while another is worked on, and no result is None.
    """

    def __init__(self, build: Callable[[], Callable[[Job], Result]], hands: int, patience: float = PATIENCE) -> None:
        self._build, self._patience = build, patience
        self._context = multiprocessing.get_context("spawn")
        self._hands = [self._hire() for _ in range(hands)]

    def __enter__(self) -> Crew[Job, Result]:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None,
                 trace: TracebackType | None) -> None:
        self.close()

    def close(self) -> None:
        """End all processes."""
        for hand in self._hands:
            hand.end()

    def run(self, jobs: Iterable[Job]) -> Iterator[tuple[Job, Result | Lost]]:
        """Each job and its result, in the order of the jobs, however many processes there are.

        Jobs are taken and results given as the work goes on, so that neither need be in memory together. Whoever
        does not read to the end closes the crew.

        Raises:
            CrewError: when a process ends before it begins.
        """
        coming = (_Task[Job, Result](job) for job in jobs)
        again: deque[_Task[Job, Result]] = deque()
        begun: deque[_Task[Job, Result]] = deque()
        more = True
        while more or begun:
            for hand in self._free():
                task = again.popleft() if again else None
                if task is None and more and len(begun) < WINDOW * len(self._hands):
                    task = next(coming, None)
                    more = task is not None
                    begun.extend([task] if task else [])
                if task is not None:
                    hand.give(task)
            self._listen(again)
            while begun and (result := begun[0].result) is not None:
                yield begun.popleft().job, result

    def _free(self) -> Iterator[_Hand[Job, Result]]:
        """Those that can take another job, the least busy first."""
        return (hand for ahead in range(_AHEAD) for hand in self._hands if hand.ready and len(hand.tasks) <= ahead)

    def _listen(self, again: deque[_Task[Job, Result]]) -> None:
        """Wait for what the processes say; jobs that a lost one had not begun are put down to be done again."""
        speaking = wait([hand.connection for hand in self._hands], _TICK)
        for hand in list(self._hands):
            said = self._heard(hand) if hand.connection in speaking else None
            if said is _Said.READY:
                hand.ready, hand.since = True, time.monotonic()
            elif said is _Said.GONE:
                self._replace(hand, again, None)
            elif said is None and hand.stuck(self._patience):
                self._replace(hand, again, f"took more than {self._patience if hand.ready else STARTING:g} s")
            elif said is not None:
                hand.tasks.popleft().result = said
                hand.since = time.monotonic()

    def _heard(self, hand: _Hand[Job, Result]) -> Any:
        try:
            return hand.connection.recv()
        except (EOFError, OSError):
            return _Said.GONE

    def _hire(self) -> _Hand[Job, Result]:
        ours, theirs = self._context.Pipe()
        process = self._context.Process(target=_work, args=(theirs, self._build), daemon=True)
        with _interrupts_held_back():
            process.start()
        theirs.close()
        return _Hand(process, ours, time.monotonic())

    def _replace(self, hand: _Hand[Job, Result], again: deque[_Task[Job, Result]], hung: str | None) -> None:
        """Put another process in the place of one that is lost; the job it worked on is lost, the others are not."""
        hand.end()
        how = hung or _death(hand.process.exitcode)
        if not hand.ready:
            raise CrewError(f"a process {how} before it began its work", help="try with fewer processes")
        if hand.tasks:
            hand.tasks.popleft().result = Lost(how, failed=False)
        again.extendleft(reversed(hand.tasks))
        self._hands[self._hands.index(hand)] = self._hire()


@contextlib.contextmanager
def _interrupts_held_back() -> Iterator[None]:
    """A process begun meanwhile never sees Ctrl-C, which is its parent's business; the parent sees it afterwards."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _death(code: int | None) -> str:
    if code is not None and code < 0:
        return f"was ended by signal {signal.Signals(-code).name}"
    return f"ended with status {code}"


def _work(connection: Connection, build: Callable[[], Callable[[Job], Result]]) -> None:
    """The life of one process."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    do = build()
    connection.send(_Said.READY)
    while True:
        try:
            job = connection.recv()
        except EOFError:
            os._exit(0)
        connection.send(done(do, job))


def done(do: Callable[[Job], Result], job: Job) -> Result | Lost:
    """One job; an exception is told, with the place where it was raised, like a result."""
    try:
        return do(job)
    except Exception as error:
        frame = traceback.extract_tb(error.__traceback__)[-1]
        place = f"{Path(frame.filename).name}:{frame.lineno}"
        return Lost(f"{type(error).__name__}: {error} ({place})", failed=True)
