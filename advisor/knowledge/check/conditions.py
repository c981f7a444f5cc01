"""Conditions: every fact known in time, every word and number allowed, every operator fitting."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.errors import Problem, near
from advisor.knowledge.bindings import stands_for
from advisor.knowledge.check.supply import Supply
from advisor.knowledge.check.values import kind_of, number_fault, word_fault
from advisor.knowledge.model import (
    NEGATIVE_OPERATORS,
    NUMBER_OPERATORS,
    UNKNOWN,
    Calculation,
    Condition,
    Decision,
    Question,
    Rule,
    Test,
)
from advisor.knowledge.rulebase import EVERY, LIMIT, RuleBase


def condition_problems(rule_base: RuleBase, supply: Supply) -> list[Problem]:
    """Problems in the `when` of rules, calculations, questions and decisions."""
    return [problem for entry, condition, level in _conditions(rule_base, supply)
            for test in condition.tests
            for problem in _test_problems(entry, test, level, rule_base, supply)]


def _conditions(rule_base: RuleBase, supply: Supply) -> Iterator[tuple[Rule | Calculation | Question | Decision,
                                                                       Condition, float]]:
    for rule in rule_base.rules.values():
        yield rule, rule.when, supply.stage_level(rule)
    for calculation in rule_base.calculations.values():
        if calculation.when:
            yield calculation, calculation.when, supply.stage_level(calculation) - 0.5
    for question in rule_base.questions.values():
        told = question.dont_know
        for condition in (question.when, question.unasked, *(case.when for case in (told.instead if told else ()))):
            if condition:
                yield question, condition, float("inf")
    for decision in rule_base.decisions.values():
        if decision.when:
            yield decision, decision.when, rule_base.stage_order.get(decision.stage, 0) + 0.5


def _test_problems(entry: Rule | Calculation | Question | Decision, test: Test, level: float,
                   rule_base: RuleBase, supply: Supply) -> Iterator[Problem]:
    where = f"{entry.file}:{test.line}"
    names = stands_for(entry, test.fact) if isinstance(entry, Rule) else [test.fact]
    for fact in names:
        kind = kind_of(rule_base, fact)
        if kind is None:
            guess = near(fact, [*rule_base.facts, *rule_base.decisions])
            yield Problem(f"unknown fact `{fact}`", where,
                          f"did you mean `{guess}`?" if guess else "add it to the vocabulary")
            continue
        if not fact.startswith(EVERY):
            yield from _order_problems(test, fact, level, where, entry, supply)
        yield from _value_problems(test, fact, kind, where, entry, rule_base)
    for right in test.values if test.operator in NUMBER_OPERATORS else ():
        known_at = supply.level(right)
        if isinstance(entry, Rule) and known_at is not None and known_at >= level:
            yield Problem(f"`{right}` is compared with in or before the stage that supplies it", where,
                          "two facts may be compared only when both are known before the stage")


def _order_problems(test: Test, fact: str, level: float, where: str,
                    entry: Rule | Calculation | Question | Decision, supply: Supply) -> Iterator[Problem]:
    known_at = supply.level(fact)
    if known_at is None:
        yield Problem(f"`{fact}` is supplied by no question, rule or calculation", where,
                      "add one, or test another fact")
    elif isinstance(entry, Rule) and _needs_earlier(test) and known_at >= level:
        yield Problem(f"`{fact}` is tested for absence or against a fact in or before the stage that supplies it",
                      where, "that may be asked only of answers and of facts of earlier stages")
    elif known_at > level:
        yield Problem(f"`{fact}` is only known in a later stage", where, "move the entry to a later topic")


def _needs_earlier(test: Test) -> bool:
    compares = test.operator in NUMBER_OPERATORS and not all(v.startswith(LIMIT) for v in test.values)
    return test.operator in NEGATIVE_OPERATORS or compares


def _value_problems(test: Test, fact: str, kind: str, where: str,
                    entry: Rule | Calculation | Question | Decision, rule_base: RuleBase) -> Iterator[Problem]:
    numeric = kind in ("quantity", "count")
    if kind not in ("choice", "several", "yes_no", "quantity", "count"):
        yield Problem(f"`{fact}` is a {kind}, which no condition can test", where, "test a word or a number")
    elif test.operator in NUMBER_OPERATORS:
        if not numeric:
            yield Problem(f"`{fact}` is a {kind}; `{test.operator}` compares numbers", where, "use is or one_of")
            return
        if (len(test.values) == 2) != (test.operator == "between"):
            yield Problem(f"`{test.operator}` has {len(test.values)} right sides", where,
                          "between takes two, the others one")
        for right in test.values:
            for name in _right_names(entry, right):
                yield from _faults(number_fault(rule_base, fact, name), where)
    elif numeric and test.values != (UNKNOWN,):
        yield Problem(f"`{fact}` is a number; `{test.operator}` compares words", where,
                      "use above, at_least, below, at_most or between")
    elif not numeric:
        for word in test.values:
            yield from _faults(word_fault(rule_base, fact, word), where)


def _right_names(entry: Rule | Calculation | Question | Decision, right: str) -> list[str]:
    return stands_for(entry, right) if isinstance(entry, Rule) and not right.startswith(LIMIT) else [right]


def _faults(fault: tuple[str, str] | None, where: str) -> Iterator[Problem]:
    if fault:
        yield Problem(fault[0], where, fault[1])
