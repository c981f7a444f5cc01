"""Rules spoiled one at a time: does anything notice?

A spoiled rule is played by leaving out firings. What rested on them alone goes too, so that the outcome is that of
a rule base really written so; nothing needs to be compiled again.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from advisor.engine.program import Atom, Chainer, EngineRule, Firing, Posted
from advisor.knowledge import model as m
from advisor.knowledge.rulebase import RuleBase

Change = Literal["deleted", "silenced", "narrowed"]
_GRAVE = ("stop", "danger")


@dataclass(frozen=True)
class Mutant:
    """One rule spoiled: deleted, its grave conclusion silenced, or one alternative of its conditions taken out."""

    rule: str
    change: Change
    fact: str = ""
    word: str = ""

    @property
    def name(self) -> str:
        """What was done, in words."""
        return f"{self.rule} {self.change}" + (f" (without {self.fact} {self.word})" if self.fact else "")

    def spoil(self, rule: EngineRule, rule_base: RuleBase) -> EngineRule | None:
        """The engine rule as the spoiled rule base would have it; None when it would not be there."""
        if rule.rule.rule != self.rule:
            return rule
        if self.change == "deleted":
            return None
        if self.change == "silenced":
            kept = tuple(line for line in rule.rule.then if not is_grave(line, rule_base))
            return replace(rule, rule=rule.rule.model_copy(update={"then": kept}))
        return None if self._uses_alternative(rule) else rule

    def only_speaks(self, rule_base: RuleBase) -> bool:
        """Whether what is taken away only adds to the advice: nothing else is concluded or chosen for lack of it."""
        lost = [line for line in rule_base.rules[self.rule].then
                if self.change != "silenced" or is_grave(line, rule_base)]
        return not any(isinstance(line, m.Conclude | m.Evidence | m.Stop | m.SendBack) for line in lost)

    def _uses_alternative(self, rule: EngineRule) -> bool:
        wanted = Atom(rule.binding.fact(self.fact), "is", self.word)
        return any(wanted in group for group in rule.groups)


def is_grave(line: object, rule_base: RuleBase) -> bool:
    """Whether a conclusion stops, refers, rules out, or raises a caution about danger."""
    if isinstance(line, m.CautionRef):
        return any(rule_base.cautions[caution].severity in _GRAVE for caution in line.cautions)
    return isinstance(line, m.Stop) or (isinstance(line, m.Evidence) and line.does == "rule_out")


def mutants_of(rule_base: RuleBase) -> Iterator[Mutant]:
    """Every change to every rule with a grave conclusion."""
    for name, rule in rule_base.rules.items():
        if not any(is_grave(line, rule_base) for line in rule.then):
            continue
        yield Mutant(name, "deleted")
        yield Mutant(name, "silenced")
        for test in rule.when.tests:
            alternatives = test.operator in ("is", "one_of") and (len(test.values) > 1 or test in rule.when.any)
            for word in test.values if alternatives and test.fact.partition(".")[0] not in _things(rule) else ():
                yield Mutant(name, "narrowed", test.fact, word)


def _things(rule: m.Rule) -> set[str]:
    return {name for name, targets in rule.for_each.items() if targets[0].startswith("every/")}


class SpoiledChainer:
    """A chainer whose rule base has one rule spoiled."""

    def __init__(self, chainer: Chainer, rule_base: RuleBase) -> None:
        self._chainer, self._rule_base = chainer, rule_base
        self.mutant: Mutant | None = None

    def outlined(self) -> Chainer:
        """This chainer; it leaves nothing out."""
        return self

    def run(self, stage: str, facts: Sequence[Posted]) -> list[Firing]:
        """The firings that the spoiled rules would give."""
        firings = self._chainer.run(stage, facts)
        if self.mutant is None:
            return firings
        spoiled = [Firing(rule, firing.support) for firing in firings
                   if (rule := self.mutant.spoil(firing.rule, self._rule_base))]
        return _supported(spoiled, {fact.id for fact in facts}) if len(spoiled) < len(firings) else spoiled


def _supported(firings: list[Firing], known: set[str]) -> list[Firing]:
    """The firings that rest, by way of each other, on known facts."""
    left, kept = list(firings), set[int]()
    while True:
        new = [firing for firing in left if known.issuperset(firing.support)]
        if not new:
            return [firing for firing in firings if id(firing) in kept]
        kept |= {id(firing) for firing in new}
        known |= {derived.id for firing in new for derived in firing.rule.derives}
        left = [firing for firing in left if id(firing) not in kept]
