"""Computations that rules ask for: facts in, facts out, ranges carried through."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from advisor.calculators import CALCULATORS, MissingProperty, OutOfRange
from advisor.computing.ranges import results_at_corners
from advisor.consultation.conditions import NEVER, Lacks
from advisor.consultation.facts import Fact, Facts, Value
from advisor.consultation.waiting import Waiting
from advisor.knowledge.model import RANGE_ENDS, UNKNOWN, Calculation, split_end
from advisor.knowledge.numbers import NO_UNIT, Number, exact
from advisor.knowledge.rulebase import EVERY, LIMIT, RuleBase
from advisor.units import unit_of_name


@dataclass(frozen=True)
class Withheld:
    """A computation that could not be made, and why."""

    calculation: Calculation
    reason: str


ValueOf = Callable[[str], Value | None]
_TRUE_OR_FALSE: dict[str, Any] = {"yes": True, "no": False}
_MOST_REMEMBERED = 5000


class Calculations:
    """The calculations of a rule base; what one gave is kept, as the same values give the same in any case."""

    def __init__(self, rule_base: RuleBase) -> None:
        self._rule_base = rule_base
        self._given = lru_cache(maxsize=_MOST_REMEMBERED)(self._give)

    def given(self, calculation: Calculation, values: Sequence[Value]) -> Sequence[Fact]:
        """What a calculation gives for the values that it reads, in the order of `RuleBase.read_by`.

        Raises:
            OutOfRange, MissingProperty, ValueError: as the calculation does.
        """
        return self._given(calculation.calculation, *values)

    def _give(self, name: str, *values: Value) -> tuple[Fact, ...]:
        calculation = self._rule_base.calculations[name]
        read = dict(zip(self._rule_base.read_by[name], values, strict=True))
        corners = results_at_corners(CALCULATORS[calculation.using], _inputs(calculation, read.get, self._rule_base))
        support = tuple(posted.id for fact, value in read.items() if not fact.startswith(LIMIT)
                        for posted in Fact(fact, value, "given").posted)
        return tuple(Fact(fact, _output(calculation, fact, field, corners, self._rule_base), "calculation", name,
                          support) for fact, field in calculation.gives.items())


def run_calculations(stage: str, facts: Facts, rule_base: RuleBase, calculations: Calculations) -> list[Withheld]:
    """Add the results of every calculation of a stage that can be made; return those withheld."""
    withheld: list[Withheld] = []
    waiting = Waiting(rule_base.calculations_of_stage[stage], lambda calculation: calculation.when)

    def make(calculation: Calculation) -> Lacks | None:
        """Make a calculation if its inputs are known; what it lacks."""
        if calculation.gives.keys() <= facts.names:
            return None
        values: list[Value] = []
        for name in rule_base.read_by[calculation.calculation]:
            value = facts.value(name)
            if value is None:
                return (name,)
            if isinstance(value, str) and value == UNKNOWN:
                return NEVER
            values.append(value)
        try:
            given = calculations.given(calculation, values)
        except (OutOfRange, MissingProperty, ValueError) as error:
            withheld.append(Withheld(calculation, str(error)))
            return None
        for fact in given:
            facts.add(fact)
        return None

    while waiting.take(facts, make):
        pass
    return withheld


def inputs_of(calculation: Calculation, facts: Facts, rule_base: RuleBase) -> dict[str, Any]:
    """The arguments of a calculation whose facts are all known, each in the unit its name states."""
    return _inputs(calculation, facts.value, rule_base)


def _inputs(calculation: Calculation, value_of: ValueOf, rule_base: RuleBase) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for argument, items in calculation.inputs.items():
        values = [_value(item, argument, value_of, rule_base) for item in items]
        found[argument] = values if argument in calculation.listed else values[0]
    return found


def result_of(calculation: Calculation, fact: str, inputs: dict[str, Any], rule_base: RuleBase) -> Any:
    """What a calculation gives for one of its facts with these arguments.

    Raises:
        OutOfRange, MissingProperty, ValueError: as the calculation does.
    """
    corners = results_at_corners(CALCULATORS[calculation.using], inputs)
    return _output(calculation, fact, calculation.gives[fact], corners, rule_base)


def _value(item: str, argument: str, value_of: ValueOf, rule_base: RuleBase) -> Any:
    name, end = split_end(item)
    value = value_of(name)
    if isinstance(value, Number):
        number = value.in_unit(unit_of_name(argument) or value.unit)
        return exact(getattr(number, RANGE_ENDS[end]), number.unit) if end else number
    if isinstance(value, str):
        return _TRUE_OR_FALSE.get(value, value)
    return rule_base.catalogues[item.removeprefix(EVERY)] if value is None else value


def _output(calculation: Calculation, fact: str, field: str, corners: list[Any], rule_base: RuleBase) -> Any:
    values = [getattr(result, field) if field else result for result in corners]
    form = rule_base.facts[fact]
    if form.kind in ("choice", "yes_no"):
        return {True: "yes", False: "no"}.get(values[0], str(values[0]))
    if form.kind not in ("quantity", "count"):
        return values[0]
    ends = values + [end for result in corners for end in _declared_ends(result, field)]
    unit = form.unit or ("count" if form.kind == "count" else NO_UNIT)
    given = unit_of_name(field or calculation.using) or unit
    return Number(float(values[0]), float(min(ends)), float(max(ends)), given).in_unit(unit)


def _declared_ends(result: Any, field: str) -> list[float]:
    """A record that has `likely_kg` may give `low_kg` and `high_kg` beside it."""
    if not field.startswith("likely_"):
        return []
    names = [end + field.removeprefix("likely_") for end in ("low_", "high_")]
    fields = {f.name for f in dataclasses.fields(result)}
    return [getattr(result, name) for name in names if name in fields]
