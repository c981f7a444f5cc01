"""One computation with typed inputs: read, worked out over their ranges, and said with the numbers put in."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from advisor.calculators import MissingProperty, OutOfRange
from advisor.computing.describe import Computation, Input, key_of, result_fields, spoken
from advisor.computing.ranges import results_at_corners
from advisor.errors import InputError, near
from advisor.knowledge.numbers import NO_UNIT, Number
from advisor.units import parse_quantity, unit_of_name

_BARE = re.compile(r"-?[\d.]+(?:\s*\.\.\s*-?[\d.]+)?")
Catalogues = Mapping[str, Mapping[str, Mapping[str, object]]]


@dataclass(frozen=True)
class Outcome:
    """What a computation answered: a number with its range, or a word or table, for each named result."""

    computation: Computation
    inputs: dict[str, Any]
    results: dict[str, Any]
    with_numbers: str


def run_computation(computation: Computation, typed: Mapping[str, str], catalogues: Catalogues) -> Outcome:
    """Answer one computation; `catalogues` are the things of the rules with their properties.

    Raises:
        InputError: an input is missing, unknown, not understood, or outside the range of the formula.
    """
    inputs = _read_all(computation, typed, catalogues)
    try:
        corners = results_at_corners(computation.function, inputs)
    except (OutOfRange, MissingProperty) as error:
        raise InputError(f"{computation.key}: {_in_words(str(error))}", None,
                         "outside this range the formula does not hold") from error
    shown = {one.key: inputs[one.argument] for one in computation.inputs if one.kind != "things"}
    return Outcome(computation, shown, _results(computation.name, corners), put_in(computation.formula, inputs))


def _in_words(message: str) -> str:
    return re.sub(r"`(\w+)`", lambda found: f"`{key_of(found[1])}`", message)


def _read_all(computation: Computation, typed: Mapping[str, str], catalogues: Catalogues) -> dict[str, Any]:
    wanted = {name: one for one in computation.inputs for name in (one.key, one.argument)}
    for name in typed:
        if name not in wanted:
            close = near(name, wanted)
            raise InputError(f"{computation.key} has no input `{name}`", None,
                             f"did you mean `{close}`?" if close else f"it takes {_names(computation)}")
    found: dict[str, Any] = {}
    missing = []
    for one in computation.inputs:
        if one.kind == "things":
            found[one.argument] = _things(one, catalogues)
        elif (text := typed.get(one.key, typed.get(one.argument))) is None:
            missing.append(f"{one.key} ({one.meaning.rstrip('.')})")
        else:
            found[one.argument] = _read(one, text, bare_ok=one.argument in typed)
    if missing:
        raise InputError(f"{computation.key} still needs {'; '.join(missing)}", None,
                         "measure it on the part, or read it on the maker's sheet; typical properties of materials "
                         f"stand in rules/materials. Write `{missing[0].partition(' ')[0]}=...`")
    return found


def _names(computation: Computation) -> str:
    return ", ".join(one.key for one in computation.inputs if one.kind != "things")


def _things(one: Input, catalogues: Catalogues) -> Mapping[str, Mapping[str, object]]:
    return catalogues.get(one.argument.removesuffix("s"), {})


def _read(one: Input, text: str, bare_ok: bool) -> Any:
    if one.kind == "quantity":
        return _number(one, text, bare_ok)
    if one.kind == "quantities":
        return [_number(one, part, bare_ok) for part in text.split(",")]
    if one.kind == "count":
        value = _number(one, text, True)
        return int(value.value)
    if one.kind == "words":
        return [_word(one, part.strip()) for part in text.split(",") if part.strip()]
    if one.kind == "yes_no":
        if text not in ("yes", "no"):
            raise InputError(f"`{one.key}` is `{text}`", None, "write `yes` or `no`")
        return text == "yes"
    return _word(one, text)


def _word(one: Input, text: str) -> str:
    if one.choices and text not in one.choices:
        raise InputError(f"`{one.key}` is `{text}`", None, f"write one of {', '.join(one.choices)}")
    return text


def _number(one: Input, text: str, bare_ok: bool) -> Number:
    """A quantity; a bare number only where the unit stands in the name that was typed, or where there is none."""
    unit = one.unit or ("count" if one.kind == "count" else NO_UNIT)
    if bare_ok and one.unit and _BARE.fullmatch(text.strip()):
        text = f"{text} {unit.replace('1/', 'per ')}"
    read = parse_quantity(text, unit, plausible=one.plausible, name=one.key, bare_ok=bare_ok or one.unit is None)
    return Number(read.value, read.low, read.high, unit)


def _results(name: str, corners: list[Any]) -> dict[str, Any]:
    fields = [field for field, _ in result_fields(corners[0])]
    if not fields:
        return {name: _spread(name, corners)}
    return {field: _spread(field, [getattr(corner, field) for corner in corners]) for field in fields}


def _spread(name: str, values: list[Any]) -> Any:
    likely = values[0]
    if isinstance(likely, bool) or not isinstance(likely, int | float):
        return likely
    unit = unit_of_name(name) or ("count" if isinstance(likely, int) else NO_UNIT)
    return Number(float(likely), float(min(values)), float(max(values)), unit)


def put_in(formula: str, inputs: Mapping[str, Any]) -> str:
    """A formula with the likely numbers in place of the arguments' names, its left side as it was."""
    texts = {spoken(argument): shown_input(value) for argument, value in inputs.items()
             if isinstance(value, Number | list | int | float) and not isinstance(value, bool)}
    left, equals, right = formula.partition(" = ")
    if not texts or not equals:
        return formula
    names = "|".join(re.escape(name) for name in sorted(texts, key=len, reverse=True))
    return left + equals + re.sub(rf"\b({names})\b", lambda found: texts[found[1]], right)


def shown_input(value: Any) -> str:
    """An input as it goes into a formula: a number with its unit."""
    if isinstance(value, list):
        return f"({', '.join(shown_input(item) for item in value)})"
    if not isinstance(value, Number):
        return str(value)
    unit = "" if value.unit in (NO_UNIT, "count") else f" {value.unit}"
    return f"{value.value:.6g}{unit}"
