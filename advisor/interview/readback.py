"""An answer read back in one line: the words chosen, or a quantity in both systems of units."""

from __future__ import annotations

from advisor.consultation.answers import Answer
from advisor.errors import clean_text
from advisor.interview import words
from advisor.knowledge.numbers import Number
from advisor.knowledge.rulebase import RuleBase
from advisor.units import format_span

_LOOKS_ALIKE = str.maketrans({"²": "2", "³": "3", "°": None, " ": None})


def shown(rule_base: RuleBase, answer: Answer) -> str:
    """An answer in one line: what was typed and what it is in both systems, or the words chosen."""
    if answer.unknown:
        return words.DONT_KNOW
    if isinstance(answer.value, Number) and isinstance(answer.typed, str):
        return both_systems(answer.typed, answer.value, answer.system)
    return in_words(rule_base, answer)


def in_words(rule_base: RuleBase, answer: Answer) -> str:
    """An answer by the words of its choices, or a quantity in its own system first."""
    if isinstance(answer.value, Number):
        own, other = _systems(answer.value, answer.system)
        return own if own == other else f"{own} = {other}"
    labels = rule_base.values_of(rule_base.facts[answer.question])
    chosen = answer.value if isinstance(answer.value, tuple) else (str(answer.value),)
    return "; ".join(labels.get(word, word) for word in chosen)


def both_systems(typed: str, number: Number, system: str) -> str:
    """`1/2 in = 12.7 mm`; where the typed text reads differently it is shown first."""
    own, other = _systems(number, system)
    measured = own if own == other else f"{own} = {other}"
    if _alike(typed) == _alike(own):
        return measured
    return f"{clean_text(typed)}, that is {measured}"


def _systems(number: Number, system: str) -> tuple[str, str]:
    """The number in the system it was given in, and in the other."""
    metric, us = (format_span(number.low, number.high, number.unit, one) for one in ("metric", "us"))
    return (us, metric) if system == "us" else (metric, us)


def _alike(text: str) -> str:
    return text.casefold().translate(_LOOKS_ALIKE)
