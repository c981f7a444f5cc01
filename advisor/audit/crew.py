"""Work split over processes; a process that hangs or dies costs one job, named in a fault, and never the audit."""

from __future__ import annotations

import multiprocessing
import os
import signal
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from multiprocessing.connection import Connection, wait
from typing import Any, Protocol

from advisor.audit.bench import Job
from advisor.audit.findings import Fault, Tally
from advisor.errors import AdvisorError

CHUNK = 20
PATIENCE = 60.0
"""Seconds that one job may take before its process is held to hang."""
STARTING = 180.0
"""Seconds that a process may take to load the rules and begin."""
_TICK = 0.2
READY = "ready"


class CrewError(AdvisorError):
    """A process could not begin its work at all."""


class Worker(Protocol):
    """Whatever does jobs."""

    def do(self, job: Job) -> Tally:
        """Do one job."""


@dataclass
class _Chunk:
    place: int
    jobs: list[Job]
    lost: Tally


@dataclass
class _Hand:
    """One process: what it works on and when it last moved on."""

    process: Any
    connection: Connection
    current: Any
    chunk: _Chunk | None = None
    ready: bool = False
    seen: int = -1
    since: float = 0.0

    def stuck(self, patience: float) -> bool:
        """Whether it works on the same job for too long."""
        if self.current.value != self.seen:
            self.seen, self.since = self.current.value, time.monotonic()
        allowed = patience if self.ready else STARTING
        return (self.chunk is not None or not self.ready) and time.monotonic() - self.since > allowed


class Crew:
    """Processes that do jobs; results come together in the order of the jobs, however many hands there are."""

    def __init__(self, build: Callable[[], Worker], hands: int, patience: float = PATIENCE) -> None:
        self._build, self._patience = build, patience
        self._context = multiprocessing.get_context("spawn")
        self._hands = [self._hire() for _ in range(hands)]

    def run(self, jobs: Sequence[Job], progress: Callable[[int], None] = lambda done: None) -> Tally:
        """Do all jobs; `progress` is told how many are done.

        Raises:
            CrewError: when processes end before they begin.
        """
        waiting = [_Chunk(place, list(jobs[start:start + CHUNK]), Tally())
                   for place, start in enumerate(range(0, len(jobs), CHUNK))]
        done: dict[int, Tally] = {}
        wanted, finished = len(waiting), 0
        while len(done) < wanted:
            self._hand_out(waiting)
            for hand, message in self._messages():
                if message is None:
                    self._replace(hand, waiting)
                elif message == READY:
                    hand.ready = True
                else:
                    chunk, tally = hand.chunk, message
                    hand.chunk = None
                    assert chunk is not None
                    tally.merge(chunk.lost)
                    done[chunk.place] = tally
                    finished += len(chunk.jobs)
                    progress(finished)
        total = Tally()
        for place in sorted(done):
            total.merge(done[place])
        return total

    def close(self) -> None:
        """End all processes."""
        for hand in self._hands:
            hand.process.kill()
            hand.process.join()
            hand.connection.close()

    def _hire(self) -> _Hand:
        ours, theirs = self._context.Pipe()
        current = self._context.Value("l", -1, lock=False)
        process = self._context.Process(target=_work, args=(theirs, current, self._build), daemon=True)
        process.start()
        theirs.close()
        return _Hand(process, ours, current, since=time.monotonic())

    def _hand_out(self, waiting: list[_Chunk]) -> None:
        for hand in self._hands:
            if hand.ready and hand.chunk is None and waiting:
                hand.chunk = waiting.pop(0)
                hand.current.value = hand.seen = 0
                hand.since = time.monotonic()
                hand.connection.send(hand.chunk.jobs)

    def _messages(self) -> Iterator[tuple[_Hand, Any]]:
        """What the hands report; None from one that hangs or died."""
        wait([hand.connection for hand in self._hands], _TICK)
        for hand in list(self._hands):
            try:
                if hand.connection.poll():
                    yield hand, hand.connection.recv()
                elif hand.stuck(self._patience):
                    yield hand, None
            except (EOFError, OSError):
                yield hand, None

    def _replace(self, hand: _Hand, waiting: list[_Chunk]) -> None:
        """Put another process in the place of one that is lost, and give it the rest of the chunk."""
        hung = hand.stuck(self._patience)
        hand.process.kill()
        hand.process.join()
        hand.connection.close()
        how = f"took more than {self._patience:g} s" if hung else _death(hand.process.exitcode)
        if hand.chunk is None:
            raise CrewError(f"a process of the audit {how} before it began its work")
        job = hand.chunk.jobs.pop(hand.current.value)
        hand.chunk.lost.add(Fault(f"engine: {job.name}", f"the process that worked on {job.name} {how}", job.name))
        waiting.insert(0, hand.chunk)
        self._hands[self._hands.index(hand)] = self._hire()


def _death(code: int | None) -> str:
    if code is not None and code < 0:
        return f"was ended by signal {signal.Signals(-code).name}"
    return f"ended with status {code}"


def _work(connection: Connection, current: Any, build: Callable[[], Worker]) -> None:
    """The life of one process; keyboard interrupts are the parent's business."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    worker = build()
    connection.send(READY)
    while True:
        try:
            jobs = connection.recv()
        except EOFError:
            os._exit(0)
        total = Tally()
        for place, job in enumerate(jobs):
            current.value = place
            total.merge(_done(worker, job))
        connection.send(total)


def _done(worker: Worker, job: Job) -> Tally:
    """One job; an exception is a fault of the program or the rules, not the end of the audit."""
    try:
        return worker.do(job)
    except Exception as error:
        tally = Tally()
        tally.add(Fault(f"failure: {type(error).__name__}: {error}"[:200],
                        f"{job.name} failed: {type(error).__name__}: {error}", job.name))
        return tally
