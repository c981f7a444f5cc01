"""Facts stated outright, as in the examples beside the rules: text to values by the vocabulary."""

from __future__ import annotations

from collections.abc import Mapping

from advisor.consultation.facts import Value
from advisor.knowledge.model import UNKNOWN, NumberText
from advisor.knowledge.numbers import read_number
from advisor.knowledge.rulebase import RuleBase


def stated(given: Mapping[str, tuple[str, ...]], rule_base: RuleBase) -> dict[str, Value]:
    """The values of stated facts.

    Raises:
        NumberError: when a number cannot be read.
    """
    return {name: _value(name, texts, rule_base) for name, texts in given.items()}


def _value(name: str, texts: tuple[str, ...], rule_base: RuleBase) -> Value:
    form = rule_base.facts.get(name) or rule_base.attribute(name)
    kind = form.kind if form else "choice"
    if kind == "several":
        return texts
    if texts == (UNKNOWN,) or kind not in ("quantity", "count"):
        return texts[0]
    return read_number(NumberText(likely=texts[0]), (form.unit if form else None) or "fraction")
