"""Computations that rules ask for: facts in, facts out, ranges carried through."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from typing import Any

from advisor.calculators import CALCULATORS, MissingProperty, OutOfRange
from advisor.computing.ranges import results_at_corners
from advisor.consultation.conditions import NEVER, Lacks
from advisor.consultation.facts import Fact, Facts, Value
from advisor.consultation.waiting import Waiting
from advisor.knowledge.model import RANGE_ENDS, UNKNOWN, Calculation, split_end
from advisor.knowledge.numbers import NO_UNIT, Number, exact
from advisor.knowledge.rulebase import EVERY, RuleBase
from advisor.units import unit_of_name


@dataclass(frozen=True)
class Withheld:
    """A computation that could not be made, and why."""

    calculation: Calculation
    reason: str


_TRUE_OR_FALSE: dict[str, Any] = {"yes": True, "no": False}
Made = dict[tuple[object, ...], list[Fact]]
"""Results by calculation and inputs, kept over the evaluations of one case."""


def run_calculations(stage: str, facts: Facts, rule_base: RuleBase, made: Made | None = None) -> list[Withheld]:
    """Add the results of every calculation of a stage that can be made; return those withheld."""
    withheld: list[Withheld] = []
    waiting = Waiting(rule_base.calculations_of_stage[stage], lambda calculation: calculation.when)

    def make(calculation: Calculation) -> Lacks | None:
        """Make a calculation if its inputs are known; what it lacks."""
        if calculation.gives.keys() <= facts.names:
            return None
        read: list[Value] = []
        for name in rule_base.read_by[calculation.calculation]:
            value = facts.value(name)
            if value is None:
                return (name,)
            if isinstance(value, str) and value == UNKNOWN:
                return NEVER
            read.append(value)
        try:
            results = _remembered(calculation, read, facts, rule_base, made)
        except (OutOfRange, MissingProperty, ValueError) as error:
            withheld.append(Withheld(calculation, str(error)))
            return None
        for fact in results:
            facts.add(fact)
        return None

    while waiting.take(facts, make):
        pass
    return withheld


def _remembered(calculation: Calculation, read: list[Value], facts: Facts, rule_base: RuleBase,
                made: Made | None) -> list[Fact]:
    if made is None:
        return _results(calculation, facts, rule_base)
    key = (calculation.calculation, *read)
    try:
        if key not in made:
            made[key] = _results(calculation, facts, rule_base)
    except TypeError:  # a computed list among the inputs cannot be a key
        return _results(calculation, facts, rule_base)
    return made[key]


def _results(calculation: Calculation, facts: Facts, rule_base: RuleBase) -> list[Fact]:
    function = CALCULATORS[calculation.using]
    inputs = inputs_of(calculation, facts, rule_base)
    corners = results_at_corners(function, inputs)
    support = tuple(posted.id for name in rule_base.read_by[calculation.calculation]
                    if (fact := facts.get(name)) for posted in fact.posted)
    return [Fact(name, _output(calculation, name, field, corners, rule_base), "calculation",
                 calculation.calculation, support)
            for name, field in calculation.gives.items()]


def inputs_of(calculation: Calculation, facts: Facts, rule_base: RuleBase) -> dict[str, Any]:
    """The arguments of a calculation whose facts are all known, each in the unit its name states."""
    return {name: _input(calculation, name, facts, rule_base) for name in calculation.inputs}


def result_of(calculation: Calculation, fact: str, inputs: dict[str, Any], rule_base: RuleBase) -> Any:
    """What a calculation gives for one of its facts with these arguments.

    Raises:
        OutOfRange, MissingProperty, ValueError: as the calculation does.
    """
    corners = results_at_corners(CALCULATORS[calculation.using], inputs)
    return _output(calculation, fact, calculation.gives[fact], corners, rule_base)


def _input(calculation: Calculation, argument: str, facts: Facts, rule_base: RuleBase) -> Any:
    values = [_value(item, argument, facts, rule_base) for item in calculation.inputs[argument]]
    return values if argument in calculation.listed else values[0]


def _value(item: str, argument: str, facts: Facts, rule_base: RuleBase) -> Any:
    name, end = split_end(item)
    value = facts.value(name)
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
