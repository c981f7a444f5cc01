"""What an audit finds: faults, and what was reached; pieces from several processes add up to the same whole."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field

Typed = dict[str, str | list[str]]
"""Answers as a person would type them."""

CASE = "case "
WITNESSES = 8
"""For each rule so many generated cases that fire it are kept, and every scenario; spoiled rules are tried on them."""


@dataclass(frozen=True)
class Fault:
    """Something wrong, the case in which it was seen, and that case's answers where there are any."""

    key: str
    says: str
    case: str
    answers: Mapping[str, str | list[str]] | None = None


@dataclass
class Tally:
    """What some cases reached. `fired` names for each rule the first cases that fire it."""

    cases: int = 0
    ends: Counter[str] = field(default_factory=Counter)
    fired: dict[str, list[str]] = field(default_factory=dict)
    reached: Counter[str] = field(default_factory=Counter)
    asked: Counter[str] = field(default_factory=Counter)
    held: Counter[str] = field(default_factory=Counter)
    seen: Counter[str] = field(default_factory=Counter)
    faults: dict[str, Fault] = field(default_factory=dict)
    found: dict[str, object] = field(default_factory=dict)

    def witness(self, rule: str, case: str) -> None:
        """A case fires a rule."""
        cases = self.fired.setdefault(rule, [])
        if not case.startswith(CASE) or sum(one.startswith(CASE) for one in cases) < WITNESSES:
            cases.append(case)

    def add(self, fault: Fault) -> None:
        """A fault; the first case of each kind is kept, the others are counted."""
        self.seen[fault.key] += 1
        self.faults.setdefault(fault.key, fault)

    def merge(self, other: Tally) -> None:
        """Take in what later cases reached."""
        self.cases += other.cases
        for name in ("ends", "reached", "asked", "held", "seen"):
            getattr(self, name).update(getattr(other, name))
        for rule, cases in other.fired.items():
            for case in cases:
                self.witness(rule, case)
        for key, fault in other.faults.items():
            self.faults.setdefault(key, fault)
        self.found.update(other.found)
