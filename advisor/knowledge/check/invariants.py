"""Safety invariants: every fact, word, limit and source they name exists, and each demands something."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.errors import Problem
from advisor.knowledge.check.supply import Supply
from advisor.knowledge.check.values import did_you_mean, kind_of, number_fault, word_fault
from advisor.knowledge.invariants import ADVICE_WORDS, STATUSES, WITHIN, Invariant
from advisor.knowledge.model import NUMBER_OPERATORS, UNKNOWN, ConditionLine, Test
from advisor.knowledge.rulebase import EVERY, RuleBase

VERDICTS = tuple(ConditionLine.model_fields["verdict"].annotation.__args__)  # type: ignore[union-attr]


def invariant_problems(rule_base: RuleBase, supply: Supply) -> list[Problem]:
    """All problems of the invariants."""
    return [problem for invariant in rule_base.invariants.values()
            for problem in (*_shape_problems(invariant, rule_base), *_content_problems(invariant, rule_base, supply))]


def _shape_problems(invariant: Invariant, rule_base: RuleBase) -> Iterator[Problem]:
    if not (invariant.must.tests or invariant.must_not.tests or invariant.within):
        yield Problem(f"the invariant `{invariant.invariant}` demands nothing", invariant.where,
                      f"add `must:`, `must_not:` or `{WITHIN}:`")
    if any(target.startswith(EVERY) for targets in invariant.for_each.values() for target in targets):
        yield Problem("an invariant is repeated for facts only", invariant.where,
                      "write `for_each: {face: [fact, fact]}`")
    for source in invariant.sources:
        if source not in rule_base.sources:
            yield Problem(f"there is no source `{source}`", invariant.where,
                          did_you_mean(source, list(rule_base.sources)))


def _content_problems(invariant: Invariant, rule_base: RuleBase, supply: Supply) -> Iterator[Problem]:
    for instance in invariant.instances():
        for test in instance.tests:
            where = f"{invariant.file}:{test.line or invariant.line}"
            if test.fact in ADVICE_WORDS:
                yield from _advice_problems(test, where, rule_base)
            else:
                yield from _fact_problems(test, where, rule_base, supply)


def _advice_problems(test: Test, where: str, rule_base: RuleBase) -> Iterator[Problem]:
    words = {"status": STATUSES, "caution": tuple(rule_base.cautions), "today": VERDICTS}.get(
        test.fact, tuple(rule_base.phases))
    if test.operator in NUMBER_OPERATORS:
        yield Problem(f"`{test.fact}` is a word; `{test.operator}` compares numbers", where, "use is or one_of")
        return
    for word in test.values:
        if word not in words:
            yield Problem(f"`{test.fact}` has no value `{word}`", where, did_you_mean(word, list(words)))


def _fact_problems(test: Test, where: str, rule_base: RuleBase, supply: Supply) -> Iterator[Problem]:
    kind = kind_of(rule_base, test.fact)
    if kind is None or supply.level(test.fact) is None:
        yield Problem(f"unknown fact `{test.fact}`", where,
                      did_you_mean(test.fact, [*rule_base.facts, *rule_base.decisions, *ADVICE_WORDS]))
        return
    numeric = kind in ("quantity", "count")
    compares = test.operator in NUMBER_OPERATORS
    if compares != numeric and test.values != (UNKNOWN,):
        yield Problem(f"`{test.fact}` is a {kind}, which `{test.operator}` does not compare", where,
                      "numbers are above, at_least, below, at_most or between; words are is or one_of")
    elif compares and (len(test.values) == 2) != (test.operator == "between"):
        yield Problem(f"`{test.operator}` has {len(test.values)} right sides", where, "bounds are two, the others one")
    else:
        for value in test.values:
            fault = (number_fault if numeric and compares else word_fault)(rule_base, test.fact, value)
            if fault:
                yield Problem(fault[0], where, fault[1])
