"""Waiting for a condition to hold comes to the same as looking at everything again after every fact."""

from __future__ import annotations

from random import Random

from advisor.consultation.conditions import holds
from advisor.consultation.consult import Advisor
from advisor.consultation.facts import Fact, Facts, Value
from advisor.consultation.waiting import Waiting
from advisor.knowledge.model import Question
from advisor.knowledge.numbers import exact
from advisor.knowledge.rulebase import RuleBase


def _value(name: str, rule_base: RuleBase, random: Random) -> Value:
    form = rule_base.facts[name]
    if form.kind in ("quantity", "count"):
        low, high = form.plausible or (0.0, 1.0)
        return exact(random.uniform(low, high), form.unit or "fraction")
    words = list(rule_base.values_of(form)) or ["unknown"]
    if form.kind == "several":
        return tuple(random.sample(words, random.randint(1, min(3, len(words)))))
    return random.choice(words)


def test_waiting_takes_what_looking_again_would_take(advisor: Advisor) -> None:
    real_rules = advisor.rule_base
    questions = real_rules.questions_in_order
    total = 0
    for seed in range(60):
        random = Random(seed)
        facts = Facts(real_rules)
        waiting = Waiting(questions, lambda question: question.when)
        taken: set[str] = set()
        naive: set[str] = set()

        def take(question: Question, into: set[str] = taken) -> None:
            into.add(question.question)

        for name in random.sample(list(real_rules.facts), 80):
            facts.add(Fact(name, _value(name, real_rules, random), random.choice(["answer", "rule"])))
            waiting.take(facts, take)
            naive |= {question.question for question in questions if holds(question.when, facts)}
        assert taken == naive
        total += len(taken)
    assert total > 500
