"""`advisor compute`: list the computations, describe one, or run one and show formula and source."""

from __future__ import annotations

import argparse
import dataclasses
import json
from collections.abc import Mapping, Sequence
from itertools import groupby
from typing import Any

from advisor.computing.describe import Computation, Input, computations, key_of, result_fields, spoken, takes_a_record
from advisor.computing.run import Outcome, run_computation, shown_input
from advisor.errors import InputError, UsageError, near
from advisor.knowledge.load import load_rule_base
from advisor.knowledge.numbers import NO_UNIT, Number
from advisor.units import DIMENSIONS, format_quantity, format_span


def run(options: argparse.Namespace) -> int:
    """Print the list, one description or one answer."""
    if options.name is None:
        print(_listing() if options.form == "text" else _json([_as_data(one) for one in computations().values()]))
        return 0
    computation = _find(options.name)
    if not options.inputs:
        print(_description(computation) if options.form == "text" else _json(_as_data(computation)))
        return 0
    needs_things = any(one.kind == "things" for one in computation.inputs)
    catalogues = load_rule_base(options.rules, examples=False).catalogues if needs_things else {}
    outcome = run_computation(computation, _pairs(options.inputs), catalogues)
    print(_answer(outcome) if options.form == "text" else _json(_answer_data(outcome)))
    return 0


def _find(name: str) -> Computation:
    found = computations().get(key_of(name.replace("-", "_")))
    if found is not None:
        return found
    if takes_a_record(name):
        raise InputError(f"`{name}` works on a list that another computation makes, so it cannot be typed in", None,
                         "give the whole job as an answer file: `advisor advise FILE`")
    close = near(name, computations())
    raise InputError(f"there is no computation `{name}`", None,
                     f"did you mean `{close}`?" if close else "`advisor compute` lists them all")


def _pairs(inputs: Sequence[str]) -> dict[str, str]:
    pairs: dict[str, str] = {}
    for text in inputs:
        key, equals, value = text.partition("=")
        if not equals or not key:
            raise UsageError(f"`{text}` is not understood", help="write inputs as `name=value`, `gap=10..14mm`")
        key = key.strip().replace("-", "_")
        if key in pairs:
            raise UsageError(f"`{key}` is given twice", help="give every input once")
        pairs[key] = value.strip()
    return pairs


# -- text

def _listing() -> str:
    lines = []
    for subject, group in groupby(computations().values(), key=lambda one: one.subject):
        lines += ["", subject]
        lines += [f"  {one.key}\n      {one.says}" for one in group]
    return "\n".join([*lines[1:], "", "`advisor compute NAME` describes one."])


def _description(computation: Computation) -> str:
    lines = [f"{computation.key}: {computation.says}", "", "Inputs"]
    lines += [f"  {one.key:<28} {_expected(one)}" for one in computation.inputs]
    lines += ["", f"Gives     {computation.returns}", f"Formula   {computation.formula}"]
    lines += [f"Valid     {computation.valid}"] if computation.valid else []
    return "\n".join([*lines, f"Source    {computation.source}", "", f"Example   advisor compute {computation.key} "
                      + " ".join(f"{one.key}={_sample(one)}" for one in computation.inputs if one.kind != "things")])


def _expected(one: Input) -> str:
    return f"{one.meaning} (taken from the rules)" if one.kind == "things" else one.meaning


def _sample(one: Input) -> str:
    if one.kind in ("quantity", "quantities", "count"):
        unit = (one.unit or "").replace("1/", " per ")
        return f"...{unit}" if one.kind != "quantities" else f"...{unit},...{unit}"
    return "yes" if one.kind == "yes_no" else (one.choices[0] if one.choices else "...")


def _answer(outcome: Outcome) -> str:
    computation = outcome.computation
    lines = [computation.says, ""]
    lines += [line for name, value in outcome.results.items() for line in _result_lines(name, value)]
    lines += ["", f"Formula   {computation.formula}"]
    if outcome.with_numbers != computation.formula:
        lines.append(f"          {outcome.with_numbers}")
    lines += [f"With      {spoken(name)} = {_input_text(value)}" for name, value in outcome.inputs.items()]
    lines += [f"Valid     {computation.valid}"] if computation.valid else []
    return "\n".join([*lines, f"Source    {computation.source}"])


def _input_text(value: Any) -> str:
    if isinstance(value, Number) and value.is_range:
        unit = "" if value.unit == NO_UNIT else f" {value.unit}"
        return f"{value.low:.6g} to {value.high:.6g}{unit} (likely {value.value:.6g})"
    return shown_input(value)


def _result_lines(name: str, value: Any) -> list[str]:
    label = spoken(name)
    if isinstance(value, Number):
        return [f"{label} = {_number_text(value)}"]
    if isinstance(value, tuple) and value and result_fields(value[0]):
        return [f"{label}:", *("  " + "; ".join(f"{spoken(field)} {_plain(field_value)}"
                                                for field, field_value in result_fields(row)) for row in value)]
    return [f"{label} = {_plain(value)}"]


def _plain(value: Any) -> str:
    if isinstance(value, bool) or value is None:
        return {True: "yes", False: "no", None: "never"}[value]
    if isinstance(value, tuple):
        return ", ".join(_plain(item) for item in value) or "none"
    return f"{value:.5g}" if isinstance(value, float) else str(value)


def _number_text(number: Number) -> str:
    unit = "" if number.unit in (NO_UNIT, "count") else f" {number.unit}"
    exact = f"{number.value:.5g}{unit}"
    if number.is_range:
        exact = f"{number.low:.5g} to {number.high:.5g}{unit} (likely {number.value:.5g})"
    us = _us(number)
    return f"{exact}  ({us})" if unit and us else exact


def _us(number: Number) -> str:
    """The number in US units, empty where there are none for it."""
    if not any(unit.system == "us" for dimension in DIMENSIONS for unit in dimension.units
               if number.unit in {one.symbol for one in dimension.units}):
        return ""
    if number.is_range:
        return format_span(number.low, number.high, number.unit, "us")
    return format_quantity(number.value, number.unit, "us")


# -- JSON

def _json(data: object) -> str:
    return json.dumps(data, indent=2, ensure_ascii=False, allow_nan=False)


def _as_data(computation: Computation) -> dict[str, object]:
    return {"name": computation.key, "subject": computation.subject, "says": computation.says,
            "inputs": [{"name": one.key, "kind": one.kind, "unit": one.unit, "meaning": one.meaning,
                        "range": one.plausible, "choices": one.choices} for one in computation.inputs],
            "gives": computation.returns, "formula": computation.formula, "valid": computation.valid,
            "source": computation.source}


def _answer_data(outcome: Outcome) -> dict[str, object]:
    return {"name": outcome.computation.key,
            "inputs": {name: _data(value) for name, value in outcome.inputs.items()},
            "results": {name: _data(value) for name, value in outcome.results.items()},
            "formula": outcome.computation.formula, "with_numbers": outcome.with_numbers,
            "valid": outcome.computation.valid, "source": outcome.computation.source}


def _data(value: Any) -> Any:
    if isinstance(value, Number):
        return {"value": value.value, "low": value.low, "high": value.high,
                "unit": "" if value.unit in (NO_UNIT, "count") else value.unit, "us": _us(value) or None}
    if dataclasses.is_dataclass(value):
        return {name: _data(part) for name, part in result_fields(value)}
    if isinstance(value, Mapping):
        return {name: _data(part) for name, part in value.items()}
    return [_data(part) for part in value] if isinstance(value, tuple | list) else value
