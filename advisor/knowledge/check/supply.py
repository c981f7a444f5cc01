"""Who supplies each fact, and how early it is known.

A level is a place in the order of reasoning: answers are known before the first stage, a calculation just
before the rules of its stage, a conclusion within its stage, a decision at its end.
"""

from __future__ import annotations

from collections.abc import Iterable

from advisor.knowledge.model import Calculation, Conclude, Rule
from advisor.knowledge.rulebase import RuleBase

ANSWER_LEVEL = -1.0


class Supply:
    """The level at which every fact of a rule base is known."""

    def __init__(self, rule_base: RuleBase) -> None:
        self._rule_base = rule_base
        self.levels: dict[str, float] = dict.fromkeys(rule_base.questions, ANSWER_LEVEL)
        for calculation in rule_base.calculations.values():
            self._raise(calculation.gives, self.stage_level(calculation) - 0.5)
        for rule in rule_base.rules.values():
            self._raise(concluded(rule), self.stage_level(rule))
        for decision in rule_base.decisions.values():
            if decision.stage in rule_base.stage_order:
                planned = [decision.plan.standing, decision.plan.against] if decision.plan else []
                self._raise([decision.decision, *planned], rule_base.stage_order[decision.stage] + 0.5)

    def _raise(self, facts: Iterable[str], level: float) -> None:
        for fact in facts:
            self.levels[fact] = max(level, self.levels.get(fact, ANSWER_LEVEL))

    def stage_level(self, entry: Rule | Calculation) -> float:
        """The place of an entry's stage."""
        return float(self._rule_base.stage_order[self._rule_base.stage_of(entry)])

    def level(self, fact: str) -> float | None:
        """When a fact (or an attribute of one) is known; None when nothing supplies it."""
        return self.levels.get(fact.partition(".")[0])


def concluded(rule: Rule) -> list[str]:
    """The facts a rule concludes, with the names bound by `for_each` spelled out."""
    facts: list[str] = []
    for conclusion in rule.then:
        if isinstance(conclusion, Conclude):
            owner, dot, rest = conclusion.fact.partition(".")
            facts += [f"{name}{dot}{rest}" for name in rule.for_each.get(owner, (owner,))]
    return facts
