"""Choosing by weighing evidence, without hidden weights.

A candidate that is ruled out is gone. Required ones come before the others. Then the balance counts, strong
evidence first, then clear, then slight; last the order in which the candidates are written. When the two
best differ by slight evidence only, that is a close call.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from advisor.consultation.advice import Candidate, Choice, EvidenceLine, Standing
from advisor.knowledge.model import Decision
from advisor.knowledge.rulebase import RuleBase

STRENGTHS = ("strong", "clear", "slight")
_OUT = frozenset({"rule_out", "withdraw"})
_COUNTS = {"favour": 1, "oppose": -1}


@dataclass(frozen=True)
class Weighed:
    """A piece of evidence for one candidate of one decision."""

    decision: str
    candidate: str
    line: EvidenceLine


@dataclass(frozen=True)
class _Ballot:
    """What is said of one candidate; `balance` counts the evidence for it less that against it, strongest first."""

    candidate: str
    place: int
    lines: tuple[EvidenceLine, ...]
    out: bool
    required: bool
    eligible: bool
    balance: tuple[int, ...]

    @property
    def rank(self) -> tuple[object, ...]:
        return (not self.required, tuple(-net for net in self.balance), self.place)


def _ballot(candidate: str, place: int, lines: tuple[EvidenceLine, ...]) -> _Ballot:
    said = {(line.rule, line.strength, line.weight) for line in lines}  # a rule that holds for both faces counts once
    does = {strength for _, strength, _ in said}
    out, required = not does.isdisjoint(_OUT), "require" in does
    balance = tuple(sum(_COUNTS.get(strength, 0) for _, strength, weight in said if weight == one)
                    for one in STRENGTHS)
    return _Ballot(candidate, place, lines, out, required, not out and (required or "favour" in does), balance)


def choose(decision: Decision, evidence: Iterable[Weighed], rule_base: RuleBase) -> Choice:
    """Weigh all evidence for a decision; `chosen` is None when no candidate is left."""
    things = rule_base.materials[decision.of]
    lines: dict[str, list[EvidenceLine]] = {id_: [] for id_ in things}
    for item in evidence:
        if item.decision == decision.decision and item.candidate in lines:
            lines[item.candidate].append(item.line)
    ballots = [_ballot(id_, place, tuple(said)) for place, (id_, said) in enumerate(lines.items())]
    ranked = sorted((ballot for ballot in ballots if ballot.eligible), key=lambda ballot: ballot.rank)
    chosen = ranked[0].candidate if ranked else None
    return Choice(decision=decision.decision, label=decision.label, chosen=chosen, close_to=_runner_up(ranked),
                  candidates=tuple(Candidate(id=ballot.candidate, label=things[ballot.candidate].thing.label,
                                             standing=_standing(ballot, chosen), evidence=ballot.lines,
                                             notes=_notes(decision, ballot, rule_base))
                                   for ballot in sorted(ballots, key=lambda b: (b.out, not b.eligible, b.rank))))


def _notes(decision: Decision, ballot: _Ballot, rule_base: RuleBase) -> dict[str, str]:
    """The texts kept of a candidate, by the heading their kind gives them; none of one that nothing speaks for."""
    if not ballot.eligible:
        return {}
    attributes = rule_base.kinds[decision.of].attributes
    values = rule_base.materials[decision.of][ballot.candidate].values
    return {form.label: str(values[name]) for name, form in attributes.items()
            if form.kind == "text" and name in values}


def _runner_up(ranked: list[_Ballot]) -> str | None:
    """The second candidate, when it is as good as the first but for slight evidence."""
    if len(ranked) < 2:
        return None
    first, second = ranked[:2]
    close = first.required == second.required and first.balance[:2] == second.balance[:2]
    return second.candidate if close else None


def _standing(ballot: _Ballot, chosen: str | None) -> Standing:
    if ballot.candidate == chosen:
        return "chosen"
    if ballot.out:
        return "ruled_out"
    return "possible" if ballot.eligible else "nothing_for_it"
