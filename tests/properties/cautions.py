"""No caution disappears when an unrelated answer is added.

A case is told twice: without one of its answers (nobody knew it) and with it. The answer is unrelated where nothing
that the case without it came to rests on that question. A caution may then only go where the work it belongs to goes:
where the case ends in a stop or a referral, or where a choice that the caution rests on comes out another way.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from random import Random

from advisor.consultation.answers import Answer
from advisor.consultation.consult import Consultation
from advisor.consultation.evaluate import Evaluation
from advisor.knowledge import model as m
from advisor.knowledge.rulebase import RuleBase


@dataclass(frozen=True)
class Gone:
    """A caution that an added answer took away, and why that is right; without a reason it is a fault."""

    caution: str
    question: str
    reason: str


def gone(case: Consultation, random: Random, most: int = 6) -> tuple[list[Gone], int]:
    """What the added answers took away, and how many unrelated answers were added."""
    full = case.evaluator.evaluate(case.answers, final=True)
    found: list[Gone] = []
    count = 0
    if full.ended_by in ("send_back", "incomplete"):
        return found, count
    optional = [answer.question for answer in case.relevant_answers()
                if case.rule_base.questions[answer.question].essential == "no" and not answer.unknown]
    for question in random.sample(optional, min(most, len(optional))):
        answers: Mapping[str, Answer] = {name: one for name, one in case.answers.items() if name != question}
        without = case.evaluator.evaluate(answers, final=True)
        if without.ended_by in ("send_back", "incomplete") or question in everything_read(without, case.rule_base):
            continue
        count += 1
        found += _lost(without, full, question, case.rule_base)
    return found, count


def _lost(without: Evaluation, full: Evaluation, question: str, rule_base: RuleBase) -> Iterator[Gone]:
    raised, still = cautions_of(without), cautions_of(full)
    other = {name for name in {*without.choices, *full.choices} if _chosen(without, name) != _chosen(full, name)}
    for caution in raised.keys() - still.keys():
        behind = behind_of(without, raised[caution], rule_base)
        changed = sorted(other & behind)
        if full.ended_by is not None and without.ended_by is None:
            yield Gone(caution, question, f"the case ends in a {full.ended_by}")
        elif changed:
            yield Gone(caution, question, f"{', '.join(changed)} comes out another way")
        else:
            yield Gone(caution, question, "")


def _chosen(result: Evaluation, decision: str) -> str | None:
    choice = result.choices.get(decision)
    return choice.chosen if choice else None


def cautions_of(result: Evaluation) -> dict[str, list[str]]:
    """Every caution raised, with the facts that support it."""
    found: dict[str, list[str]] = {}
    for firing, line in result.conclusions(m.CautionRef):
        for caution in line.cautions:
            found.setdefault(caution, []).extend(firing.support)
    return found


def everything_read(result: Evaluation, rule_base: RuleBase) -> set[str]:
    """The names of all facts that anything concluded in a case rests on, as far down as it goes."""
    return behind_of(result, [id_ for firing in result.firings for id_ in firing.support], rule_base)


def behind_of(result: Evaluation, support: Iterable[str], rule_base: RuleBase) -> set[str]:
    """The names of all facts behind these, themselves among them; behind an answer, what made it worth asking."""
    found: set[str] = set()
    waiting = [id_.partition("=")[0] for id_ in support]
    while waiting:
        name = waiting.pop()
        fact = result.facts.get(name)
        if name in found or fact is None:
            continue
        found.add(name)
        waiting += [id_.partition("=")[0] for id_ in fact.support]
        if name in rule_base.questions and (when := rule_base.questions[name].when):
            waiting += [test.fact for test in when.tests]
    return found
