"""What may stand for a fact: allowed words, numbers by limit, names of facts."""

from __future__ import annotations

import re

from advisor.errors import AdvisorError, near
from advisor.knowledge.model import UNKNOWN, Attribute, FactForm
from advisor.knowledge.numbers import NO_UNIT, PLAIN_UNITS
from advisor.knowledge.rulebase import LIMIT, RuleBase
from advisor.units import same_dimension

_NUMERIC = re.compile(r"^[-+.]?[0-9]")


def looks_numeric(text: str) -> bool:
    """Whether a right side starts like a number."""
    return bool(_NUMERIC.match(text))


def kind_of(rule_base: RuleBase, fact: str) -> str | None:
    """The kind of a fact or attribute: choice, several, yes_no, quantity, count, record, ... or None."""
    if fact in rule_base.decisions:
        return "choice"
    form: FactForm | Attribute | None = rule_base.facts.get(fact) or rule_base.attribute(fact)
    return form.kind if form else None


def unit_of(rule_base: RuleBase, fact: str) -> str | None:
    """The unit of a numeric fact or attribute; `fraction` where none is declared."""
    form: FactForm | Attribute | None = rule_base.facts.get(fact) or rule_base.attribute(fact)
    return (form.unit or NO_UNIT) if form else None


def alike(one: str, other: str) -> bool:
    """Whether two units may be compared; a count is a plain number.

    Raises:
        AdvisorError: when either is no unit.
    """
    return {one, other} <= PLAIN_UNITS or same_dimension(one, other)


def allowed_words(rule_base: RuleBase, fact: str) -> list[str]:
    """The words a choice, several or yes_no fact may have, without `unknown`."""
    if fact in rule_base.decisions:
        return list(rule_base.materials.get(rule_base.decisions[fact].of, {}))
    form = rule_base.facts.get(fact)
    if form:
        return list(rule_base.values_of(form))
    attribute = rule_base.attribute(fact)
    if attribute is None:
        return []
    return ["yes", "no"] if attribute.kind == "yes_no" else list(attribute.values)


def did_you_mean(word: str, words: list[str]) -> str:
    """A help line: the near match, or the whole list when it is short."""
    guess = near(word, words)
    if guess:
        return f"did you mean `{guess}`?"
    return f"one of {', '.join(words)}" if len(words) <= 25 else "see the vocabulary"


def word_fault(rule_base: RuleBase, fact: str, word: str) -> tuple[str, str] | None:
    """What is wrong with a word as value of a fact, and what would be right."""
    words = allowed_words(rule_base, fact)
    if word == UNKNOWN or word in words:
        return None
    return f"`{fact}` has no value `{word}`", did_you_mean(word, words)


def number_fault(rule_base: RuleBase, fact: str, right: str) -> tuple[str, str] | None:
    """What is wrong with the right side of a numeric comparison, and what would be right."""
    if looks_numeric(right):
        return f"the number `{right}` stands in a rule", "give it a name in a `limit` entry, with unit and source"
    if right.startswith(LIMIT):
        name = right.removeprefix(LIMIT)
        if name not in rule_base.limits:
            return f"there is no limit `{name}`", did_you_mean(name, list(rule_base.limits))
        number = rule_base.numbers.get(name)
        return None if number is None else _unit_fault(rule_base, fact, right, number.unit)
    if kind_of(rule_base, right) not in ("quantity", "count"):
        return f"`{right}` is neither a limit nor a numeric fact", did_you_mean(
            right, [*rule_base.facts, *(LIMIT + name for name in rule_base.limits)])
    return _unit_fault(rule_base, fact, right, unit_of(rule_base, right) or "fraction")


def _unit_fault(rule_base: RuleBase, fact: str, right: str, unit: str) -> tuple[str, str] | None:
    wanted = unit_of(rule_base, fact) or "fraction"
    try:
        if alike(unit, wanted):
            return None
    except AdvisorError as error:
        return error.what, error.help or "use a unit that the units module knows"
    return f"`{fact}` is in {wanted}, but `{right}` is in {unit}", "compare like with like"
