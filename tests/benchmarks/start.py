"""From the command to the first question, in a real pseudo-terminal, and what of it is Python's own start."""

from __future__ import annotations

import os
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator

import pexpect

from advisor.consultation.consult import Advisor
from advisor.interview import words
from tests.benchmarks.figures import ROOT, Figure

TIMES = 7


def to_first_question(home: str) -> tuple[float, float]:
    """Seconds by the clock and of the processor until the first question stands there to be answered."""
    environ = {**os.environ, "ADVISOR_HOME": home, "PYTHONPATH": str(ROOT), "TERM": "xterm"}
    before = _children()
    begun = time.perf_counter()
    child = pexpect.spawn(sys.executable, ["-m", "advisor", "ask"], cwd=home, env=environ, encoding="utf-8",
                          timeout=60, dimensions=(24, 80))
    child.delaybeforesend = None
    child.expect_exact(words.TITLE_PROMPT.strip())
    child.send("\r")  # no name
    child.expect_exact(words.ANSWER_PROMPT.strip())
    taken = time.perf_counter() - begun
    child.terminate(force=True)
    child.close()
    return taken, _children() - before


def figures(advisor: Advisor, quick: bool = False) -> Iterator[Figure]:
    """The first start, which reads all rules, and later ones, which take them as kept."""
    with tempfile.TemporaryDirectory() as home:
        first, first_cpu = to_first_question(home)
        later = [to_first_question(home) for _ in range(2 if quick else TIMES)]
    wall, cpu = ([one[part] for one in later] for part in (0, 1))
    empty = [_seconds("pass") for _ in range(5)]
    yield Figure("command to first question", statistics.median(wall), "s", max(wall), statistics.median(cpu), "0.4 s",
                 f"{statistics.median(wall) / statistics.median(empty):.0f} times an empty Python")
    yield Figure("the very first time, rules read and checked", first, "s", cpu=first_cpu)
    yield Figure("an empty Python", statistics.median(empty), "s", max(empty))
    imported = [_seconds("import advisor.cli, advisor.interview.prompts, advisor.interview.session, "
                         "advisor.consultation.consult, advisor.engine.infer") for _ in range(5)]
    yield Figure("  with all that the interview imports", statistics.median(imported), "s", max(imported))


def _seconds(statement: str) -> float:
    begun = time.perf_counter()
    subprocess.run([sys.executable, "-c", statement], check=True, cwd=ROOT)
    return time.perf_counter() - begun


def _children() -> float:
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime
