"""What the commands do beyond one consultation: vary, sheet, batch, audit."""

from __future__ import annotations

import os
import time
from collections.abc import Iterable, Iterator
from functools import partial
from typing import TypeVar

from advisor.audit.bench import Job, Plan
from advisor.commands.desk import Desk, told_of
from advisor.commands.sheet import rendered
from advisor.consultation.consult import Advisor
from advisor.consultation.vary import vary
from advisor.crew import Crew, Lost
from advisor.knowledge.load import rules_folder
from tests.benchmarks.cases import SCENARIOS, afresh, scenarios
from tests.benchmarks.figures import Figure, timed

Result = TypeVar("Result")
BATCH, CASES = 500, 1000


def figures(advisor: Advisor, quick: bool = False) -> Iterator[Figure]:
    """Times and throughputs."""
    full = scenarios(advisor)
    cores = os.cpu_count() or 1
    few = full[:2] if quick else full[::4]
    vary(afresh(few[0]), processes=1)  # the rules that only decide are compiled when first needed
    for processes in dict.fromkeys((1, cores)):
        yield timed(partial(lambda case, processes: vary(afresh(case), processes=processes), case, processes)
                    for case in few).figure(f"vary, {processes} process{'es' * (processes > 1)}", "2 s",
                                            f"every answer of {len(few)} cases in turn")
    advised = [(case.advice(), {name: answer.typed for name, answer in case.answers.items()}) for case in full]
    for form in ("html", "markdown"):
        yield timed(partial(rendered, advice, advisor.rule_base, typed, form) for advice, typed in advised).figure(
            f"sheet as {form}", note=f"{len(advised)} sheets, without the consultation")
    for processes in dict.fromkeys((1, cores)):
        yield _batch(100 if quick else BATCH, processes)
    yield _audit(60 if quick else CASES, cores)


def _batch(count: int, processes: int) -> Figure:
    """Files a second, once the processes are at work."""
    desk = Desk(rules=None, products=(), units=None, form="json", details=False, several=True, width=None)
    paths = [SCENARIOS[number % len(SCENARIOS)] for number in range(count)]
    speed, found = _throughput(told_of(desk, paths, processes), processes)
    return Figure(f"batch to JSON, {processes} process{'es' * (processes > 1)}", speed, "files/s",
                  note=f"{count} answer files, {sum(one.text is not None for one in found)} with advice")


def _audit(cases: int, processes: int) -> Figure:
    """Generated cases a second, once the processes are at work."""
    plan = Plan(str(rules_folder(None)), (), 1, cases)
    with Crew(plan.build, processes) as crew:
        speed, found = _throughput(crew.run([Job("case", number) for number in range(cases)]), processes)
    faults = sum(len(tally.faults) for _, tally in found if not isinstance(tally, Lost))
    return Figure(f"audit, {processes} processes", speed, "cases/s",
                  note=f"{cases} generated cases, {faults} faults")


def _throughput(results: Iterable[Result], processes: int) -> tuple[float, list[Result]]:
    """Results a second, those set aside that come while the processes load the rules; and all results."""
    found, begun, warming = [], time.perf_counter(), 2 * processes
    for number, result in enumerate(results, 1):
        found.append(result)
        if number == warming:
            begun = time.perf_counter()
    return (len(found) - warming) / (time.perf_counter() - begun), found
