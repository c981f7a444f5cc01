"""A consultation as a program holds it: first question, answer to next question, advice, memory."""

from __future__ import annotations

import gc
import os
import time
from collections.abc import Iterator
from functools import partial
from pathlib import Path

from advisor.consultation.advice import Advice
from advisor.consultation.consult import Advisor, Consultation
from tests.benchmarks.cases import afresh, generated, scenarios, warmed
from tests.benchmarks.figures import Figure, Taken, timed

ROUNDS, MANY, OTHERS = 5, 10_000, 500


def resident_mb() -> float:
    """Resident memory of this process (Linux)."""
    pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE") / 1e6


def advise_again(case: Consultation) -> Advice:
    """The advice for the same case, evaluated afresh."""
    return afresh(case).advice()


def answers_one_by_one(case: Consultation) -> Taken:
    """From each answer to the next question, over a whole interview: all that the interview asks of a consultation."""
    fresh = case.advisor.consult(title="benchmark")
    taken = Taken([], [])
    while (question := fresh.next_question()) is not None and (answer := case.answers.get(question.question)):
        typed = answer.typed if isinstance(answer.typed, str) else list(answer.typed)
        begun, begun_cpu = time.perf_counter(), time.process_time()
        fresh.answer(question.question, typed)
        fresh.contradictions()
        fresh.next_question()
        fresh.about_how_many_more()
        taken.cpu.append((time.process_time() - begun_cpu) * 1000)
        taken.wall.append((time.perf_counter() - begun) * 1000)
    return taken


def figures(advisor: Advisor, quick: bool = False) -> Iterator[Figure]:
    """Times of the parts of a consultation, and memory after a tenth and after all of many."""
    full = scenarios(advisor)
    rounds = 1 if quick else ROUNDS
    yield timed([partial(_first_question, advisor)] * 5 * rounds).figure("first question of a consultation")
    steps = Taken([], [])
    for case in full:
        steps.add(answers_one_by_one(case))
        gc.collect()
        gc.freeze()  # an interview has no earlier ones in its memory
    yield steps.figure("answer to next question", "20 ms, worst 50", f"{len(full)} interviews, engine warm")
    many = 200 if quick else MANY
    cases = [*full, *generated(advisor, 20 if quick else OTHERS)]
    marks = {}
    for number in range(1, many + 1):
        advise_again(cases[number % len(cases)])
        if number in (many // 10, many):
            marks[number] = resident_mb()
    early, late = marks[many // 10], marks[many]
    yield Figure(f"memory after {many} consultations", late, "MB", budget="+20 MB",
                 note=f"{late - early:+.1f} MB since consultation {many // 10}")
    new = Taken([], [])
    for _ in range(rounds):
        at_work = warmed(advisor, quick)
        gc.collect()
        gc.freeze()
        new.add(timed(afresh(case, at_work).advice for case in full))
    yield new.figure("full consultation", "15 ms", f"{len(full)} cases, each new to an advisor that has advised "
                     "others; the worst are those where several values are tried")
    yield timed(partial(advise_again, case) for case in full for _ in range(rounds)).figure(
        "the same case again", note="what the engine and the calculations gave is remembered")
    first = Taken([], [])  # last, as each such advisor takes memory for its engine
    for case in full[:: 16 if quick else 4]:
        new_advisor = Advisor(advisor.rule_base)
        gc.collect()
        gc.freeze()  # as the command does before its first question
        first.add(answers_one_by_one(afresh(case, new_advisor)))
    yield first.figure("answer to next question, first interview of a process", "20 ms, worst 50",
                       "the engine takes in the rules of each stage when they are first needed")


def _first_question(advisor: Advisor) -> object:
    return advisor.consult().next_question()
