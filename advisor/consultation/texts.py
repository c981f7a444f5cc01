"""Texts of the rules with their placeholders filled in."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import lru_cache

from advisor.consultation.facts import Facts
from advisor.knowledge.bindings import UNBOUND, Binding
from advisor.knowledge.model import UNKNOWN
from advisor.knowledge.numbers import Number
from advisor.knowledge.rulebase import RuleBase
from advisor.knowledge.shapes import PLACEHOLDER
from advisor.units import Systems, format_quantity, format_span

System = Systems
NOT_KNOWN = "(not known)"


class Texts:
    """Fills placeholders from the facts of one consultation, in one system of units."""

    def __init__(self, rule_base: RuleBase, facts: Facts, system: System) -> None:
        self._rule_base = rule_base
        self._facts = facts
        self.system: System = system

    def fill(self, text: str, binding: Binding = UNBOUND, names: Mapping[str, str] | None = None) -> str:
        """A text of a rule with every `{fact}` replaced by its value in plain words.

        `names` says what to show for a name bound by `for_each` instead of its own label.
        """
        if "{" not in text:
            return text
        filled = PLACEHOLDER.sub(lambda match: (names or {}).get(match[1]) or self._shown(match[1], binding), text)
        return filled[:1].upper() + filled[1:] if text.startswith("{") else filled

    def label(self, fact: str) -> str:
        """A fact's label."""
        return self._rule_base.facts[fact].label

    def said(self, question: str) -> str:
        """What was answered, or what was taken because nobody knew, as a sentence."""
        fact = self._facts.get(question)
        value = self.value(question, self._facts.value(question))
        if fact is not None and fact.origin == "answer":
            return f"You said: {value}."
        left_open = self._facts.value(question) in (None, UNKNOWN)
        return "Nobody knew, so it was left open." if left_open else f"Nobody knew, so it was taken as: {value}."

    def given(self, question: str) -> str:
        """The same in a few words, to stand in brackets behind the question's label."""
        known = self._facts.value(question)
        fact, value = self._facts.get(question), self.value(question, known)
        if fact is not None and fact.origin == "answer":
            return value
        return "nobody knew; left open" if known in (None, UNKNOWN) else f"nobody knew; taken as {value}"

    def _shown(self, name: str, binding: Binding) -> str:
        if limit := self._rule_base.limit(name):
            return self.number(limit)
        if name in binding.facts:
            return self.label(binding.facts[name])
        if name in binding.materials:
            return inside(binding.materials[name].thing.label)
        bound = binding.material(name)
        if bound:
            value = bound[0].values.get(bound[1])
            return NOT_KNOWN if value is None else self.value(binding.fact(name), value)
        fact, value = self._facts.get(binding.fact(name)), self._facts.value(binding.fact(name))
        if isinstance(value, Number):
            return self.number(value, reckoned=fact is not None and fact.origin == "calculation")
        return NOT_KNOWN if value is None else self.value(binding.fact(name), value)

    def value(self, fact: str, value: object) -> str:
        """A fact's value in plain words."""
        if isinstance(value, Number):
            return self.number(value)
        if isinstance(value, tuple):
            return ", ".join(self.value(fact, part) for part in value)
        if isinstance(value, float):
            return f"{value:g}"
        return "not known" if value == UNKNOWN else inside(self._rule_base.label_of(fact, str(value)))

    def number(self, number: Number, reckoned: bool = False) -> str:
        """A number with its range and unit; a reckoned one no finer than it can be read off."""
        return _number_text(number, self.system, reckoned)


@lru_cache(maxsize=4096)
def _number_text(number: Number, system: System, reckoned: bool) -> str:
    if not number.is_range:
        return format_quantity(number.value, number.unit, system, reckoned=reckoned)
    shown: list[System] = ["metric", "us"] if system == "both" else [system]
    likely = _side_by_side(format_quantity(number.value, number.unit, one, reckoned=reckoned) for one in shown)
    span = _side_by_side(format_span(number.low, number.high, number.unit, one, reckoned=reckoned) for one in shown)
    return likely if span == likely else f"{likely} ({span})"


def _side_by_side(shown: Iterable[str]) -> str:
    """In either system of units, with a stroke between because a range stands in brackets already."""
    return " / ".join(dict.fromkeys(shown))


def inside(label: str) -> str:
    """A label as it reads inside a sentence: small first letter, unless the first word is an abbreviation."""
    first = label.split(" ", 1)[0]
    if len(first) > 1 and first[1:] != first[1:].lower():
        return label
    return label[:1].lower() + label[1:]
