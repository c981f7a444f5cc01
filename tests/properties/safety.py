"""Safety over many generated cases: python -m tests.properties.safety --cases 2000 --seed 1"""

from __future__ import annotations

import argparse
import os
import sys
import time
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from functools import cache, partial
from random import Random

from advisor.answer_file import written
from advisor.consultation.advice import Advice
from advisor.consultation.consult import Advisor, Consultation
from tests.properties.bare_numbers import bare, texts_of
from tests.properties.cautions import gone
from tests.properties.monotony import compared, rightly
from tests.random_answers import consistent_answers

UNKNOWN_SHARE = 0.05
BLOCK = 25
FAULT, RIGHT, COUNT = "fault", "rightly", "count"
Found = tuple[str, str]


@cache
def advisor() -> Advisor:
    """The real rules, read once in each process."""
    return Advisor.from_folder()


def found_in(seed: str, number: int) -> Iterator[Found]:
    """Everything found in one case: faults, what is rightly so, and what was counted."""
    random = Random(f"{seed} {number}")
    raw = consistent_answers(advisor(), random, UNKNOWN_SHARE)
    case = advisor().consult(raw)
    if case.contradictions():
        yield COUNT, "cases left out because their answers contradict each other"
        return
    yield COUNT, "cases"
    faults = []
    for kind, text in (*_of_advice(case), *_of_order(case), *_of_cautions(case, random)):
        yield kind, text
        faults += [text] * (kind == FAULT)
    if faults:
        yield COUNT, "\n".join((f"case {number}", *faults, written("A case with a fault", raw)))


def _of_advice(case: Consultation) -> Iterator[Found]:
    advice = case.advice()
    if advice.status in ("stop", "refer"):
        yield COUNT, "cases that stop or refer"
        yield from ((FAULT, f"a {advice.status} with {what}") for what in _work_in(advice))
    for text in {*texts_of(advice)}:
        yield from ((FAULT, f"a bare number: {around}") for around in bare(text))
    asked = {*case.concluded().asked, *case.so_far().asked}
    alone = case.advisor.consult({name: answer.typed for name, answer in case.answers.items() if name in asked},
                                 case.title, case.system)
    tried = {"pivotal"}  # where other answers are tried, other questions are asked
    if alone.advice().model_dump(exclude=tried) != advice.model_dump(exclude=tried):
        yield FAULT, "answers that are not asked for change the advice"


def _work_in(advice: Advice) -> list[str]:
    parts = {"a method": advice.method, "quantities": advice.quantities, "steps": advice.steps,
             "batches": advice.batches, "a specification": advice.specification}
    return [name for name, held in parts.items() if held]


def _of_order(case: Consultation) -> Iterator[Found]:
    better, tried = compared(case)
    yield from [(COUNT, "worse answers tried")] * tried
    for one in better:
        why = rightly(one.question, one.what)
        if why:
            yield RIGHT, f"a worse {one.question} makes better: {one.what}: {why}"
        else:
            yield FAULT, f"a worse {one.question} makes better: {one.what} ({one.given} to {one.worse})"


def _of_cautions(case: Consultation, random: Random) -> Iterator[Found]:
    lost, added = gone(case, random)
    yield from [(COUNT, "unrelated answers added")] * added
    for one in lost:
        if one.reason:
            yield RIGHT, f"a caution goes because {one.reason}"
        else:
            yield FAULT, f"the caution {one.caution} goes when {one.question} is answered"


def block(seed: str, first: int, cases: int = BLOCK) -> list[Found]:
    """What is found in a block of cases."""
    return [found for number in range(first, first + cases) for found in found_in(seed, number)]


def main() -> int:
    """Read the command line, try the cases, print what was found; 1 where there is a fault."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--cases", type=int, default=2000)
    parser.add_argument("--seed", default="1")
    parser.add_argument("--processes", type=int, default=os.cpu_count() or 1)
    options = parser.parse_args()
    begun = time.monotonic()
    found: Counter[Found] = Counter()
    with ProcessPoolExecutor(options.processes) as pool:
        for number, some in enumerate(pool.map(partial(block, options.seed), range(0, options.cases, BLOCK)), 1):
            found.update(some)
            print(f"{min(number * BLOCK, options.cases)} of {options.cases}", file=sys.stderr, flush=True)
    for (kind, text), times in sorted(found.items(), key=lambda item: (item[0][0], -item[1])):
        print(f"{kind}: {times} x {text}")
    print(f"seed {options.seed}, {time.monotonic() - begun:.0f} s")
    return int(any(kind == FAULT for kind, _ in found))


if __name__ == "__main__":
    sys.exit(main())
