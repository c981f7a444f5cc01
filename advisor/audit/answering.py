"""Random answers to the questions of a rule base, typed as a person would; numbers also close to the limits."""

from __future__ import annotations

from random import Random

from advisor.audit.findings import Typed
from advisor.engine.program import Programs, numbers_compared
from advisor.knowledge.model import UNKNOWN, FactForm, Question, Rule, Stop, Test
from advisor.knowledge.numbers import NO_UNIT
from advisor.knowledge.rulebase import RuleBase

NOTHING = ("none_of_these", "none")
UNKNOWN_SHARE = 0.06
STOP_SHARE = 0.02
_NEAR = (0.98, 1.0, 1.02)
_DECIMALS = 4


class Answering:
    """Types answers; words that end a case at once are rare, or hardly any case would reach the rest."""

    def __init__(self, rule_base: RuleBase, programs: Programs, unknown: float = UNKNOWN_SHARE) -> None:
        self.rule_base = rule_base
        self.limits = numbers_compared(programs)
        self.unknown = unknown
        self.stopping = _stopping(rule_base)

    def anything(self, random: Random) -> Typed:
        """An answer to every question."""
        return {name: self.one(name, random) for name in self.rule_base.questions}

    def one(self, name: str, random: Random) -> str | list[str]:
        """An answer to one question."""
        question, form = self.rule_base.questions[name], self.rule_base.facts[name]
        if question.takes_unknown and random.random() < self.unknown:
            return UNKNOWN
        if form.kind in ("quantity", "count"):
            return self.number(form, self._size(form, random))
        words = self.words(question, random)
        return self._several(words, random) if form.kind == "several" else random.choice(words)

    def words(self, question: Question, random: Random) -> list[str]:
        """The words that may be given; those that end the case only now and then."""
        words = list(self.rule_base.values_of(self.rule_base.facts[question.question]))
        calm = [word for word in words if (question.question, word) not in self.stopping]
        return words if not calm or random.random() < STOP_SHARE else calm

    def number(self, form: FactForm, size: float) -> str:
        """A number as typed in the fact's own unit, inside its plausible range."""
        low, high = form.plausible or (0.0, 100.0)
        size = min(max(round(size, _DECIMALS), low), high)  # nobody types a millionth of a millionth
        if form.kind == "count":
            return f"{round(size)}"
        unit = "" if form.unit in (None, NO_UNIT) else str(form.unit).replace("1/", "per ")
        shown = f"{size:.4g}" if low <= float(f"{size:.4g}") <= high else f"{size!r}"
        return f"{shown} {unit}".strip()

    def _size(self, form: FactForm, random: Random) -> float:
        low, high = form.plausible or (0.0, 100.0)
        limits = self.limits.get(form.fact)
        kind = random.random()
        if limits and kind < 0.3:
            return random.choice(limits) * random.choice(_NEAR)
        if kind < 0.4:
            return random.choice((low, high))
        share = random.random()
        return low + (share ** 3 if kind < 0.85 else share) * (high - low)

    def _several(self, words: list[str], random: Random) -> list[str]:
        alone = [word for word in words if word in NOTHING]
        others = [word for word in words if word not in alone]
        if alone and (not others or random.random() < 0.6):
            return alone
        return random.sample(others, random.randint(1, min(3, len(others))))


def _stopping(rule_base: RuleBase) -> set[tuple[str, str]]:
    """Answers that alone are enough for a stop or a referral."""
    return {(test.fact, word) for rule in rule_base.rules.values() if (test := _only_test(rule))
            for word in test.values if test.fact in rule_base.questions}


def _only_test(rule: Rule) -> Test | None:
    tests = rule.when.tests
    stops = any(isinstance(line, Stop) for line in rule.then)
    return tests[0] if stops and len(tests) == 1 and tests[0].operator in ("is", "one_of") else None
