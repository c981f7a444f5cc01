"""How a line of the advice was reached: from the answers through facts, computations and rules, in sentences."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from advisor.calculators import formula_of
from advisor.computing.run import put_in
from advisor.consultation.advice import Advice
from advisor.consultation.calculate import inputs_of
from advisor.consultation.consult import Consultation
from advisor.consultation.facts import Fact
from advisor.engine.program import Firing

_COPY = "same = "


@dataclass(frozen=True)
class Said:
    """One line of the advice, and the rule behind it."""

    text: str
    rule: str


@dataclass(frozen=True)
class Reason:
    """One sentence of an explanation; `depth` is how many conclusions lie between it and the line explained."""

    depth: int
    text: str
    source: tuple[str, ...] = ()


def lines_with(advice: Advice, words: str) -> list[Said]:
    """The lines of the advice that hold these words, big and small letters alike."""
    wanted = words.casefold()
    return [said for said in _lines(advice) if wanted in said.text.casefold()]


def _lines(advice: Advice) -> Iterator[Said]:
    for spec in advice.specification:
        yield Said(f"{spec.about}: {spec.say}", spec.why.rule)
    for amount in advice.quantities:
        yield Said(amount.item, amount.why.rule)
    for step in advice.steps:
        yield Said(f"{step.number}. {step.text}", step.why.rule)
    for condition in advice.conditions:
        yield Said(condition.say, condition.why.rule)
    for review in advice.review:
        yield Said(f"{review.about}: {review.say}", review.why.rule)
    for choice in advice.choices:
        for candidate in choice.candidates:
            for line in candidate.evidence:
                yield Said(f"{candidate.label}: {line.because}", line.rule)


def explain(case: Consultation, rule: str) -> list[Reason]:
    """The chain from the answers to what a rule concluded, the conclusion first; each fact is explained once."""
    return list(_Explaining(case).of_rule(rule, 0))


class _Explaining:
    def __init__(self, case: Consultation) -> None:
        self.case, self.rule_base = case, case.rule_base
        self.result = case.evaluator.evaluate(case.answers, final=True, system=case.system)
        self.texts = case.texts_of(self.result)
        self.seen: set[str] = set()

    def of_rule(self, rule: str, depth: int) -> Iterator[Reason]:
        firing = next((one for one in self.result.firings if one.rule.rule.rule == rule), None)
        if firing is not None:
            yield from self._of_firing(firing, depth)
        elif rule in self.rule_base.rules:
            entry = self.rule_base.rules[rule]
            yield Reason(depth, f"{entry.says} That was found on the way; with what it left out, all was gone through "
                         "again.", entry.sources)

    def _of_firing(self, firing: Firing, depth: int) -> Iterator[Reason]:
        rule, binding = firing.rule.rule, firing.rule.binding
        yield Reason(depth, f"{self.texts.fill(rule.says, binding)} {self.texts.fill(rule.because, binding)}",
                     rule.sources)
        for id_ in firing.support:
            yield from self._of_fact(id_.partition("=")[0], depth + 1)

    def _of_fact(self, name: str, depth: int) -> Iterator[Reason]:
        fact = self.result.facts.get(name)
        if fact is None or name in self.seen:
            return
        self.seen.add(name)
        value = self.texts.value(name, fact.value)
        if fact.origin in ("answer", "assumption"):
            yield self._of_answer(name, value, fact, depth)
        elif fact.origin == "calculation":
            yield from self._of_calculation(name, value, fact, depth)
        elif fact.origin == "rule":
            yield from self.of_rule(fact.by, depth)
        elif fact.origin == "decision":
            decision = self.rule_base.decisions.get(name)
            label = decision.label if decision else self.texts.label(name)
            yield Reason(depth, f"{label}: {value} was chosen, on the balance of reasons.")
        else:
            thing, _, attribute = name.rpartition(".")
            held = self.texts.value(thing, self.result.facts.value(thing)) if thing else ""
            form = self.rule_base.attribute(name)
            label = form.label.lower() if form else attribute
            yield Reason(depth, f"Of {held} it is known: {label}, {value}.")
            yield from self._of_fact(thing, depth + 1)

    def _of_answer(self, name: str, value: str, fact: Fact, depth: int) -> Reason:
        question = self.rule_base.questions[name]
        if fact.origin == "answer":
            return Reason(depth, f"You were asked: {question.ask} You said: {value}.")
        told = question.dont_know
        because = (told.because or told.home_test if told else None) or question.why
        return Reason(depth, f"You were asked: {question.ask} Nobody knew, so it is taken as {value}. {because}")

    def _of_calculation(self, name: str, value: str, fact: Fact, depth: int) -> Iterator[Reason]:
        entry = self.rule_base.calculations[fact.by]
        formula = formula_of(entry.using)
        worked = put_in(formula, inputs_of(entry, self.result.facts, self.rule_base))
        shown = value if name in self.rule_base.facts and self.rule_base.facts[name].kind != "record" else "a list"
        reckoned = "" if formula.startswith(_COPY) else f" {formula}; with the numbers: {worked}."
        yield Reason(depth, f"{entry.label}: {shown}.{reckoned}", entry.sources)
        for id_ in fact.support:
            yield from self._of_fact(id_.partition("=")[0], depth + 1)
