"""What must hold of all advice, whatever the answers: named safety invariants, written in the rules folder."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import product

from pydantic import Field

from advisor.knowledge.model import Condition, Entry, Id, Test, Text

WITHIN = "within"
STATUSES = ("advice", "close_call", "refer", "stop", "incomplete")
ADVICE_WORDS = ("status", "caution", "step_in", "hold_in", "today")
"""Words about the advice itself: how it ends, cautions raised, phases with a step or a hold point, today's verdicts."""


class Invariant(Entry):
    """Where `when` holds of the finished case, all of `must`, nothing of `must_not`, and every number in its bounds."""

    invariant: Id
    says: Text
    for_each: dict[str, tuple[str, ...]] = Field(default_factory=dict)
    when: Condition = Condition()
    must: Condition = Condition()
    must_not: Condition = Condition()
    within: dict[str, tuple[str, ...]] = Field(default_factory=dict)
    because: Text
    sources: tuple[Id, ...] = Field(min_length=1)

    @property
    def tests(self) -> tuple[Test, ...]:
        """Every test in it; bounds are tests by `between`."""
        bounds = tuple(Test(line=self.line, fact=fact, operator="between", values=ends)
                       for fact, ends in self.within.items())
        return (*self.when.tests, *self.must.tests, *self.must_not.tests, *bounds)

    def instances(self) -> Iterator[Invariant]:
        """The invariant once for each fact that its bound names stand for."""
        for targets in product(*self.for_each.values()):
            names = dict(zip(self.for_each, targets, strict=True))
            yield self.model_copy(update={
                "when": _bound(self.when, names), "must": _bound(self.must, names),
                "must_not": _bound(self.must_not, names),
                "within": {_named(fact, names): ends for fact, ends in self.within.items()}})


def _bound(condition: Condition, names: Mapping[str, str]) -> Condition:
    return Condition(line=condition.line, all=tuple(_test(test, names) for test in condition.all),
                     any=tuple(_test(test, names) for test in condition.any))


def _test(test: Test, names: Mapping[str, str]) -> Test:
    return Test(line=test.line, fact=_named(test.fact, names), operator=test.operator,
                values=tuple(_named(value, names) for value in test.values))


def _named(name: str, names: Mapping[str, str]) -> str:
    owner, dot, rest = name.partition(".")
    return f"{names.get(owner, owner)}{dot}{rest}"
