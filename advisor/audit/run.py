"""The whole audit: examples, scenarios, generated cases, then the faults made small and, on request, spoiled rules."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from pathlib import Path

from advisor.audit.answering import Answering
from advisor.audit.bench import Job, Noticed, Plan, Spoiling
from advisor.audit.findings import Fault, Tally
from advisor.audit.mutants import mutants_of
from advisor.audit.pairs import Pairs, pairs_for
from advisor.crew import PATIENCE, Crew, Lost
from advisor.engine.compile import compile_rules
from advisor.knowledge import model as m
from advisor.knowledge.load import load_rule_base, rules_folder
from advisor.knowledge.rulebase import RuleBase

MOST_SHRUNK = 20
MOST_SCENARIOS = 8
Progress = Callable[[str, int, int], None]
"""Told what is done, how many of it are done and how many there are."""


@dataclass(frozen=True)
class Wish:
    """What is to be audited and how thoroughly; `rules` None means those that come with the program."""

    rules: str | None = None
    scenarios: str | None = None
    cases: int = 2000
    seed: int = 1
    processes: int = 2
    mutate: bool = False
    patience: float = PATIENCE


@dataclass
class Report:
    """What the audit found."""

    wish: Wish
    rule_base: RuleBase
    tally: Tally
    pairs: Pairs
    scenarios: int
    faults: list[Fault] = field(default_factory=list)
    noticed: list[Noticed] = field(default_factory=list)

    @property
    def shown_by_examples(self) -> set[str]:
        """Rules that an example fires."""
        return {rule for example in self.rule_base.examples for rule in example.fires}

    @property
    def only_in_examples(self) -> list[str]:
        """Rules that fired in no case and no scenario, but in an example beside them."""
        return sorted((set(self.rule_base.rules) - set(self.tally.fired)) & self.shown_by_examples)

    @property
    def never_fired(self) -> list[str]:
        """Rules that nothing fires."""
        return sorted(set(self.rule_base.rules) - set(self.tally.fired) - self.shown_by_examples)

    @property
    def idle_invariants(self) -> list[str]:
        """Invariants that had nothing to say about any case."""
        return sorted(set(self.rule_base.invariants) - set(self.tally.held))


def audit(wish: Wish, progress: Progress = lambda what, done, of: None) -> Report:
    """Audit a rules folder.

    Raises:
        KnowledgeError: listing every mistake, when the folder cannot be used at all.
        CrewError: when the processes cannot begin their work.
    """
    rule_base = load_rule_base(wish.rules)
    programs = compile_rules(rule_base)
    scenarios = tuple(map(str, _scenarios(wish)))
    plan = Plan(str(rules_folder(wish.rules)), scenarios, wish.seed, wish.cases)
    report = Report(wish, rule_base, Tally(), pairs_for(Answering(rule_base, programs), wish.seed, wish.cases),
                    len(scenarios))
    with Crew(plan.build, wish.processes, wish.patience) as crew:
        for what, jobs in (("examples", _jobs("example", len(rule_base.examples))),
                           ("scenarios", _jobs("scenario", len(scenarios))),
                           ("cases", _jobs("case", wish.cases))):
            report.tally.merge(_run(crew, what, jobs, progress))
        report.faults = _smaller(crew, report, progress)
        if wish.mutate:
            report.noticed = _spoiled(crew, report, plan, progress)
    return report


def _scenarios(wish: Wish) -> Iterable[Path]:
    """The scenario files: of the folder named, or of the one beside the rules, if there is one."""
    folder = Path(wish.scenarios) if wish.scenarios else rules_folder(wish.rules).parent / "scenarios"
    return sorted(folder.glob("*.yaml"))


def _jobs(kind: str, count: int) -> list[Job]:
    return [Job(kind, number) for number in range(count)]


def _run(crew: Crew[Job, Tally], what: str, jobs: list[Job], progress: Progress) -> Tally:
    total = Tally()
    progress(what, 0, len(jobs))
    for done, (job, tally) in enumerate(crew.run(jobs), 1):
        if isinstance(tally, Lost):
            total.add(_loss(job, tally))
        else:
            total.merge(tally)
        progress(what, done, len(jobs))
    return total


def _loss(job: Job, lost: Lost) -> Fault:
    """A process that hung or died, or an exception, is a fault of the program or the rules."""
    if lost.failed:
        return Fault(f"failure: {lost.why}"[:200], f"{job.name} failed: {lost.why}", job.name)
    return Fault(f"engine: {job.name}", f"the process that worked on {job.name} {lost.why}", job.name)


def _smaller(crew: Crew[Job, Tally], report: Report, progress: Progress) -> list[Fault]:
    """The faults, those with answers made as small as they stay."""
    faults = list(report.tally.faults.values())
    jobs = [Job("shrink", fault=fault) for fault in faults if fault.answers is not None][:MOST_SHRUNK]
    small = _run(crew, "failing cases made smaller", jobs, progress) if jobs else Tally()
    found = [small.found.get(fault.key, fault) for fault in faults]
    never = [Fault(f"never fired: {rule}", f"nothing fires the rule {rule} ({report.rule_base.rules[rule].where})", "")
             for rule in report.never_fired]
    return [*(fault for fault in found if isinstance(fault, Fault)), *small.faults.values(), *never]


def _spoiled(crew: Crew[Job, Tally], report: Report, plan: Plan, progress: Progress) -> list[Noticed]:
    jobs = [Job("spoil", spoiling=Spoiling(
        mutant, _numbers(report.tally.fired.get(mutant.rule, []), "case "),
        _places(report.tally.fired.get(mutant.rule, []), plan.scenarios)[:MOST_SCENARIOS],
        tuple(_showing(report.rule_base.examples, mutant.rule))))
        for mutant in mutants_of(report.rule_base)]
    done = _run(crew, "spoiled rules", jobs, progress)
    report.faults += done.faults.values()
    return [found for found in done.found.values() if isinstance(found, Noticed)]


def _numbers(names: list[str], kind: str) -> tuple[int, ...]:
    return tuple(int(name.removeprefix(kind)) for name in names if name.startswith(kind))


def _places(names: list[str], scenarios: tuple[str, ...]) -> tuple[int, ...]:
    wanted = set(names)
    return tuple(place for place, path in enumerate(scenarios) if f"scenario {Path(path).stem}" in wanted)


def _showing(examples: tuple[m.Example, ...], rule: str) -> Iterable[int]:
    return (number for number, example in enumerate(examples) if rule in example.fires)
