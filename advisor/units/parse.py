"""Reading what a person types for a quantity: all of it is understood, or it is refused."""

from __future__ import annotations

from fractions import Fraction
from math import floor

from advisor.units.catalogue import System, Unit
from advisor.units.present import format_span
from advisor.units.quantity import Quantity
from advisor.units.refusals import Wanted
from advisor.units.sides import LENGTH_LIMIT, Side, read_sides
from advisor.units.spelling import find_unit, keys_of, unit_key

_ABSOLUTE_ZERO_C = Fraction("-273.15")


def parse_quantity(text: str, unit: str, *, plausible: tuple[float, float] | None = None,
                   name: str | None = None, bare_ok: bool = True, ranges_ok: bool = True) -> Quantity:
    """The quantity that `text` states, in `unit`.

    A number without unit is taken in `unit` if `bare_ok`, but never for a temperature or a mass per
    area; a range gives low and high with the middle as value if `ranges_ok`. `plausible` is the
    lowest and highest value accepted, in `unit`; `name` says in messages where the text came from.
    Gallons, pints, quarts and fluid ounces are US unless `imp` is said. Raises InputError for
    whatever is not understood as a whole.
    """
    dimension, target = find_unit(unit)
    wanted = Wanted(text.strip()[: 4 * LENGTH_LIMIT], target, dimension, name)
    sides = read_sides(text, wanted)
    if len(sides) > 1 and not ranges_ok:
        raise wanted.refuse("is a range, a single value is wanted")
    _refuse_bare(sides, wanted, bare_ok)
    if dimension.name == "count":
        _refuse_uncountable(sides, wanted)
    values, systems = zip(*(_measure(side, sides[-1], wanted) for side in sides), strict=True)
    _check(values, wanted, plausible)
    middle = Fraction(values[0] + values[-1]) / 2
    if dimension.name == "count":
        middle = Fraction(floor(middle + Fraction(1, 2)))
    return Quantity(float(middle), float(values[0]), float(values[-1]), unit, wanted.typed, systems[-1])


def _refuse_bare(sides: tuple[Side, ...], wanted: Wanted, bare_ok: bool) -> None:
    if not sides[-1].bare:
        return
    if not sides[0].bare:
        raise wanted.refuse("is not understood: the second number has no unit")
    if wanted.bare_refused or not bare_ok:
        raise wanted.without_unit()
    # `1/2` alone, asked in mm, nearly always means half an inch.
    both_systems = {unit.system for unit in wanted.dimension.units} >= {"metric", "us"}
    if wanted.unit.system == "metric" and both_systems and any(side.parts[0].stroke for side in sides):
        raise wanted.refuse("has no unit, and fractions are mostly inches, ounces or pounds")


def _refuse_uncountable(sides: tuple[Side, ...], wanted: Wanted) -> None:
    for side in sides:
        if side.bare and side.parts[0].number.denominator != 1:
            raise wanted.refuse("is not a whole number")


def _measure(side: Side, last: Side, wanted: Wanted) -> tuple[Fraction, System]:
    """The side's value in the wanted unit; a first number without unit takes the last one's."""
    if side.bare and last.bare:
        return side.sign * side.parts[0].number, "none"
    if side.bare and len(last.parts) > 1:
        raise wanted.refuse("is not understood: the first number has no unit")
    texts = [last.parts[-1].unit] if side.bare else [part.unit for part in side.parts]
    units = [_unit(text, len(texts) > 1, wanted) for text in texts]
    if len(units) > 1:
        _refuse_disorder(side, units, wanted)
    total = side.sign * sum(part.number * unit.factor for part, unit in zip(side.parts, units, strict=True))
    base = total + units[0].offset
    return (base - wanted.unit.offset) / wanted.unit.factor, units[0].system


def _unit(text: str, in_compound: bool, wanted: Wanted) -> Unit:
    if not text:
        raise wanted.refuse("is not understood: every number needs its unit, and a space cannot stand in one")
    key = unit_key(text)
    # After hours nobody writes metres: `1h30m`.
    if in_compound and wanted.dimension.name == "time" and key == "m":
        key = "min"
    unit = keys_of(wanted.dimension).get(key)
    if unit is None:
        raise wanted.unit_refused(text)
    return unit


def _refuse_disorder(side: Side, units: list[Unit], wanted: Wanted) -> None:
    if not wanted.dimension.compound or len({unit.system for unit in units}) > 1:
        raise wanted.refuse("is not understood as one quantity")
    if any(part.number.denominator != 1 for part in side.parts[:-1]):
        raise wanted.refuse("is not understood: only the last number may have a fraction")
    for bigger, smaller, part in zip(units, units[1:], side.parts[1:], strict=False):
        if smaller.factor >= bigger.factor:
            raise wanted.refuse("is not in falling order: the larger unit comes first")
        if part.number * smaller.factor >= bigger.factor:
            raise wanted.refuse(f"is not understood: the smaller unit alone reaches 1 {bigger.printed}")


def _check(values: tuple[Fraction, ...], wanted: Wanted, plausible: tuple[float, float] | None) -> None:
    low, high = values[0], values[-1]
    if low > high:
        raise wanted.refuse("is a range that runs backwards", "give the lower end first")
    if plausible is not None and not (plausible[0] <= float(low) and float(high) <= plausible[1]):
        accepted = format_span(plausible[0], plausible[1], wanted.unit.symbol, "both")
        raise wanted.refuse("is outside what is accepted", f"give a value from {accepted}")
    if low < 0 and not wanted.dimension.signed and (plausible is None or plausible[0] >= 0):
        raise wanted.refuse(f"is below zero, which {wanted.dimension.noun} cannot be")
    base = low * wanted.unit.factor + wanted.unit.offset
    if wanted.dimension.name == "temperature" and base < _ABSOLUTE_ZERO_C:
        raise wanted.refuse("is below the lowest temperature there is")
