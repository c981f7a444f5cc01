"""What the commands do beyond one consultation: vary, sheet, batch, audit."""

from __future__ import annotations

import os
import tempfile
import time
from collections.abc import Iterator
from functools import partial
from pathlib import Path
from shutil import copyfile

from advisor.audit.bench import Job, Plan
from advisor.audit.crew import CHUNK, Crew
from advisor.batch import advise_files
from advisor.commands.sheet import rendered
from advisor.consultation.consult import Advisor
from advisor.consultation.vary import vary
from advisor.knowledge.load import rules_folder
from tests.benchmarks.cases import SCENARIOS, afresh, scenarios
from tests.benchmarks.figures import Figure, timed

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
    yield _batch(advisor, 100 if quick else BATCH)
    yield _audit((1 + cores) * CHUNK if quick else CASES, cores)


def _batch(advisor: Advisor, count: int) -> Figure:
    with tempfile.TemporaryDirectory() as folder:
        paths = [Path(folder) / f"{number}.yaml" for number in range(count)]
        for number, path in enumerate(paths):
            copyfile(SCENARIOS[number % len(SCENARIOS)], path)
        begun, begun_cpu = time.perf_counter(), time.process_time()
        done = sum(1 for _ in advise_files(advisor, paths))
        cpu = (time.process_time() - begun_cpu) / done
        return Figure("batch, one process", done / (time.perf_counter() - begun), "files/s",
                      note=f"{done} answer files read and advised; {cpu * 1000:.1f} ms of the processor each")


def _audit(cases: int, processes: int) -> Figure:
    """Generated cases a second, once the processes are at work."""
    plan = Plan(str(rules_folder(None)), (), 1, cases)
    crew = Crew(plan.build, processes)
    jobs = [Job("case", number) for number in range(cases)]
    try:
        crew.run(jobs[:CHUNK * processes])  # each has loaded the rules
        begun = time.perf_counter()
        tally = crew.run(jobs[CHUNK * processes:])
        taken = time.perf_counter() - begun
    finally:
        crew.close()
    done = cases - CHUNK * processes
    return Figure(f"audit, {processes} processes", done / taken, "cases/s",
                  note=f"{done} generated cases, {len(tally.faults)} faults")
