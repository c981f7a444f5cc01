"""The bench on which one process tries cases, examples, scenarios and spoiled rules; the engine runs only here."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from advisor import answer_file
from advisor.audit.cases import ATTEMPTS, Cases
from advisor.audit.expectations import unmet
from advisor.audit.findings import Fault, Tally, Typed
from advisor.audit.judge import Finding, applying, broken, findings_in, findings_of
from advisor.audit.mutants import Mutant, SpoiledChainer
from advisor.audit.outcome import SENT_BACK, Outcome, outcome_of, with_firings
from advisor.audit.shrink import shrunk
from advisor.consultation.advice import Advice
from advisor.consultation.answers import Answer, read_answers
from advisor.consultation.assemble import Assembler
from advisor.consultation.consult import Advisor
from advisor.consultation.stated import missed
from advisor.engine.compile import compile_rules
from advisor.engine.infer import DurableChainer
from advisor.engine.program import Firing
from advisor.knowledge import model as m
from advisor.knowledge.load import load_rule_base

MOST_READINGS = 20_000
TEXTS_EVERY = 5
"""Each so-manieth case is also put into words, to look at its units, sources and texts."""


@dataclass(frozen=True)
class Plan:
    """What is audited."""

    rules: str
    scenarios: tuple[str, ...]
    seed: int
    count: int

    def build(self) -> Callable[[Job], Tally]:
        """What does jobs on a bench, built where it will be used."""
        return Bench(self).do


@dataclass(frozen=True)
class Spoiling:
    """A spoiled rule and where the rule fired: generated cases, scenarios, and the examples that show it."""

    mutant: Mutant
    cases: tuple[int, ...]
    scenarios: tuple[int, ...]
    examples: tuple[int, ...]


@dataclass(frozen=True)
class Noticed:
    """Whether a spoiled rule changed any advice, and what noticed it."""

    mutant: Mutant
    tried: int
    differs: bool
    by_example: bool
    by_scenario: bool
    by_invariant: bool


@dataclass(frozen=True)
class Job:
    """One thing to do; `number` names a case, an example or a scenario."""

    kind: str
    number: int = 0
    fault: Fault | None = None
    spoiling: Spoiling | None = None

    @property
    def name(self) -> str:
        """How messages name it."""
        if self.fault:
            return f"{self.fault.case}, being made smaller"
        return f"rule {self.spoiling.mutant.name}" if self.spoiling else f"{self.kind} {self.number}"


class Bench:
    """Does one job after the other."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self.rule_base = load_rule_base(plan.rules)
        self.programs = compile_rules(self.rule_base)
        self.chainer = SpoiledChainer(DurableChainer(self.programs), self.rule_base)
        self.advisor = Advisor(self.rule_base, self.chainer)
        self.invariants = {name: tuple(one.instances()) for name, one in self.rule_base.invariants.items()}
        self._readings: dict[tuple[str, str | tuple[str, ...]], Answer] = {}
        self._settled: dict[int, tuple[Typed, Outcome]] = {}
        self._settled_scenarios: dict[int, Outcome] = {}

    @cached_property
    def cases(self) -> Cases:
        """The generated cases."""
        return Cases(self.rule_base, self.programs, self.plan.seed, self.plan.count)

    @cached_property
    def scenarios(self) -> list[answer_file.AnswerFile]:
        """The scenarios, read."""
        return [answer_file.read(path) for path in self.plan.scenarios]

    def do(self, job: Job) -> Tally:
        """Do a job."""
        tally = Tally()
        if job.kind == "case":
            self._case(job, tally)
        elif job.kind == "example":
            self._example(job, tally)
        elif job.kind == "scenario":
            self._scenario(job, tally)
        elif job.fault:
            self._shrink(job.fault, tally)
        elif job.spoiling:
            tally.found[job.spoiling.mutant.name] = self._spoil(job.spoiling)
        return tally

    # -- cases

    def _case(self, job: Job, tally: Tally) -> None:
        answers, outcome = self._settle(job.number, tally)
        tally.cases = 1
        self._count(outcome, f"case {job.number}", tally)
        for key, says in self._findings(answers, outcome, job.number % TEXTS_EVERY == 0):
            tally.add(Fault(key, says, job.name, answers))

    def _settle(self, number: int, tally: Tally | None = None) -> tuple[Typed, Outcome]:
        """The answers of a case once none contradict each other, and what they lead to."""
        random = self.cases.random(number)
        answers, pinned = self.cases.draft(number, random)
        for attempt in range(ATTEMPTS):
            outcome = self._outcome(answers)
            if outcome.status != SENT_BACK:
                break
            found = outcome.result.contradictions()
            for firing, _ in found if tally is not None else ():
                tally.witness(firing.rule.rule.rule, f"case {number}")  # type: ignore[union-attr]
            if attempt < ATTEMPTS - 1:
                self.cases.again(answers, {name for _, line in found for name in line.questions}, pinned, attempt,
                                 random)
        return answers, outcome

    def _outcome(self, answers: Typed) -> Outcome:
        return outcome_of(self.advisor.evaluator, self._read(answers))

    def _read(self, answers: Typed) -> dict[str, Answer]:
        """Answers as the consultation reads them; what was read before is not read again."""
        if len(self._readings) > MOST_READINGS:
            self._readings.clear()
        keys = {name: (name, tuple(given) if isinstance(given, list) else given) for name, given in answers.items()}
        fresh = {name: given for name, given in answers.items() if keys[name] not in self._readings}
        for name, answer in read_answers(self.rule_base, fresh).items():
            self._readings[keys[name]] = answer
        return {name: self._readings[key] for name, key in keys.items()}

    def _findings(self, answers: Typed, outcome: Outcome, texts: bool) -> list[Finding]:
        found = findings_of(outcome, self.invariants)
        if texts and outcome.status != SENT_BACK:
            found += findings_in(self._advice(answers, outcome))
        return found

    def _advice(self, answers: Typed, outcome: Outcome) -> Advice:
        return Assembler(self.rule_base, outcome.result, self._read(answers), "", "metric").advice()

    def _count(self, outcome: Outcome, name: str, tally: Tally) -> None:
        tally.ends[outcome.status] += 1
        result = outcome.result
        for rule in dict.fromkeys(firing.rule.rule.rule for firing in result.firings):
            tally.witness(rule, name)
        tally.asked.update(list(result.asked))
        tally.reached.update({f"caution {word}" for word in outcome.words["caution"]})
        tally.reached.update({f"{choice.decision} {choice.chosen}" for choice in result.choices.values()
                              if choice.chosen})
        tally.reached.update({derived.id for firing in result.firings for derived in firing.rule.derives})
        tally.held.update(applying(outcome, self.invariants))

    # -- examples and scenarios

    def _example(self, job: Job, tally: Tally) -> None:
        example = self.rule_base.examples[job.number]
        if missed := self._missed(example):
            tally.add(Fault(f"example {example.where}", f"{example.example} ({example.where}): {missed}", job.name))

    def _missed(self, example: m.Example) -> str:
        """What an example says and the rules do not do."""
        return ", ".join(missed(example, self.advisor.evaluator))

    def _scenario(self, job: Job, tally: Tally) -> None:
        file = self.scenarios[job.number]
        name = Path(self.plan.scenarios[job.number]).stem
        outcome = self._outcome(file.answers)
        advice = self.advisor.consult(file.answers, file.title).advice()
        self._count(outcome, f"scenario {name}", tally)
        found = [*findings_of(outcome, self.invariants), *findings_in(advice)]
        found += [(f"scenario {name}: {what}", what) for what in unmet(file.expect or {}, advice)]
        for key, says in found:
            tally.add(Fault(key, says, f"scenario {name}", file.answers))

    # -- smaller cases and spoiled rules

    def _shrink(self, fault: Fault, tally: Tally) -> None:
        def fails(answers: Typed) -> bool:
            return fault.key in {key for key, _ in self._findings(answers, self._outcome(answers), True)}

        small = shrunk(dict(fault.answers or {}), fails)
        says = [says for key, says in self._findings(small, self._outcome(small), True) if key == fault.key]
        tally.found[fault.key] = Fault(fault.key, says[0] if says else fault.says, fault.case, small)

    def _spoil(self, spoiling: Spoiling) -> Noticed:
        mutant = spoiling.mutant
        differs = by_scenario = by_invariant = False
        cases = (*spoiling.cases, *self.cases.aimed_at(mutant.rule))
        for number in cases:
            answers, sound = self._sound(number)
            spoiled = self._spoiled(mutant, answers, sound)
            differs = differs or spoiled.summary != sound.summary
            if by_invariant := self._breaks(spoiled, sound):
                break
        for number in spoiling.scenarios:
            file = self.scenarios[number]
            sound = self._sound_scenario(number)
            spoiled = self._spoiled(mutant, file.answers, sound)
            differs = differs or spoiled.summary != sound.summary
            if by_scenario := bool(unmet(file.expect or {}, self._advice(file.answers, spoiled))):
                break
        by_example = any(self._example_notices(mutant, number) for number in spoiling.examples)
        return Noticed(mutant, len(cases) + len(spoiling.scenarios), differs, by_example, by_scenario,
                       by_invariant)

    def _sound_scenario(self, number: int) -> Outcome:
        if number not in self._settled_scenarios:
            self._settled_scenarios[number] = self._outcome(self.scenarios[number].answers)
        return self._settled_scenarios[number]

    def _sound(self, number: int) -> tuple[Typed, Outcome]:
        if number not in self._settled:
            self._settled[number] = self._settle(number)
        return self._settled[number]

    def _spoiled(self, mutant: Mutant, answers: Mapping[str, str | list[str]], sound: Outcome) -> Outcome:
        if mutant.only_speaks(self.rule_base):
            firings = [Firing(rule, firing.support) for firing in sound.result.firings
                       if (rule := mutant.spoil(firing.rule, self.rule_base))]
            return with_firings(sound, firings)
        self.chainer.mutant = mutant
        try:
            return self._outcome(dict(answers))
        finally:
            self.chainer.mutant = None

    def _breaks(self, spoiled: Outcome, sound: Outcome) -> bool:
        before = {key for key, _ in broken(sound, self.invariants)}
        return any(key not in before for key, _ in broken(spoiled, self.invariants))

    def _example_notices(self, mutant: Mutant, number: int) -> bool:
        self.chainer.mutant = mutant
        try:
            return bool(self._missed(self.rule_base.examples[number]))
        finally:
            self.chainer.mutant = None
