"""How a case grows with the number of rules and with the number of facts, on each engine, with invented rules."""

from __future__ import annotations

import statistics
from collections import Counter
from collections.abc import Iterator, Sequence
from functools import partial

from advisor.consultation.consult import Advisor
from advisor.engine.program import Firing, Posted, Programs
from tests.benchmarks.engines import BARE, BY_PARTS, Run, engines
from tests.benchmarks.figures import Figure, Taken, timed
from tests.benchmarks.generated import generated, some_facts

RULES, FACTS = (100, 300, 1000, 2000, 3000, 5000), (25, 50, 100, 200, 400)
RULES_FOR_FACTS, FACTS_FOR_RULES = 1000, 100
CASES = 8


def staged(run: Run, programs: Programs, facts: Sequence[Posted]) -> list[Firing]:
    """Every firing over all stages; what a stage concludes is given to the later ones."""
    known = {fact.id: fact for fact in facts}
    firings: list[Firing] = []
    for stage, program in programs.items():
        mine = run(stage, [fact for fact in known.values() if fact.key in program.keys])
        firings += mine
        known.update((fact.id, fact) for firing in mine for fact in firing.rule.derives)
    return firings


def compared(rules: int, facts: int, cases: int) -> tuple[dict[str, Taken], float, int]:
    """The times of each engine, the firings of the middle case, and in how many cases an engine disagrees."""
    programs = generated(rules, facts)
    given = [some_facts(facts, seed) for seed in range(cases)]
    taken, pictures = {}, {}
    for name, run in engines(programs).items():
        pictures[name] = [Counter((firing.rule.rule.rule, firing.support) for firing in staged(run, programs, one))
                          for one in given]
        taken[name] = timed(partial(staged, run, programs, one) for one in given)
    first = pictures[BARE]
    wrong = sum(mine != theirs for name in pictures for mine, theirs in zip(pictures[name], first, strict=True))
    return taken, statistics.median(sum(one.values()) for one in first), wrong


def figures(advisor: Advisor, quick: bool = False) -> Iterator[Figure]:
    """A line for each number of rules and each number of facts: the bare engine's time, the others as ratios."""
    sizes = [(rules, FACTS_FOR_RULES) for rules in RULES] + [(RULES_FOR_FACTS, facts) for facts in FACTS]
    for rules, facts in sizes[:2] if quick else sizes:
        taken, firings, wrong = compared(rules, facts, 2 if quick else CASES)
        bare = statistics.median(taken[BARE].cpu)
        ratios = ", ".join(f"{name} {statistics.median(one.cpu) / bare:.2f}" for name, one in taken.items()
                           if name not in (BARE, BY_PARTS))  # a stage of generated rules has one topic, so one part
        yield taken[BARE].figure(f"{rules} rules, {facts} facts: bare engine",
                                 note=f"{ratios}; {firings:.0f} firings; {wrong} disagreements")
