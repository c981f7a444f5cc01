"""What to ask next, why, and about how much more is to come."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.consultation.conditions import undecided
from advisor.consultation.evaluate import Evaluation
from advisor.knowledge.bindings import stands_for
from advisor.knowledge.model import NUMBER_OPERATORS, Question, Rule
from advisor.knowledge.rulebase import RuleBase


@dataclass(frozen=True)
class Contradiction:
    """Answers that cannot all be right: what was found, why, and which to answer again."""

    rule: str
    says: str
    because: str
    questions: tuple[str, ...]


def open_questions(rule_base: RuleBase, result: Evaluation) -> list[Question]:
    """The questions that matter for the case so far and wait for an answer, in order."""
    return [question for question in rule_base.questions_in_order if question.question in result.untold]


def about_how_many(rule_base: RuleBase, result: Evaluation) -> int:
    """An estimate of the questions still to come: the open ones and what their answers will raise.

    Measured on the scenarios, an essential answer raises about one more question and any other hardly any; before
    the first answer about a sixth of all that may still be asked will be.
    """
    still_open = open_questions(rule_base, result)
    if len(still_open) == len(result.asked):
        return len(still_open) + sum(undecided(question.when, result.facts) for question in result.waiting) // 6
    return len(still_open) + sum(question.essential == "yes" for question in still_open)


def rules_waiting_for(rule_base: RuleBase, name: str) -> list[Rule]:
    """The rules whose conditions read the answer to a question, in stage order."""
    return [rule for stage in rule_base.stages for rule in rule_base.in_stage(rule_base.rules.values(), stage)
            if name in _read_by(rule)]


def _read_by(rule: Rule) -> set[str]:
    names = [name for test in rule.when.tests
             for name in (test.fact, *(test.values if test.operator in NUMBER_OPERATORS else ()))]
    return {fact.partition(".")[0] for name in names for fact in stands_for(rule, name)}
