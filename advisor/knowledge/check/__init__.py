"""Every reference, value, unit, source and order of a rule base, checked before anything runs."""

from __future__ import annotations

from advisor.errors import Problem
from advisor.knowledge.check.calculations import calculation_problems
from advisor.knowledge.check.conclusions import conclusion_problems
from advisor.knowledge.check.conditions import condition_problems
from advisor.knowledge.check.invariants import invariant_problems
from advisor.knowledge.check.supply import Supply
from advisor.knowledge.check.usage import usage_problems
from advisor.knowledge.check.words import word_problems
from advisor.knowledge.model import Entry
from advisor.knowledge.rulebase import RuleBase


def problems_of(rule_base: RuleBase) -> list[Problem]:
    """All problems of a rule base; empty when it may be used."""
    problems = word_problems(rule_base)
    if any(entry.topic not in rule_base.stage_of_topic for entry in _in_topics(rule_base)):
        return problems  # without a stage for each topic, order cannot be judged
    supply = Supply(rule_base)
    for find in (condition_problems, conclusion_problems, calculation_problems, usage_problems,
                 invariant_problems):
        problems += find(rule_base, supply)
    return problems


def _in_topics(rule_base: RuleBase) -> list[Entry]:
    return [*rule_base.rules.values(), *rule_base.calculations.values(), *rule_base.questions.values()]
