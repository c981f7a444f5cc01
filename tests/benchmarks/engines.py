"""The real rules on the bare engine, on CLIPS and on the chainer in plain Python: same facts, same run, ratios.

The facts are those that a consultation gave the engine, stage by stage; the firings of all must be the same.
"""

from __future__ import annotations

import statistics
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import partial

from advisor.consultation.consult import Advisor
from advisor.engine.infer import DurableChainer
from advisor.engine.program import Firing, Posted, Programs
from tests.benchmarks.cases import StageFacts, afresh, generated, given_to_the_engine, scenarios, warmed
from tests.benchmarks.figures import Figure, Taken, timed
from tests.engine.plain_chainer import PlainChainer

Run = Callable[[str, Sequence[Posted]], list[Firing]]
GENERATED, ROUNDS = 50, 3
BARE, BY_PARTS = "bare engine", "by parts"


def engines(programs: Programs) -> dict[str, Run]:
    """Each engine that is installed; first the one that others are compared with, all rules of a stage in one session.

    `by parts` is the same engine as the program uses it: only topics that have something to do.
    """
    durable = DurableChainer(programs)
    found: dict[str, Run] = {
        BARE: lambda stage, facts: durable.run_rules(stage, programs[stage].rules, facts),
        BY_PARTS: DurableChainer(programs, remember=0).run,
        "plain Python": PlainChainer(programs).run}
    try:
        from tests.engine.clips_chainer import ClipsChainer
    except ImportError:
        return found
    return {**found, "CLIPS": ClipsChainer(programs).run}


def fired(run: Run, given: StageFacts) -> list[Firing]:
    """Every firing over all stages."""
    return [firing for stage, facts in given for firing in run(stage, facts)]


def disagreements(found: Mapping[str, Run], cases: Sequence[StageFacts]) -> list[str]:
    """Where an engine's firings are not those of the first, rule by rule with their support."""
    wrong = []
    for number, given in enumerate(cases):
        pictures = {name: Counter((firing.rule.name, firing.rule.rule.rule, firing.support)
                                  for firing in fired(run, given)) for name, run in found.items()}
        first, *others = pictures.values()
        wrong += [f"case {number}: {name}" for name, other in zip(list(pictures)[1:], others, strict=True)
                  if other != first]
    return wrong


def figures(advisor: Advisor, quick: bool = False) -> Iterator[Figure]:
    """Median milliseconds for a case on each engine, and the ratio to the bare engine."""
    programs = advisor.evaluator.programs
    cases = [*scenarios(advisor), *generated(advisor, 5 if quick else GENERATED)]
    oracle = PlainChainer(programs)
    given = [given_to_the_engine(advisor, case, oracle) for case in cases]
    taken: dict[str, Taken] = {}
    for _ in range(1 if quick else ROUNDS):
        found = engines(programs)  # afresh: an environment of CLIPS slows down with every use
        wrong = disagreements(found, given)  # and everything is built and warm
        for name, run in found.items():
            taken.setdefault(name, Taken([], [])).add(timed(partial(fired, run, one) for one in given))
    firings = [len(fired(oracle.run, one)) for one in given]
    yield Figure("cases compared", len(given), "", note=f"{statistics.median(firings):.0f} firings in the middle one, "
                 f"{max(firings)} at most, of {sum(len(one.rules) for one in programs.values())} engine rules")
    yield Figure("cases in which the engines disagree", len(wrong), "", budget="0", note="; ".join(wrong[:3]))
    bare = statistics.median(taken[BARE].cpu)
    for name, one in taken.items():
        yield one.figure(f"rules of a case: {name}", note=f"{statistics.median(one.cpu) / bare:.2f} of the bare engine")
    trying = [any(pivot.given is None for pivot in case.advice().pivotal) for case in cases]
    for what, tries in (("no answer is tried", False), ("answers that nobody knew are tried", True)):
        mine = [(case, one) for case, one, tried in zip(cases, given, trying, strict=True) if tried == tries]
        at_work = warmed(advisor, quick)
        whole = timed(afresh(case, at_work).advice for case, _ in mine)
        alone = timed(partial(fired, found[BARE], one) for _, one in mine)
        yield whole.figure(f"whole consultation where {what}", "" if tries else "2 of the bare engine",
                           f"{statistics.median(whole.cpu) / statistics.median(alone.cpu):.2f} of the bare engine on "
                           f"the same {len(mine)} cases")
    if "CLIPS" not in taken:
        yield Figure("CLIPS", 0, "", note="left out: clipspy is not installed (pip install -e '.[benchmarks]')")
