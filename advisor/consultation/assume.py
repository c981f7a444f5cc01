"""What is taken for an answer that nobody knows."""

from __future__ import annotations

from advisor.consultation.conditions import holds
from advisor.consultation.facts import Facts
from advisor.knowledge.model import Question


def assumption_for(question: Question, facts: Facts) -> tuple[str | None, str | None]:
    """The assumption for a question in this case and its reason; (None, home test or None) when nothing is assumed."""
    told = question.dont_know
    if told is None:
        return None, None
    for case in told.instead:
        if holds(case.when, facts):
            return case.assume, case.because
    return told.assume, told.because or told.home_test


def goes_unasked(question: Question, facts: Facts) -> bool:
    """Whether nobody is asked, so that an `I don't know` is taken."""
    return question.unasked is not None and holds(question.unasked, facts)
