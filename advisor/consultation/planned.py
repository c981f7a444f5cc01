"""How what a person means to choose stands against the decision of the rules."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.consultation.advice import Candidate, Choice, EvidenceLine
from advisor.consultation.facts import Fact, Facts
from advisor.knowledge.model import Decision

CLOSE = "close"
_RULES_OUT, _AGAINST, _FOR = ("rule_out", "withdraw"), ("oppose",), ("require", "favour")


def judge_plan(decision: Decision, choice: Choice, facts: Facts) -> Iterator[Fact]:
    """Two facts, where the person told what they mean to choose.

    The standing is `chosen`, `close` (as good but for slight evidence), `possible`, `ruled_out` or
    `nothing_for_it`. The other fact holds the reasons in plain words: why it is ruled out; else what speaks
    against it; else what speaks for the thing that was chosen.
    """
    if decision.plan is None:
        return
    told = facts.value(decision.plan.fact)
    mine = next((one for one in choice.candidates if one.id == told), None)
    if mine is None or not isinstance(told, str):
        return
    support = (f"{decision.plan.fact}={told}",)
    standing = CLOSE if choice.close_to == told else mine.standing
    yield Fact(decision.plan.standing, standing, "decision", decision.decision, support)
    yield Fact(decision.plan.against, _reasons(mine, choice), "decision", decision.decision, support)


def _reasons(mine: Candidate, choice: Choice) -> str:
    chosen = next(one for one in choice.candidates if one.id == choice.chosen)
    for lines in (_saying(mine, _RULES_OUT), _saying(mine, _AGAINST), _saying(chosen, _FOR)):
        if lines:
            return " ".join(dict.fromkeys(line.because for line in lines))
    return ""


def _saying(candidate: Candidate, strengths: tuple[str, ...]) -> list[EvidenceLine]:
    return [line for line in candidate.evidence if line.strength in strengths and line.weight != "slight"]
