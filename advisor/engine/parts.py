"""A stage in parts that do not feed each other, and which of them have anything to do.

The engine pays for every rule of a session, whether it can fire or not. So a stage is split by topic where no rule
concludes what a rule of another topic reads, and a part is run only when each test of one of its rules is met by a fact
at hand or may be met by one that the part itself concludes. What fires is the engine's business.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache, reduce
from itertools import chain
from operator import and_, or_
from typing import NamedTuple

from advisor.engine.program import Atom, EngineRule, Posted, Program

_FEW, _FEWEST = 12, 4
"""Sets of up to so many rules are not split. Opening a session costs about as much as thirty rules in it, but the fewer
the tests of a set, the more often facts like these have come before, and what they fired is remembered."""

_MOST_REMEMBERED = 2000
"""So many answers to which rules are open are kept for a stage."""

Group = tuple[Atom, ...]


class Work(NamedTuple):
    """A part with something to do, and the facts that its rules can use.

    `like` holds for each fact the tests of the part that it meets. Facts that are alike fire the same rules, each in
    the place of the one that it is like.
    """

    part: int
    facts: tuple[Posted, ...]
    like: tuple[int, ...]


class Parts:
    """The parts of one stage; the tests of its rules kept as bits, to be compared at once."""

    def __init__(self, program: Program) -> None:
        self.rules = _independent(program)
        self._bits: dict[Group, int] = {}
        self._bits_of_word: dict[Posted, int] = {}
        self._comparisons: dict[str, list[tuple[Group, int]]] = {}
        self._tests = [[(self._mask(rule, concluded=_concluded(rules)), self._mask(rule)) for rule in rules]
                       for rules in self.rules]
        self._does = [any(rule.does for rule in rules) for rules in self.rules]
        self._shared = [reduce(and_, (needed for needed, _ in tests)) for tests in self._tests]
        self._all = [reduce(or_, (read for _, read in tests)) for tests in self._tests]
        self._read = lru_cache(maxsize=_MOST_REMEMBERED)(self._read_by_open_rules)

    def _mask(self, rule: EngineRule, concluded: frozenset[str] = frozenset()) -> int:
        """The tests of a rule, without those of facts that the part itself may conclude."""
        return reduce(or_, (self._bit(group) for group in rule.groups if group[0].key not in concluded), 0)

    def _bit(self, group: Group) -> int:
        if group not in self._bits:
            bit = self._bits[group] = 1 << len(self._bits)
            first = group[0]  # words stand apart in groups of their own
            if first.operator == "is":
                self._bits_of_word[Posted(first.key, first.value)] = bit
            else:
                self._comparisons.setdefault(first.key, []).append((group, bit))
        return self._bits[group]

    def _met(self, fact: Posted) -> int:
        """The tests of the stage that a fact meets."""
        if isinstance(fact.value, str):
            return self._bits_of_word.get(fact, 0)
        met = 0
        for group, bit in self._comparisons.get(fact.key, ()):
            if all(atom.holds(fact) for atom in group):
                met |= bit
        return met

    def _read_by_open_rules(self, part: int, met: int) -> int:
        """The tests of those rules of a part that may fire when these tests are met."""
        return reduce(or_, (read for needed, read in self._tests[part] if not needed & ~met), 0)

    def to_run(self, facts: Sequence[Posted], outline: bool = False) -> Iterator[Work]:
        """The parts in which a rule may fire, in order, each with the facts that such rules can use.

        With `outline`, the parts whose rules only speak are left out.
        """
        met = [(fact, bits) for fact in facts if (bits := self._met(fact))]
        together = reduce(or_, (bits for _, bits in met), 0)
        for part, shared in enumerate(self._shared):
            if shared & ~together or (outline and not self._does[part]):
                continue  # a test that every rule of the part makes is not met
            read = self._read(part, together & self._all[part])
            mine = [(fact, bits & read) for fact, bits in met if bits & read] if read else ()
            if mine:
                yield Work(part, tuple([fact for fact, _ in mine]), tuple([bits for _, bits in mine]))


def _concluded(rules: Iterable[EngineRule]) -> frozenset[str]:
    return frozenset(fact.key for rule in rules for fact in rule.derives)


def _independent(program: Program) -> list[tuple[EngineRule, ...]]:
    """Rules that feed each other together; the others by whether they only speak and the tests that they share."""
    feeding = _Feeding(program.rules)
    alone = feeding.alone()
    parts = [*feeding.together(), *_alike([rule for rule in alone if rule.does]),
             *_alike([rule for rule in alone if not rule.does])]
    order = {rule.name: place for place, rule in enumerate(program.rules)}
    return [tuple(rules) for rules in sorted(parts, key=lambda rules: order[rules[0].name])]


class _Feeding:
    """Which rules must run in one session, because one concludes what another reads."""

    def __init__(self, rules: Sequence[EngineRule]) -> None:
        self._rules = rules
        fed = _concluded(rules) & {group[0].key for rule in rules for group in rule.groups}
        self._fed = [fed & {*(group[0].key for group in rule.groups), *(fact.key for fact in rule.derives)}
                     for rule in rules]

    def alone(self) -> list[EngineRule]:
        """The rules that neither feed another nor are fed."""
        return [rule for rule, keys in zip(self._rules, self._fed, strict=True) if not keys]

    def together(self) -> list[list[EngineRule]]:
        """The others, in sets that do not feed each other."""
        sets: list[tuple[set[str], list[EngineRule]]] = []
        for rule, keys in zip(self._rules, self._fed, strict=True):
            if keys:
                mine = [one for one in sets if one[0] & keys]
                sets = [one for one in sets if not one[0] & keys]
                sets.append((set(keys).union(*(one[0] for one in mine)), [r for one in mine for r in one[1]] + [rule]))
        return [rules for _, rules in sets]


def _alike(rules: list[EngineRule]) -> list[list[EngineRule]]:
    """Rules in sets of a size worth a session of its own, split by the test that parts them most evenly."""
    number: dict[Group, int] = {}
    return _split([(rule, tuple(number.setdefault(group, len(number)) for group in rule.groups)) for rule in rules])


def _split(rules: list[tuple[EngineRule, tuple[int, ...]]]) -> list[list[EngineRule]]:
    """The same of rules with the numbers of their tests."""
    if len(rules) <= _FEW:
        return [[rule for rule, _ in rules]] if rules else []
    counts = Counter(chain.from_iterable(tests for _, tests in rules))
    test = min(counts, key=lambda one: abs(2 * counts[one] - len(rules)))
    if min(counts[test], len(rules) - counts[test]) < _FEWEST:
        half = len(rules) // 2
        return [*_split(rules[:half]), *_split(rules[half:])]
    return [*_split([one for one in rules if test in one[1]]), *_split([one for one in rules if test not in one[1]])]
