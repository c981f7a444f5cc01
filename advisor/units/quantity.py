"""A quantity as a person gave it."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from advisor.errors import InputError
from advisor.units.catalogue import System
from advisor.units.spelling import find_unit


@dataclass(frozen=True)
class Quantity:
    """A value in `unit`, with `low` and `high` the ends when a range was given, else equal to it.

    `typed` is the person's own text; `system` the units it was in, `none` for a bare number or
    a unit that both systems share.
    """

    value: float
    low: float
    high: float
    unit: str
    typed: str
    system: System


def convert(value: float, from_unit: str, to_unit: str) -> float:
    """`value` in another unit of the same kind; InputError when the kinds differ.

    `C`, `F` and `kelvin` are temperatures; `K`, `delta_C` and `delta_F` are differences.
    """
    line = _line(from_unit, to_unit)
    if line is None:
        return float(value)
    factor, offset = line
    return float(Fraction(value) * factor + offset)


@cache
def _line(from_unit: str, to_unit: str) -> tuple[Fraction, Fraction] | None:
    """Factor and offset from one unit to another, exact; None where a number stays as it is."""
    from_dimension, source = find_unit(from_unit)
    to_dimension, target = find_unit(to_unit)
    if from_dimension is not to_dimension:
        raise InputError(f"`{source.symbol}` measures {from_dimension.noun}, "
                         f"`{target.symbol}` {to_dimension.noun}",
                         help="convert between units of one kind")
    factor, offset = source.factor / target.factor, (source.offset - target.offset) / target.factor
    return None if factor == 1 and not offset else (factor, offset)
