"""The answers that something rests on, and those that weighed most in what was chosen."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator

from advisor.consultation.advice import Candidate, Choice, EvidenceLine, Pivot
from advisor.consultation.choices import STRENGTHS
from advisor.consultation.evaluate import Evaluation
from advisor.consultation.facts import Fact, Facts
from advisor.consultation.spoken import evidence_firings
from advisor.consultation.status import heads_of
from advisor.consultation.texts import Texts
from advisor.knowledge.rulebase import RuleBase

MOST_NAMED = 3
_FOR, _AGAINST = ("require", "favour"), ("rule_out", "withdraw", "oppose")


def answers_behind(support: Iterable[str], facts: Facts, rule_base: RuleBase) -> list[str]:
    """The questions whose answers, given or assumed, these supporting facts rest on, nearest first."""
    def answered(fact: Fact) -> bool:
        return fact.origin in ("answer", "assumption") and fact.name in rule_base.questions

    return [fact.name for fact in facts.behind(support, through=lambda fact: not answered(fact)) if answered(fact)]


def weighed_most(result: Evaluation, rule_base: RuleBase, texts: Texts) -> tuple[Pivot, ...]:
    """The two or three answers that carried most of the difference between what was chosen and what else had
    something for it.

    What rules out counts most, then strong, clear and slight evidence; a reason that rests on several answers counts
    for each in part. The reason for coming counts for nothing: it stands behind everything. Nothing is tried here;
    `vary` tries.
    """
    heads = heads_of(result, rule_base)
    shares: dict[str, float] = defaultdict(float)
    for choice in heads:
        for support, weight in _separating(result, choice):
            behind = [name for name in answers_behind(support, result.facts, rule_base)
                      if rule_base.stage_order[rule_base.stage_of(rule_base.questions[name])] > 0]
            for name in behind:
                shares[name] += weight / len(behind)
    led = ", ".join(texts.value(choice.decision, choice.chosen) for choice in heads if choice.chosen)
    order = {question.question: place for place, question in enumerate(rule_base.questions_in_order)}
    return tuple(_pivot(name, led, result, rule_base, texts)
                 for name in sorted(shares, key=lambda name: (-shares[name], order[name]))[:MOST_NAMED])


def _separating(result: Evaluation, choice: Choice) -> Iterator[tuple[tuple[str, ...], float]]:
    """What supports each piece of evidence that set the chosen before the others, and its weight."""
    for candidate in choice.candidates:
        chosen = candidate.id == choice.chosen
        if not chosen and not _has_any(candidate, _FOR):
            continue
        for line in candidate.evidence:
            if line.strength in (_FOR if chosen else _AGAINST):
                for firing in evidence_firings(result, choice.decision, candidate.id, line.rule):
                    yield firing.support, _weight(line)


def _has_any(candidate: Candidate, strengths: tuple[str, ...]) -> bool:
    return any(line.strength in strengths for line in candidate.evidence)


def _weight(line: EvidenceLine) -> float:
    """Each strength weighs twice the next weaker one; what requires or rules out twice the strongest."""
    place = STRENGTHS.index(line.weight) if line.weight else -1
    return 2.0 ** (len(STRENGTHS) - 1 - place)


def _pivot(name: str, led: str, result: Evaluation, rule_base: RuleBase, texts: Texts) -> Pivot:
    question = rule_base.questions[name]
    value = texts.value(name, result.facts.value(name))
    return Pivot(question=name, ask=question.ask, matters=True, outcomes={value: led}, find_out=question.find_out,
                 given=texts.given(name))
