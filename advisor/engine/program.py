"""What the compiler hands to a chainer: atoms, engine rules and the program of one stage."""

from __future__ import annotations

import operator
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, NamedTuple, Protocol

from advisor.knowledge.bindings import Binding
from advisor.knowledge.model import Check, Conclude, ConditionLine, Evidence, Rule, SendBack, Stop

DECIMALS = 4
"""Numbers are compared after rounding to so many decimals; the engine cannot read exponents."""

PostedValue = str | float

DOING = (Conclude, Evidence, Stop, SendBack, Check, ConditionLine)
"""The conclusions on which other rules, the choices, the margins or today's verdict depend."""
COMPARES: Mapping[str, Callable[[Any, Any], bool]] = {
    "is": operator.eq, "below": operator.lt, "at_most": operator.le, "above": operator.gt, "at_least": operator.ge}
"""What each operator of an atom means for two words or two rounded numbers."""


def rounded(value: float) -> float:
    """A number as facts and rules compare it."""
    return round(value, DECIMALS) + 0.0


class Posted(NamedTuple):
    """A fact as a chainer sees it: one key, one value."""

    key: str
    value: PostedValue

    @property
    def id(self) -> str:
        """A readable id, unique for key and value."""
        return f"{self.key}={self.value:.10g}" if isinstance(self.value, float) else f"{self.key}={self.value}"


class Atom(NamedTuple):
    """One test of one fact: `is` compares a word, the others a number."""

    key: str
    operator: str  # is, below, at_most, above, at_least
    value: PostedValue

    def holds(self, posted: Posted) -> bool:
        """Whether a fact satisfies the atom."""
        if posted.key != self.key or isinstance(posted.value, str) != isinstance(self.value, str):
            return False
        return COMPARES[self.operator](posted.value, self.value)


@dataclass(frozen=True)
class Marker:
    """A test about facts of earlier stages that the host answers and posts as a fact of its own."""

    fact: str
    operator: str  # is_not, or a comparison with another fact
    other: str

    @property
    def key(self) -> str:
        """The key under which the marker is posted."""
        return f"!{self.fact} {self.operator} {self.other}"


MARKED = "holds"


@dataclass(frozen=True)
class EngineRule:
    """One conjunction: groups of atoms, each group met by one fact; `place` is its place in the stage as written."""

    name: str
    rule: Rule
    binding: Binding
    groups: tuple[tuple[Atom, ...], ...]
    derives: tuple[Posted, ...]
    place: int = 0

    @cached_property
    def does(self) -> bool:
        """Whether other rules, the choices, the margins or today's verdict depend on it; else it only speaks."""
        return any(isinstance(line, DOING) for line in self.rule.then)

    @cached_property
    def evidence(self) -> tuple[Evidence, ...]:
        """What the rule says for or against candidates of decisions."""
        return tuple(line for line in self.rule.then if isinstance(line, Evidence))


@dataclass(frozen=True)
class Program:
    """Everything a chainer needs for one stage."""

    stage: str
    rules: tuple[EngineRule, ...]
    markers: tuple[Marker, ...] = ()
    keys: frozenset[str] = field(default_factory=frozenset)

    @cached_property
    def marker_of(self) -> Mapping[str, Marker]:
        """The markers by the keys under which they are posted."""
        return {marker.key: marker for marker in self.markers}


class Firing(NamedTuple):
    """An engine rule that fired, and the ids of the facts that supported it, group by group."""

    rule: EngineRule
    support: tuple[str, ...]


class Chainer(Protocol):
    """Anything that can run the program of a stage over facts."""

    def run(self, stage: str, facts: Sequence[Posted]) -> list[Firing]:
        """Every firing of the stage's rules over the facts and what the rules derive from them."""

    def outlined(self) -> Chainer:
        """The same chainer, free to leave out rules that only speak."""


Programs = Mapping[str, Program]


def numbers_compared(programs: Programs) -> dict[str, list[float]]:
    """The numbers that rules compare each fact with, rising."""
    found: dict[str, set[float]] = {}
    for program in programs.values():
        for rule in program.rules:
            for atom in (atom for group in rule.groups for atom in group if not isinstance(atom.value, str)):
                found.setdefault(atom.key, set()).add(float(atom.value))
    return {name: sorted(numbers) for name, numbers in found.items()}
