"""Random answers to the real questions, typed as a person would, that do not contradict each other."""

from __future__ import annotations

from functools import cache
from random import Random

from advisor.audit.answering import Answering
from advisor.consultation.consult import Advisor
from advisor.knowledge.model import UNKNOWN

UNKNOWN_SHARE = 0.15


@cache
def answering_of(advisor: Advisor, unknown: float) -> Answering:
    """What answers for a rule base; made once, as it looks through all rules."""
    return Answering(advisor.rule_base, advisor.evaluator.programs, unknown)


def random_answers(advisor: Advisor, random: Random, unknown: float = UNKNOWN_SHARE) -> dict[str, str | list[str]]:
    """An answer to every question; some unknown, some close to the limits of the rules."""
    return answering_of(advisor, unknown).anything(random)


def consistent_answers(advisor: Advisor, random: Random, unknown: float = UNKNOWN_SHARE) -> dict[str, str | list[str]]:
    """Random answers, those that contradict each other answered anew (a few times, then left unknown)."""
    answering = answering_of(advisor, unknown)
    answers = answering.anything(random)
    for attempt in range(12):
        found = advisor.consult(answers).contradictions()
        if not found:
            break
        for name in sorted({question for contradiction in found for question in contradiction.questions}):
            sure = attempt > 6 and advisor.rule_base.questions[name].takes_unknown
            answers[name] = UNKNOWN if sure else answering.one(name, random)
    return answers
