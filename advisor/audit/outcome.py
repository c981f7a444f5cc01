"""One case evaluated to its end, and what that comes to, without building texts."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from advisor.consultation.answers import Answer
from advisor.consultation.evaluate import Evaluation, Evaluator
from advisor.consultation.facts import Fact, Facts
from advisor.consultation.status import status_of
from advisor.engine.program import Firing
from advisor.knowledge import model as m
from advisor.knowledge.invariants import ADVICE_WORDS
from advisor.knowledge.rulebase import RuleBase

SENT_BACK = "sent back"
GIVEN = ("advice", "close_call")


@dataclass(frozen=True)
class Outcome:
    """How a case ends and the words that the advice would hold."""

    rule_base: RuleBase
    result: Evaluation
    status: str
    words: Mapping[str, tuple[str, ...]]

    @cached_property
    def facts(self) -> Facts:
        """The facts of the case with the words about its advice beside them."""
        facts = Facts(self.rule_base)
        for fact in self.result.facts:
            facts.add(fact)
        for name, words in self.words.items():
            facts.add(Fact(name, words, "given"))
        return facts

    @property
    def summary(self) -> tuple[object, ...]:
        """What a person would notice: the end, what was chosen, cautions, phases, verdicts, whom to turn to."""
        chosen = tuple((name, choice.chosen) for name, choice in self.result.choices.items())
        stops = tuple(sorted({line.turn_to for _, line in self.result.conclusions(m.Stop)}))
        return self.status, chosen, stops, *(tuple(sorted(set(words))) for words in self.words.values())


def outcome_of(evaluator: Evaluator, answers: Mapping[str, Answer]) -> Outcome:
    """Evaluate a case as advice is given: what stops the work needs no further answers."""
    result = evaluator.evaluate(answers, final=True)
    if result.ended_by == "incomplete":
        so_far = evaluator.evaluate(answers, final=False)
        result = so_far if so_far.ended_by == "stop" else result
    status = SENT_BACK if result.ended_by == "send_back" else status_of(result, evaluator.rule_base)
    return Outcome(evaluator.rule_base, result, status, _words(result, status))


def _words(result: Evaluation, status: str) -> dict[str, tuple[str, ...]]:
    """The words about the advice that invariants may test; work is described only when advice is given."""
    steps = [line for _, line in result.conclusions(m.Step)] if status in GIVEN else []
    cautions = [caution for _, line in result.conclusions(m.CautionRef) for caution in line.cautions]
    verdicts = [line.verdict for _, line in result.conclusions(m.ConditionLine)] if status in GIVEN else []
    found = {"status": (status,), "caution": tuple(dict.fromkeys(cautions)),
             "step_in": tuple(dict.fromkeys(line.phase for line in steps)),
             "hold_in": tuple(dict.fromkeys(line.phase for line in steps if line.hold)),
             "today": tuple(dict.fromkeys(verdicts))}
    return {name: found[name] for name in ADVICE_WORDS}


def with_firings(outcome: Outcome, firings: list[Firing]) -> Outcome:
    """The same case with other firings of rules that only speak, so that facts and choices stay."""
    result = replace(outcome.result, firings=firings)
    return Outcome(outcome.rule_base, result, outcome.status, _words(result, outcome.status))
