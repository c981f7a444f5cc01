"""Calculations: the function exists, its arguments are supplied in the right unit and in time."""

from __future__ import annotations

import dataclasses
import inspect
import typing
from collections.abc import Callable, Iterator

from advisor.calculators import CALCULATORS
from advisor.errors import AdvisorError, Problem
from advisor.knowledge.check.supply import Supply
from advisor.knowledge.check.values import alike, did_you_mean, kind_of, unit_of
from advisor.knowledge.model import Calculation, split_end
from advisor.knowledge.rulebase import EVERY, LIMIT, RuleBase
from advisor.units import unit_of_name

ANY_UNIT = None


def calculation_problems(rule_base: RuleBase, supply: Supply) -> list[Problem]:
    """Problems of every `calculation` entry."""
    return [problem for calculation in rule_base.calculations.values()
            for problem in _problems(calculation, rule_base, supply)]


def _problems(calculation: Calculation, rule_base: RuleBase, supply: Supply) -> Iterator[Problem]:
    function = CALCULATORS.get(calculation.using)
    if function is None:
        yield Problem(f"there is no computation `{calculation.using}`", calculation.where,
                      did_you_mean(calculation.using, list(CALCULATORS)))
        return
    parameters = inspect.signature(function).parameters
    for name in calculation.inputs:
        if name not in parameters:
            yield Problem(f"`{calculation.using}` has no argument `{name}`", calculation.where,
                          did_you_mean(name, list(parameters)))
    for name, parameter in parameters.items():
        if name not in calculation.inputs and parameter.default is inspect.Parameter.empty:
            yield Problem(f"`{calculation.using}` needs the argument `{name}`", calculation.where,
                          "add it under `from`")
    level = supply.stage_level(calculation) - 0.5
    for name, given in calculation.inputs.items():
        if name in parameters:
            for item in given:
                yield from _input_problems(calculation, name, item, level, rule_base, supply)
    yield from _output_problems(calculation, function, rule_base)


def _input_problems(calculation: Calculation, name: str, item: str, level: float, rule_base: RuleBase,
                    supply: Supply) -> Iterator[Problem]:
    where = calculation.where
    item = split_end(item)[0]
    if item.startswith(EVERY):
        if item.removeprefix(EVERY) not in rule_base.kinds:
            yield Problem(f"there is no kind `{item}`", where, did_you_mean(item, list(rule_base.kinds)))
        return
    if item.startswith(LIMIT):
        number = rule_base.numbers.get(item.removeprefix(LIMIT))
        if item.removeprefix(LIMIT) not in rule_base.limits:
            yield Problem(f"there is no limit `{item.removeprefix(LIMIT)}`", where,
                          did_you_mean(item, [LIMIT + limit for limit in rule_base.limits]))
        elif number:
            yield from _unit_problems(name, item, number.unit, where)
        return
    kind = kind_of(rule_base, item)
    known_at = supply.level(item)
    if kind is None:
        yield Problem(f"unknown fact `{item}`", where, did_you_mean(item, list(rule_base.facts)))
    elif known_at is None or known_at > level:
        yield Problem(f"`{item}` is not known before this stage", where,
                      "a calculation reads answers, facts of earlier stages and other calculations")
    elif kind in ("quantity", "count"):
        yield from _unit_problems(name, item, unit_of(rule_base, item) or "fraction", where)


def _unit_problems(name: str, item: str, unit: str, where: str) -> Iterator[Problem]:
    wanted = unit_of_name(name)
    if wanted is ANY_UNIT:
        return
    try:
        right = alike(wanted, unit)
    except AdvisorError as error:
        yield Problem(error.what, where, error.help)
        return
    if not right:
        yield Problem(f"`{name}` is wanted in {wanted}, but `{item}` is in {unit}", where,
                      "give a fact or a limit of that kind")


def _output_problems(calculation: Calculation, function: Callable[..., object],
                     rule_base: RuleBase) -> Iterator[Problem]:
    result = typing.get_type_hints(function).get("return")
    for fact, field in calculation.gives.items():
        form = rule_base.facts.get(fact)
        if form is None:
            yield Problem(f"unknown fact `{fact}`", calculation.where, did_you_mean(fact, list(rule_base.facts)))
        elif fact in rule_base.questions:
            yield Problem(f"`{fact}` is asked of the person and cannot also be computed", calculation.where,
                          "give the result another name")
        elif field and not _has_field(result, field):
            yield Problem(f"the result of `{calculation.using}` has no field `{field}`", calculation.where,
                          did_you_mean(field, _fields(result)))
        elif form.kind in ("quantity", "count"):
            yield from _unit_problems(field or calculation.using, fact, form.unit or "fraction", calculation.where)


def _fields(result: object) -> list[str]:
    return [f.name for f in dataclasses.fields(result)] if dataclasses.is_dataclass(result) else []


def _has_field(result: object, field: str) -> bool:
    return field in _fields(result)
