"""The cases that are timed: the scenarios, and generated ones that do not contradict themselves."""

from __future__ import annotations

from collections.abc import Sequence
from random import Random

from advisor import answer_file
from advisor.consultation.consult import Advisor, Consultation
from advisor.consultation.evaluate import Evaluator
from advisor.engine.program import Chainer, Firing, Posted
from tests.benchmarks.figures import ROOT
from tests.random_answers import consistent_answers

WARMED_BY = 100
SCENARIOS = sorted((ROOT / "scenarios").glob("*.yaml"))


def scenarios(advisor: Advisor) -> list[Consultation]:
    """Every scenario that ends in advice with a method."""
    files = [(path, answer_file.read(path)) for path in SCENARIOS]
    cases = [advisor.consult(file.answers, file.title or path.stem, None, file.places) for path, file in files]
    return [case for case in cases if case.advice().method]


def generated(advisor: Advisor, count: int, seed: int = 1) -> list[Consultation]:
    """Cases from random answers, the same for the same seed."""
    random = Random(seed)
    return [advisor.consult(consistent_answers(advisor, random)) for _ in range(count)]


def afresh(case: Consultation, advisor: Advisor | None = None) -> Consultation:
    """The same case with nothing remembered, of the same advisor or another."""
    fresh = Consultation(advisor or case.advisor, case.title, case.units)
    fresh.answers.update(case.answers)
    return fresh


def warmed(advisor: Advisor, quick: bool = False) -> Advisor:
    """An advisor of its own that has advised other cases, and so remembers something of those, as one at work does."""
    other = Advisor(advisor.rule_base)
    for case in generated(advisor, 10 if quick else WARMED_BY, seed=9):
        afresh(case, other).advice()
    return other


StageFacts = list[tuple[str, tuple[Posted, ...]]]
"""What an evaluation gave the engine: each stage that it came to, and the facts."""


class _Listening:
    """Passes everything on to a chainer, and keeps what it was given."""

    def __init__(self, chainer: Chainer, first: str) -> None:
        self._chainer, self._first = chainer, first
        self.given: StageFacts = []

    def outlined(self) -> Chainer:
        return self

    def run(self, stage: str, facts: Sequence[Posted]) -> list[Firing]:
        if stage == self._first:
            self.given.clear()  # evaluated afresh without a method that was withdrawn: the last pass counts
        self.given.append((stage, tuple(facts)))
        return self._chainer.run(stage, facts)


def given_to_the_engine(advisor: Advisor, case: Consultation, chainer: Chainer) -> StageFacts:
    """The facts of each stage of the (last) pass of a case's final evaluation."""
    listening = _Listening(chainer, next(iter(advisor.rule_base.stages)))
    Evaluator(advisor.rule_base, advisor.evaluator.programs, listening).evaluate(case.answers, final=True)
    return listening.given
