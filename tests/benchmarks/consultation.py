"""How fast and how lean a consultation is: `python -m tests.benchmarks.consultation [--many 10000]`.

Prints figures and, where possible, ratios, which a slow machine changes little. Budgets: 15 ms a full consultation
and at most twice the bare engine's own time on the same rules, 20 ms an answer (50 ms worst), memory flat (within
20 MB) from 1,000 to 10,000 consultations, 0.4 s from the command to the first question.
"""

from __future__ import annotations

import argparse
import gc
import os
import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

from advisor import answer_file
from advisor.consultation.advice import Advice
from advisor.consultation.conditions import marker_posts
from advisor.consultation.consult import Advisor, Consultation
from advisor.engine.infer import DurableChainer
from advisor.engine.program import Posted

ROOT = Path(__file__).resolve().parents[2]


def milliseconds(call: Callable[[], object], times: int) -> list[float]:
    """The wall time of each of so many calls."""
    found = []
    for _ in range(times):
        begun = time.perf_counter()
        call()
        found.append((time.perf_counter() - begun) * 1000)
    return found


def resident_mb() -> float:
    """Resident memory of this process (Linux)."""
    pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE") / 1e6


def again(case: Consultation) -> Consultation:
    """The same case with nothing remembered."""
    fresh = Consultation(case.advisor, case.title, case.units)
    fresh.answers.update(case.answers)
    return fresh


def advise_again(case: Consultation) -> Advice:
    """The advice for the same case with nothing remembered."""
    return again(case).advice()


def bare_engine(advisor: Advisor, case: Consultation, chainer: DurableChainer) -> Callable[[], object]:
    """The bare engine on all rules of each stage and the same facts, stage by stage, nothing else."""
    programs = advisor.evaluator.programs
    result = advisor.evaluator.evaluate(case.answers, final=True)
    posts: dict[str, list[Posted]] = {
        stage: [*result.facts.posted(program.keys), *marker_posts(program, result.facts)]
        for stage, program in programs.items()}
    return lambda: [chainer.run_rules(stage, programs[stage].rules, facts) for stage, facts in posts.items()]


def answers_one_by_one(advisor: Advisor, case: Consultation) -> list[float]:
    """The time from each answer to the next question, over a whole interview."""
    fresh = advisor.consult(title="benchmark")
    times = []
    while (question := fresh.next_question()) is not None:
        answer = case.answers.get(question.question)
        if answer is None:
            break
        typed = answer.typed if isinstance(answer.typed, str) else list(answer.typed)
        begun = time.perf_counter()
        fresh.answer(question.question, typed)
        fresh.contradictions()
        fresh.next_question()
        fresh.about_how_many_more()
        times.append((time.perf_counter() - begun) * 1000)
    return times


def first_question_seconds() -> float:
    """From the command to the first question, in a real pseudo-terminal."""
    import pexpect
    begun = time.perf_counter()
    child = pexpect.spawn(sys.executable, ["-m", "advisor", "ask"], cwd=str(ROOT), encoding="utf-8", timeout=20,
                          dimensions=(24, 80))
    child.expect("1")
    taken = time.perf_counter() - begun
    child.terminate(force=True)
    return taken


def main() -> None:
    """Print the figures."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--many", type=int, default=10_000, help="consultations for the memory figure")
    many = parser.parse_args().many
    begun = time.perf_counter()
    advisor = Advisor.from_folder()
    gc.freeze()  # as the commands do
    print(f"load and compile          {(time.perf_counter() - begun) * 1000:8.1f} ms")
    cases = []
    for path in sorted((ROOT / "scenarios").glob("*.yaml")):
        file = answer_file.read(path)
        cases.append(advisor.consult(file.answers, file.title or path.stem, None, file.places))
    full = [case for case in cases if case.advice().method]
    for case in full:
        case.advice()
    whole = [t for case in full for t in milliseconds(partial(advise_again, case), 10)]
    chainer = DurableChainer(advisor.evaluator.programs)
    engine = [t for case in full for t in milliseconds(bare_engine(advisor, case, chainer), 10)]
    answer = [t for case in full for t in answers_one_by_one(advisor, case)]
    print(f"full consultation         {statistics.median(whole):8.1f} ms median, {max(whole):.1f} worst, "
          f"{len(full)} cases")
    print(f"  bare engine, same facts {statistics.median(engine):8.1f} ms median; "
          f"ratio {statistics.median(whole) / statistics.median(engine):.2f}")
    print(f"answer to next question   {statistics.median(answer):8.1f} ms median, {max(answer):.1f} worst")
    first = sorted(first_question_seconds() for _ in range(5))
    python = min(milliseconds(lambda: subprocess.run([sys.executable, "-c", "pass"], check=True), 5)) / 1000
    print(f"command to first question {first[2]:8.2f} s median, {first[2] / python:.0f} times an empty Python")
    memory(full, many)


def memory(cases: list[Consultation], many: int) -> None:
    """Resident memory after a tenth of the consultations and after all of them."""
    marks = {}
    for number in range(1, many + 1):
        advise_again(cases[number % len(cases)])
        if number in (many // 10, many):
            marks[number] = resident_mb()
    early, late = marks[many // 10], marks[many]
    print(f"memory after {many // 10} / {many}  {early:.1f} / {late:.1f} MB, growth {late - early:+.1f} MB")


if __name__ == "__main__":
    main()
