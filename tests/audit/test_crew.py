"""Processes that hang, die or fail cost one job each, which is named; the rest is done."""

from __future__ import annotations

import os
import signal
import time

import pytest

from advisor.audit.bench import Job
from advisor.audit.crew import CHUNK, Crew, CrewError
from advisor.audit.findings import Tally

JOBS = [Job("case", number) for number in range(2 * CHUNK)]
BAD = 3


class Hanging:
    def do(self, job: Job) -> Tally:
        if job.number == BAD:
            time.sleep(600)
        return Tally(cases=1)


class Dying:
    def do(self, job: Job) -> Tally:
        if job.number == BAD:
            os.kill(os.getpid(), signal.SIGSEGV)
        return Tally(cases=1)


class Failing:
    def do(self, job: Job) -> Tally:
        if job.number == BAD:
            raise ValueError("not so")
        return Tally(cases=1)


class Never:
    def __init__(self) -> None:
        os._exit(7)

    def do(self, job: Job) -> Tally:
        return Tally()


@pytest.mark.parametrize(("worker", "said"), [
    (Hanging, "took more than 3 s"), (Dying, "was ended by signal SIGSEGV"), (Failing, "failed: ValueError: not so")])
def test_one_job_is_lost_and_named(worker: type[Hanging], said: str) -> None:
    told: list[int] = []
    crew = Crew(worker, 2, patience=3)
    try:
        tally = crew.run(JOBS, told.append)
    finally:
        crew.close()
    assert tally.cases == len(JOBS) - 1
    [fault] = tally.faults.values()
    assert f"case {BAD}" in fault.says and said in fault.says
    assert told == sorted(told) and told[-1] >= len(JOBS) - 1


def test_processes_that_never_begin_are_told() -> None:
    crew = Crew(Never, 1, patience=20)
    try:
        with pytest.raises(CrewError, match="ended with status 7 before it began"):
            crew.run(JOBS)
    finally:
        crew.close()
