"""What an evaluation comes to, before anything is put into words."""

from __future__ import annotations

from advisor.consultation import advice as a
from advisor.consultation.evaluate import Evaluation
from advisor.knowledge import model as m
from advisor.knowledge.rulebase import RuleBase


def status_of(result: Evaluation, rule_base: RuleBase) -> a.Status:
    """How the advice ends; not for answers that contradict each other, which get none."""
    if result.ended_by == "incomplete":
        return "incomplete"
    if result.ended_by == "stop":
        stops = [line for _, line in result.conclusions(m.Stop)]
        return "stop" if any(line.does == "stop" for line in stops) else "refer"
    heads = heads_of(result, rule_base)
    if result.ended_by == "refer" or not heads:
        return "refer"
    return "close_call" if heads[-1].close_to else "advice"


def heads_of(result: Evaluation, rule_base: RuleBase) -> list[a.Choice]:
    """The choices that the verdict states, in the order they were made."""
    return [choice for name, choice in result.choices.items()
            if choice.chosen and rule_base.decisions[name].heads == "yes"]
