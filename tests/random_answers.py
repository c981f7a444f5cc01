"""Random answers to the real questions, typed as a person would."""

from __future__ import annotations

from random import Random

from advisor.consultation.consult import Advisor
from advisor.knowledge.model import Question
from advisor.knowledge.rulebase import RuleBase

STOPPING = {"duty", "site", "health"}


def random_answers(rule_base: RuleBase, random: Random, unknown: float = 0.15) -> dict[str, str | list[str]]:
    """An answer to every question; mostly plausible sizes, some unknown, some at the ends of the range."""
    return {name: _answer(question, rule_base, random, unknown) for name, question in rule_base.questions.items()}


def _answer(question: Question, rule_base: RuleBase, random: Random, unknown: float) -> str | list[str]:
    form = rule_base.facts[question.question]
    if question.essential == "no" and random.random() < unknown:
        return "unknown"
    if form.kind in ("quantity", "count"):
        low, high = form.plausible or (0.0, 100.0)
        share = random.choice((0.0, 1.0, random.random() ** 3, random.random() ** 3, random.random()))
        unit = (form.unit or "").replace("1/", "per ")
        return f"{low + share * (high - low):.4g} {unit}".strip()
    words = list(rule_base.values_of(form))
    if form.kind != "several":
        return random.choice(words)
    alone = [word for word in words if word.startswith("none")]
    if alone and (question.question in STOPPING and random.random() < 0.9 or random.random() < 0.4):
        return alone
    others = [word for word in words if word not in alone]
    return random.sample(others, random.randint(1, min(3, len(others))))



def consistent_answers(advisor: Advisor, random: Random, unknown: float = 0.15) -> dict[str, str | list[str]]:
    """Random answers, those that contradict each other answered anew (a few times, then left unknown)."""
    answers = random_answers(advisor.rule_base, random, unknown)
    for attempt in range(12):
        found = advisor.consult(answers).contradictions()
        if not found:
            break
        for name in sorted({question for contradiction in found for question in contradiction.questions}):
            question = advisor.rule_base.questions[name]
            sure = attempt > 6 and question.essential == "no"
            answers[name] = "unknown" if sure else _answer(question, advisor.rule_base, random, unknown)
    return answers
