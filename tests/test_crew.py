"""Processes that hang, die or fail cost one job each, which is told; the rest is done, in order."""

from __future__ import annotations

import os
import signal
import time
from collections.abc import Callable, Iterator

import pytest

from advisor.crew import WINDOW, Crew, CrewError, Lost

JOBS, BAD = 40, 3
Doing = Callable[[int], int]


def _hang(job: int) -> int:
    while job == BAD:
        pass
    return job * job


def _exit(job: int) -> int:
    if job == BAD:
        os._exit(9)
    return job * job


def _crash(job: int) -> int:
    if job == BAD:
        os.kill(os.getpid(), signal.SIGSEGV)
    return job * job


def _fail(job: int) -> int:
    if job == BAD:
        raise ValueError("not so")
    return job * job


def hanging() -> Doing:
    return _hang


def exiting() -> Doing:
    return _exit


def crashing() -> Doing:
    return _crash


def failing() -> Doing:
    return _fail


def never() -> Doing:
    os._exit(7)


def unequal() -> Doing:
    def do(job: int) -> int:
        time.sleep(0.02 * (job % 3))
        return job * job
    return do


def process() -> Doing:
    def do(job: int) -> int:
        time.sleep(0.02)
        return os.getpid()
    return do


@pytest.mark.parametrize(("build", "lost"), [
    (hanging, Lost("took more than 2 s", failed=False)), (exiting, Lost("ended with status 9", failed=False)),
    (crashing, Lost("was ended by signal SIGSEGV", failed=False)),
    (failing, Lost("ValueError: not so (test_crew.py:38)", failed=True))])
def test_one_job_is_lost_and_told_and_the_rest_is_done(build: Callable[[], Doing], lost: Lost) -> None:
    with Crew(build, 2, patience=2) as crew:
        done = list(crew.run(range(JOBS)))
    assert done == [(job, lost if job == BAD else job * job) for job in range(JOBS)]


@pytest.mark.parametrize("hands", [1, 3])
def test_results_come_in_the_order_of_the_jobs(hands: int) -> None:
    with Crew(unequal, hands) as crew:
        assert list(crew.run(range(30))) == [(job, job * job) for job in range(30)]
        assert list(crew.run([5, 4])) == [(5, 25), (4, 16)]
        assert list(crew.run([])) == []


def test_jobs_are_taken_only_as_results_are_read() -> None:
    taken: list[int] = []

    def jobs() -> Iterator[int]:
        for job in range(10 * WINDOW):
            taken.append(job)
            yield job

    with Crew(unequal, 1) as crew:
        for told, _ in enumerate(crew.run(jobs()), 1):
            assert len(taken) <= told + WINDOW
            if told == 2 * WINDOW:
                break


def test_all_processes_work() -> None:
    with Crew(process, 2) as crew:
        assert len({pid for _, pid in crew.run(range(100))}) == 2


def test_processes_that_never_begin_are_told() -> None:
    with Crew(never, 1) as crew, pytest.raises(CrewError, match="ended with status 7 before it began"):
        list(crew.run(range(JOBS)))
