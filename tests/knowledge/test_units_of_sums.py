"""What is added, taken away or handed on has the unit of what comes out.

The plain arithmetic minds no units: a limit in grams handed on as a mass in kilograms is a thousand times too much.
"""

from __future__ import annotations

import pytest

from advisor.consultation.consult import Advisor
from advisor.knowledge.model import split_end
from advisor.knowledge.rulebase import RuleBase

KEEP_THE_UNIT = {"same_value", "total", "difference", "mean", "kept_within"}
STEPS_OF_TEMPERATURE = {"C", "K"}  # the difference of two temperatures is in K, and so is what is added to one


def units_beside(rule_base: RuleBase, used: tuple[str, ...]) -> list[tuple[str, str]]:
    """Each input that is a limit or a word with a unit, and that unit."""
    found: list[tuple[str, str]] = []
    for item in used:
        number = rule_base.limit(item) if item.startswith("limit/") else None
        form = rule_base.facts.get(split_end(item)[0])
        if number is not None or form is not None:
            unit = number.unit if number is not None else form.unit if form is not None else None
            found.append((item, unit or "count"))
    return found


def test_sums_keep_their_unit(advisor: Advisor) -> None:
    rule_base, looked_at, wrong = advisor.rule_base, 0, []
    for name, entry in rule_base.calculations.items():
        if entry.using not in KEEP_THE_UNIT:
            continue
        given, = (rule_base.facts[fact].unit for fact in entry.gives)
        for used in entry.inputs.values():
            for item, unit in units_beside(rule_base, used):
                looked_at += 1
                if unit != given and {unit, given} != STEPS_OF_TEMPERATURE:
                    wrong.append(f"{name}: {item} is in {unit}, but gives {given}")
    assert looked_at > 100
    assert wrong == []


@pytest.mark.parametrize(("item", "unit"), [("limit/injection_least", "kg"), ("air_temperature", "C")])
def test_the_units_are_read(item: str, unit: str, advisor: Advisor) -> None:
    assert units_beside(advisor.rule_base, (item,)) == [(item, unit)]
