"""Facts as a consultation knows them: a value and where it came from."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Iterator, KeysView, Set
from dataclasses import dataclass, field, replace
from typing import Any, Literal

from advisor.engine.program import Posted, rounded
from advisor.knowledge.model import UNKNOWN
from advisor.knowledge.numbers import Number
from advisor.knowledge.rulebase import RuleBase

Origin = Literal["answer", "assumption", "property", "rule", "calculation", "decision", "given"]
Value = str | tuple[str, ...] | Number | Any
"""A word, several words, a number with its range, or a computed record."""


@dataclass
class Fact:
    """One fact: its value, where it came from, and the ids of what supports it."""

    name: str
    value: Value
    origin: Origin
    by: str = ""
    support: tuple[str, ...] = ()
    words: tuple[str, ...] = field(init=False, repr=False, compare=False)
    """The words of its value; a number that was taken because nobody knew is `unknown`; else empty."""
    posted: tuple[Posted, ...] = field(init=False, repr=False, compare=False)
    """The fact as a chainer takes it: one post for each word and number, none for a record."""

    def __post_init__(self) -> None:  # nearly every fact is tested and posted, so this is worked out at once
        numbers: tuple[Posted, ...] = ()
        if isinstance(self.value, Number):
            self.words = (UNKNOWN,) if self.origin == "assumption" else ()
            numbers = (Posted(self.name, rounded(self.value.value)),)
        else:
            self.words = words_in(self.value)
        self.posted = (*numbers, *(Posted(self.name, word) for word in self.words)) if self.words else numbers


def words_in(value: Value | None) -> tuple[str, ...]:
    """The words of a value; empty for a number, a record or nothing."""
    if isinstance(value, str):
        return (value,)
    return value if isinstance(value, tuple) and all(isinstance(word, str) for word in value) else ()


Attributes = dict[tuple[str, str], tuple[Fact, ...]]
"""What a thing's attributes are as facts, by fact and thing; kept over evaluations, as they never change."""


class Facts:
    """Facts by name; the first value of a fact stays."""

    def __init__(self, rule_base: RuleBase, attributes: Attributes | None = None) -> None:
        self._rule_base = rule_base
        self._attributes: Attributes = {} if attributes is None else attributes
        self._known: dict[str, Fact] = {}

    def __contains__(self, name: str) -> bool:
        return name in self._known

    def __len__(self) -> int:
        return len(self._known)

    def __iter__(self) -> Iterator[Fact]:
        return iter(self._known.values())

    @property
    def names(self) -> KeysView[str]:
        """The names of all facts known."""
        return self._known.keys()

    def get(self, name: str) -> Fact | None:
        """The fact of that name, if known."""
        return self._known.get(name)

    def value(self, name: str) -> Value | None:
        """The value of a fact, if known, or of a limit written `limit/NAME`."""
        fact = self._known.get(name)
        return fact.value if fact else self._rule_base.limit(name)

    def words(self, name: str) -> tuple[str, ...]:
        """The words of a choice, several or yes_no fact; empty when not known."""
        return words_in(self.value(name))

    def number(self, name: str) -> Number | None:
        """The number of a fact or of a limit written `limit/NAME`; None when not known or not told."""
        value = self.value(name)
        return value if isinstance(value, Number) else None

    def add(self, fact: Fact) -> None:
        """Add a fact, and the attributes of its value when that is a thing of a kind.

        The first value stays, but words concluded of a `several` fact gather.
        """
        if fact.name in self._known:
            self._gather(fact)
            return
        self._known[fact.name] = fact
        if isinstance(fact.value, str):
            key = fact.name, fact.value
            if key not in self._attributes:
                self._attributes[key] = self._attributes_of(*key)
            for attribute in self._attributes[key]:
                self.add(attribute)

    def _attributes_of(self, name: str, value: str) -> tuple[Fact, ...]:
        kind = self._rule_base.kind_of_fact(name)
        material = self._rule_base.materials[kind.kind].get(value) if kind else None
        if kind is None or material is None:
            return ()
        return tuple(Fact(f"{name}.{attribute}", given, "property", f"{kind.kind}/{value}", (f"{name}={value}",))
                     for attribute, given in material.values.items())

    def gathers(self, name: str) -> bool:
        """Whether a known fact may still gain words: one of several words that rules concluded."""
        fact = self._known[name]
        return fact.origin == "rule" and isinstance(fact.value, tuple)

    def _gather(self, fact: Fact) -> None:
        form, before = self._rule_base.facts.get(fact.name), self._known[fact.name]
        if form is None or form.kind != "several" or fact.origin != "rule" or before.origin != "rule":
            return
        words = {*self.words(fact.name), *(fact.value if isinstance(fact.value, tuple) else ())}
        self._known[fact.name] = replace(before, value=tuple(w for w in self._rule_base.values_of(form) if w in words),
                                         support=tuple(dict.fromkeys((*before.support, *fact.support))))

    def behind(self, names: Iterable[str], through: Callable[[Fact], bool] = lambda fact: True) -> Iterator[Fact]:
        """The named facts and every fact that they rest on, each once, the nearest first.

        Args:
            names: ids of facts, or of facts with a value (`gap_max`, `face_a=steel`).
            through: whether what a fact itself rests on is looked at too.
        """
        seen: set[str] = set()
        waiting = deque(names)
        while waiting:
            fact = self._known.get(waiting.popleft().partition("=")[0])
            if fact is None or fact.name in seen:
                continue
            seen.add(fact.name)
            yield fact
            if through(fact):
                waiting += fact.support

    def posted(self, keys: Set[str]) -> list[Posted]:
        """The facts of these keys as a chainer takes them."""
        return [posted for key in sorted(keys & self._known.keys()) for posted in self._known[key].posted]
