"""What each computation takes, gives and rests on, read off its signature and its docstring."""

from __future__ import annotations

import dataclasses
import inspect
import re
import typing
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal

from advisor.calculators import CALCULATORS, formula_of, source_of
from advisor.units import unit_of_name

Kind = Literal["quantity", "count", "quantities", "word", "words", "yes_no", "things"]
_RANGE = re.compile(r"(-?\d[\d.]*) to (-?\d[\d.]*\d|\d)")


@dataclass(frozen=True)
class Input:
    """One input: `key` is what a person types, `argument` the function's name for it."""

    argument: str
    key: str
    kind: Kind
    unit: str | None
    meaning: str
    plausible: tuple[float, float] | None
    choices: tuple[str, ...] = ()


@dataclass(frozen=True)
class Computation:
    """One computation as a person may run it."""

    name: str
    subject: str
    says: str
    inputs: tuple[Input, ...]
    returns: str
    formula: str
    source: str
    valid: str

    @property
    def key(self) -> str:
        """What a person types: the name without its unit."""
        return key_of(self.name)

    @property
    def function(self) -> typing.Callable[..., object]:
        """The function itself."""
        return CALCULATORS[self.name]


def spoken(name: str) -> str:
    """A name in words, without its unit: `joint_length_mm` is `joint length`."""
    return key_of(name).replace("_", " ")


def key_of(name: str) -> str:
    """A name without its unit: `joint_length_mm` is `joint_length`."""
    unit = unit_of_name(name)
    if unit in ("fraction", "count"):
        return name
    written = unit.replace("1/", "per_").replace("/", "_").replace(" ", "_") if unit else None
    return name.removesuffix(f"_{written}") if written else name


@cache
def computations() -> Mapping[str, Computation]:
    """Every computation whose inputs can be typed, by its name without the unit."""
    found = (_described(name) for name in CALCULATORS)
    return {computation.key: computation for computation in found if computation is not None}


def takes_a_record(name: str) -> bool:
    """Whether a computation works on what another one made, so that it cannot be typed in."""
    return key_of(name) in map(key_of, CALCULATORS) and key_of(name) not in computations()


def _described(name: str) -> Computation | None:
    function = CALCULATORS[name]
    hints = typing.get_type_hints(function)
    text = inspect.getdoc(function) or ""
    meanings = _lines(text, "Args:", "Returns:")
    inputs = [_input(argument, hints[argument], meanings.get(argument, ""))
              for argument in inspect.signature(function).parameters]
    if not all(inputs):
        return None
    module = inspect.getmodule(function)
    subject = (inspect.getdoc(module) or "").splitlines()[0].rstrip(".")
    return Computation(name, subject, text.splitlines()[0], tuple(filter(None, inputs)),
                       _section(text, "Returns:", "Raises:"), formula_of(name), source_of(name),
                       _optional(text, "Valid:"))


def _input(argument: str, hint: Any, meaning: str) -> Input | None:
    kind, choices = _kind(hint)
    if kind is None:
        return None
    found = _RANGE.search(meaning)
    unit = unit_of_name(argument) if kind in ("quantity", "quantities") else None
    return Input(argument, key_of(argument), kind, unit, meaning,
                 (float(found[1]), float(found[2])) if found else None, choices)


def _kind(hint: Any) -> tuple[Kind | None, tuple[str, ...]]:
    simple: dict[Any, Kind] = {float: "quantity", int: "count", bool: "yes_no", str: "word"}
    if hint in simple:
        return simple[hint], ()
    origin, parts = typing.get_origin(hint), typing.get_args(hint)
    if origin is Literal:
        return "word", parts
    if origin in (Sequence, list, tuple) and typing.get_origin(parts[0]) is Literal:
        return "words", typing.get_args(parts[0])
    if origin in (Sequence, list, tuple) and parts[0] in (float, str):
        return ("quantities" if parts[0] is float else "words"), ()
    return ("things" if origin is Mapping else None), ()


def result_fields(result: object) -> list[tuple[str, Any]]:
    """The named parts of a result record, none for a plain value."""
    if not dataclasses.is_dataclass(result):
        return []
    return [(field.name, getattr(result, field.name)) for field in dataclasses.fields(result)]


def _section(text: str, start: str, end: str) -> str:
    return " ".join(text.partition(f"{start}\n")[2].partition(f"{end}\n")[0].split())


def _lines(text: str, start: str, end: str) -> dict[str, str]:
    section = text.partition(f"{start}\n")[2].partition(f"{end}\n")[0]
    return dict(re.findall(r"^ +(\w+): (.+)$", re.sub(r"\n {8,}", " ", section), re.MULTILINE))


def _optional(text: str, heading: str) -> str:
    found = re.search(rf"^{heading} (.+(?:\n +.+)*)", text, re.MULTILINE)
    return " ".join(found[1].split()) if found else ""
