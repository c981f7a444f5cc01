"""A stage in parts that do not feed each other, and which of them have anything to do.

The engine pays for every rule of a session, whether it can fire or not. So a stage is split by topic where no rule
concludes what a rule of another topic reads, and a part is run only when each test of one of its rules is met by a fact
at hand or may be met by one that the part itself concludes. What fires is the engine's business.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from advisor.engine.program import Atom, EngineRule, Posted, Program

_SMALL = 40
"""Topics of fewer engine rules share one part: opening a session costs about as much as so many rules."""

Group = tuple[Atom, ...]


@dataclass(frozen=True)
class Work:
    """A part with something to do, and the facts that its rules can use."""

    part: int
    facts: tuple[Posted, ...]


class Parts:
    """The parts of one stage; each rule's tests of given facts kept as bits, to be compared at once."""

    def __init__(self, program: Program) -> None:
        self.rules = _independent(program)
        self._bits: dict[Group, int] = {}
        self._bit_of_word: dict[Posted, int] = {}
        self._comparisons: dict[str, list[tuple[Group, int]]] = {}
        self._needs = [[(self._mask(rule, concluded), frozenset(group[0].key for group in rule.groups))
                        for rule in rules]
                       for rules in self.rules for concluded in [_concluded(rules)]]

    def _mask(self, rule: EngineRule, concluded: frozenset[str]) -> int:
        mask = 0
        for group in rule.groups:
            if group[0].key not in concluded:
                mask |= self._bit(group)
        return mask

    def _bit(self, group: Group) -> int:
        if group not in self._bits:
            bit = self._bits[group] = 1 << len(self._bits)
            first, *more = group
            if first.operator == "is" and not more:
                self._bit_of_word[Posted(first.key, first.value)] = bit
            else:
                self._comparisons.setdefault(first.key, []).append((group, bit))
        return self._bits[group]

    def to_run(self, facts: Sequence[Posted]) -> Iterator[Work]:
        """The parts in which a rule may fire, in order, each with the facts that such rules read."""
        met = 0
        for fact in facts:
            met |= self._bit_of_word.get(fact, 0)
            for group, bit in self._comparisons.get(fact.key, ()):
                if all(atom.holds(fact) for atom in group):
                    met |= bit
        missing = ~met
        for part, needs in enumerate(self._needs):
            read = [keys for mask, keys in needs if not mask & missing]
            if read:
                wanted = frozenset().union(*read)
                yield Work(part, tuple(fact for fact in facts if fact.key in wanted))


def _concluded(rules: Iterable[EngineRule]) -> frozenset[str]:
    return frozenset(fact.key for rule in rules for fact in rule.derives)


def _independent(program: Program) -> list[tuple[EngineRule, ...]]:
    """The rules by topic, topics put together where one reads what another concludes."""
    topics = list(dict.fromkeys(rule.rule.topic for rule in program.rules))
    leader = {topic: topic for topic in topics}
    concluding: dict[str, set[str | None]] = {}
    for rule in program.rules:
        for fact in rule.derives:
            concluding.setdefault(fact.key, set()).add(rule.rule.topic)
    for rule in program.rules:
        for group in rule.groups:
            for topic in concluding.get(group[0].key, ()):
                mine, theirs = leader[rule.rule.topic], leader[topic]
                leader = {one: mine if of == theirs else of for one, of in leader.items()}
    parts: dict[str | None, list[EngineRule]] = {}
    for rule in program.rules:
        parts.setdefault(leader[rule.rule.topic], []).append(rule)
    small = [rule for rules in parts.values() if len(rules) < _SMALL for rule in rules]
    return [tuple(rules) for rules in (*(rules for rules in parts.values() if len(rules) >= _SMALL), small) if rules]
