"""What is thought of a person's plan is said only to somebody who brought one."""

from __future__ import annotations

from advisor.consultation.consult import Advisor
from advisor.knowledge import model as m


def test_every_review_waits_for_a_plan(advisor: Advisor) -> None:
    reviewing = {name: rule for name, rule in advisor.rule_base.rules.items()
                 if any(isinstance(line, m.Review) for line in rule.then)}
    assert len(reviewing) > 100
    assert [name for name, rule in reviewing.items() if not _waits(rule.when)] == []


def _waits(when: m.Condition) -> bool:
    return any(map(_of_a_plan, when.all)) or bool(when.any) and all(map(_of_a_plan, when.any))


def _of_a_plan(test: m.Test) -> bool:
    return test.fact.startswith("plan") or (test.fact == "goal" and "check_plan" in test.values)
