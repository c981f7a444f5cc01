"""Answers aimed at one rule: its conditions followed back to the questions behind them, as far as that goes."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from random import Random

from advisor.audit.answering import Answering
from advisor.audit.findings import Typed
from advisor.engine.program import Atom, EngineRule, Programs
from advisor.knowledge.model import NEGATIVE_OPERATORS, NUMBER_OPERATORS, Condition, Evidence, Test
from advisor.knowledge.numbers import Number
from advisor.knowledge.rulebase import Material

DEEPEST = 5
_FOR_IT = ("require", "favour")


@dataclass
class _Wanted:
    """The answers pinned so far."""

    answers: Typed
    random: Random


class Aim:
    """Finds answers for which a rule may fire; what it cannot see (computed numbers) is left to chance."""

    def __init__(self, answering: Answering, programs: Programs) -> None:
        self.answering, self.rule_base = answering, answering.rule_base
        self._ways: dict[str, list[EngineRule]] = defaultdict(list)
        self._deriving: dict[tuple[str, object], list[EngineRule]] = defaultdict(list)
        self._for: dict[tuple[str, str], list[EngineRule]] = defaultdict(list)
        for program in programs.values():
            for rule in program.rules:
                self._index(rule)
        self.rules = list(self._ways)

    def _index(self, rule: EngineRule) -> None:
        self._ways[rule.rule.rule].append(rule)
        for derived in rule.derives:
            self._deriving[derived.key, derived.value].append(rule)
        for line in rule.rule.then:
            if isinstance(line, Evidence) and line.does in _FOR_IT:
                for candidate in line.candidates:
                    self._for[line.decision, rule.binding.candidate(candidate)].append(rule)

    def at(self, rule: str, random: Random) -> Typed:
        """Answers that a rule asks for, directly or through other rules."""
        wanted = _Wanted({}, random)
        self._rule(random.choice(self._ways[rule]), wanted, 0)
        return wanted.answers

    def _rule(self, rule: EngineRule, wanted: _Wanted, depth: int) -> None:
        for group in rule.groups:
            self._group(group, wanted, depth)

    def _group(self, group: tuple[Atom, ...], wanted: _Wanted, depth: int) -> None:
        key = group[0].key
        if key.startswith("!"):
            fact, operator, other = key[1:].split(" ")
            if operator == "is_not":
                words = [word for word in self._words(fact) if word != other]
                self._one_of(fact, words, wanted, depth)
        elif isinstance(group[0].value, str):
            self._one_of(key, [group[0].value], wanted, depth)
        else:
            self._number(key, group, wanted, depth)

    def _words(self, fact: str) -> list[str]:
        if fact in self.rule_base.decisions:
            return list(self.rule_base.materials[self.rule_base.decisions[fact].of])
        form = self.rule_base.facts.get(fact)
        return list(self.rule_base.values_of(form)) if form else []

    def _one_of(self, fact: str, words: list[str], wanted: _Wanted, depth: int) -> None:
        """Make a fact one of some words, by its answer, its owner, a rule that concludes it or a choice."""
        if depth > DEEPEST or not words:
            return
        word = wanted.random.choice(words)
        if fact in self.rule_base.questions:
            self._pin(fact, word, wanted, depth)
        elif "." in fact:
            self._owner(fact, lambda value: value in words, wanted, depth)
        elif fact in self.rule_base.decisions:
            self._any_of(self._for[fact, word], wanted, depth)
        else:
            self._any_of(self._deriving[fact, word], wanted, depth)

    def _any_of(self, rules: list[EngineRule], wanted: _Wanted, depth: int) -> None:
        if rules:
            self._rule(wanted.random.choice(rules), wanted, depth + 1)

    def _owner(self, fact: str, fits: object, wanted: _Wanted, depth: int) -> None:
        owner, _, attribute = fact.partition(".")
        kind = self.rule_base.kind_of_fact(owner)
        things: Iterable[Material] = self.rule_base.materials[kind.kind].values() if kind else ()
        fitting = [thing.id for thing in things if fits(thing.values.get(attribute))]  # type: ignore[operator]
        self._one_of(owner, fitting, wanted, depth + 1)

    def _number(self, fact: str, group: tuple[Atom, ...], wanted: _Wanted, depth: int) -> None:
        if "." in fact:
            self._owner(fact, lambda value: isinstance(value, Number) and _inside(value.value, group), wanted, depth)
        elif fact in self.rule_base.questions:
            form = self.rule_base.facts[fact]
            low, high = form.plausible or (0.0, 100.0)
            lows = [float(atom.value) for atom in group if atom.operator in ("above", "at_least")]
            highs = [float(atom.value) for atom in group if atom.operator in ("below", "at_most")]
            low, high = max([low, *lows]), min([high, *highs])
            size = low + (high - low) * wanted.random.choice((0.05, 0.3, 0.5, 0.8, 0.95))
            self._pin(fact, self.answering.number(form, size), wanted, depth)

    def _pin(self, question: str, typed: str, wanted: _Wanted, depth: int) -> None:
        """Fix an answer unless it is fixed already, and see to it that the question is asked."""
        several = self.rule_base.facts[question].kind == "several"
        before = wanted.answers.get(question)
        if before is None:
            wanted.answers[question] = [typed] if several else typed
            self._condition(self.rule_base.questions[question].when, wanted, depth + 1)
        elif isinstance(before, list) and typed not in before:
            before.append(typed)

    def _condition(self, condition: Condition | None, wanted: _Wanted, depth: int) -> None:
        if condition is None:
            return
        chosen = [*condition.all, *([wanted.random.choice(condition.any)] if condition.any else [])]
        for test in chosen:
            self._test(test, wanted, depth)

    def _test(self, test: Test, wanted: _Wanted, depth: int) -> None:
        if test.operator in NUMBER_OPERATORS:
            return
        words = list(test.values)
        if test.operator in NEGATIVE_OPERATORS:
            words = [word for word in self._words(test.fact) if word not in test.values]
        self._one_of(test.fact, words, wanted, depth)


def _inside(value: float, group: tuple[Atom, ...]) -> bool:
    ends = {"above": value.__gt__, "at_least": value.__ge__, "below": value.__lt__, "at_most": value.__le__}
    return all(ends[atom.operator](float(atom.value)) for atom in group)
