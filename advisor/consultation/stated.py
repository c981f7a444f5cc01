"""The examples beside the rules: facts stated outright, and what should follow from them."""

from __future__ import annotations

from collections.abc import Mapping

from advisor.consultation.evaluate import Evaluator
from advisor.consultation.facts import Value
from advisor.knowledge.model import UNKNOWN, CautionRef, Example, NumberText
from advisor.knowledge.numbers import read_number
from advisor.knowledge.rulebase import RuleBase


def stated(given: Mapping[str, tuple[str, ...]], rule_base: RuleBase) -> dict[str, Value]:
    """The values of stated facts.

    Raises:
        NumberError: when a number cannot be read.
    """
    return {name: _value(name, texts, rule_base) for name, texts in given.items()}


def missed(example: Example, evaluator: Evaluator) -> list[str]:
    """What an example says and the rules do not do, in words; empty where it holds.

    Raises:
        NumberError: when a number cannot be read.
    """
    result = evaluator.evaluate({}, final=False, given=stated(example.given, evaluator.rule_base))
    fired = {firing.rule.rule.rule for firing in result.firings}
    warned = {caution for _, line in result.conclusions(CautionRef) for caution in line.cautions}
    return [*(f"{rule} does not fire" for rule in example.fires if rule not in fired),
            *(f"{rule} fires" for rule in example.silent if rule in fired),
            *(f"nothing warns of {caution}" for caution in example.warns if caution not in warned)]


def _value(name: str, texts: tuple[str, ...], rule_base: RuleBase) -> Value:
    form = rule_base.facts.get(name) or rule_base.attribute(name)
    kind = form.kind if form else "choice"
    if kind == "several":
        return texts
    if texts == (UNKNOWN,) or kind not in ("quantity", "count"):
        return texts[0]
    return read_number(NumberText(likely=texts[0]), (form.unit if form else None) or "fraction")
