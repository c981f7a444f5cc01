"""Generated cases: pairwise first, then by turns at random and aimed at a rule; seed and number decide all of it."""

from __future__ import annotations

from random import Random

from advisor.audit.aim import Aim
from advisor.audit.answering import NOTHING, Answering
from advisor.audit.findings import Typed
from advisor.audit.pairs import pairs_for
from advisor.engine.program import Programs
from advisor.knowledge.rulebase import RuleBase

ATTEMPTS = 14
AIMED_CASES = 4
"""For each spoiled rule so many further cases are aimed at it."""


class Cases:
    """All generated cases of an audit; each depends on seed and number only, whoever makes it."""

    def __init__(self, rule_base: RuleBase, programs: Programs, seed: int, count: int) -> None:
        self.answering = Answering(rule_base, programs)
        self._aim = Aim(self.answering, programs)
        self._seed, self._count = seed, count
        self.pairs = pairs_for(self.answering, seed, count)

    def random(self, number: int) -> Random:
        """The stream of chance of one case."""
        return Random(f"{self._seed} {number}")

    def draft(self, number: int, random: Random) -> tuple[Typed, set[str]]:
        """Answers to every question, and which of them the case is about."""
        answers = self.answering.anything(random)
        pinned: Typed = {}
        if number >= self._count:
            pinned = self._aim.at(self._aim.rules[(number - self._count) % len(self._aim.rules)], random)
        elif number < len(self.pairs.rows):
            pinned = {name: [word] if isinstance(answers[name], list) or self._several(name) else word
                      for name, word in self.pairs.rows[number].items()}
        elif number % 2:
            pinned = self._aim.at(self._aim.rules[number // 2 % len(self._aim.rules)], random)
        answers.update({name: _alone(given) for name, given in pinned.items()})
        return answers, set(pinned)

    def aimed_at(self, rule: str) -> tuple[int, ...]:
        """Numbers beyond the audit's own cases, of a few that are aimed at one rule."""
        if rule not in self._aim.rules:
            return ()
        first = self._count + self._aim.rules.index(rule)
        return tuple(first + turn * len(self._aim.rules) for turn in range(AIMED_CASES))

    def again(self, answers: Typed, contradicting: set[str], pinned: set[str], attempt: int, random: Random) -> None:
        """Give other answers to questions whose answers contradict each other, the pinned ones last."""
        free = contradicting - pinned if attempt < ATTEMPTS // 2 else contradicting
        for name in sorted(free or contradicting):
            sure = attempt > ATTEMPTS - 4 and self.answering.rule_base.questions[name].takes_unknown
            answers[name] = "unknown" if sure else self.answering.one(name, random)

    def _several(self, name: str) -> bool:
        return self.answering.rule_base.facts[name].kind == "several"


def _alone(given: str | list[str]) -> str | list[str]:
    """`none of these` cannot stand beside other words."""
    if isinstance(given, list) and len(given) > 1:
        return [word for word in given if word not in NOTHING] or given[:1]
    return given
