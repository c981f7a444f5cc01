"""Quantities as a bench can use them: short numbers, fitting units, either system or both."""

from __future__ import annotations

from math import inf, isfinite
from typing import Literal

from advisor.units.bench import Shown, clock_time, rounded, us_length
from advisor.units.catalogue import Dimension, Unit
from advisor.units.quantity import convert
from advisor.units.reading import as_read
from advisor.units.spelling import find_unit

Systems = Literal["metric", "us", "both"]
ArealUnit = Literal["oz/yd2", "oz/ft2"]

# The unit to print in and the size, in that unit, from which the next one takes over. Small masses and volumes
# stay metric in both systems: the scale and the syringe for resin and catalyst show grams and millilitres.
_Ladder = tuple[tuple[str, float], ...]
_LADDERS: dict[tuple[str, str], _Ladder] = {
    ("length", "metric"): (("mm", 1000), ("m", inf)),
    ("area", "metric"): (("mm2", 1000), ("cm2", 1000), ("m2", inf)),
    ("area", "us"): (("in2", 144), ("ft2", inf)),
    ("volume", "metric"): (("mL", 1000), ("L", 1000), ("m3", inf)),
    ("volume", "us"): (("mL", 30), ("fl oz", 32), ("qt", 4), ("gal", 250), ("ft3", inf)),
    ("mass", "metric"): (("g", 1000), ("kg", inf)),
    ("mass", "us"): (("g", 1000), ("lb", inf)),
    ("stress", "us"): (("psi", 10000), ("ksi", inf)),
}
# Dimensions printed in the unit given if that is of the system wanted, else in these (metric, US).
_FIXED = {
    "areal mass": ("g/m2", "oz/yd2"), "temperature": ("C", "F"), "temperature difference": ("K", "delta_F"),
    "force": ("N", "lbf"), "line load": ("N/mm", "lbf/in"), "stress": ("MPa", "psi"),
    "density": ("kg/m3", "lb/ft3"), "mass rate": ("kg/min", "lb/min"), "speed": ("m/min", "ft/min"),
    "expansion": ("um/m/K", "1e-6/F"), "air flow": ("m3/h", "cfm"),
}
# A thermometer is read to whole degrees Fahrenheit; what was given in Celsius gets no decimals by being converted.
_CONVERTED_STEPS = {"F": 1.0, "delta_F": 0.5}
_UNITLESS = frozenset({"fraction", "count"})


def format_quantity(value: float, unit: str, system: Systems = "metric",
                    us_areal: ArealUnit = "oz/yd2", *, reckoned: bool = False) -> str:
    """`value` of `unit` in words for the bench: three figures at most, a unit that fits the size.

    Lengths in US units are in sixteenths of an inch, or in decimals where a sixteenth would be more
    than 6 % off. `both` puts the US one in brackets. A `reckoned` number is printed no finer than it can be read
    off (`reading.py`). ValueError when the value is not finite.
    """
    return _both(*(str(_show(value, abs(value), unit, one, us_areal, reckoned)) for one in _systems(system)))


def format_span(low: float, high: float, unit: str, system: Systems = "metric",
                us_areal: ArealUnit = "oz/yd2", *, reckoned: bool = False) -> str:
    """`1.2 to 1.6 kg`, or the one value when both ends print alike."""
    shown = [_show_all((low, high), unit, one, us_areal, reckoned) for one in _systems(system)]
    return _both(*(_join(*ends) for ends in shown))


def format_range(low: float, likely: float, high: float, unit: str, system: Systems = "metric",
                 us_areal: ArealUnit = "oz/yd2", *, reckoned: bool = False) -> str:
    """`1.2 to 1.6 kg (likely 1.4)`, or the one value when all print alike."""
    shown = [_show_all((low, high, likely), unit, one, us_areal, reckoned) for one in _systems(system)]
    span = _both(*(_join(*ends) for *ends, _ in shown))
    middle = _both(*(str(between) for *_, between in shown))
    if all(len(set(each)) == 1 for each in shown):
        return middle
    if system == "both":
        return f"{span}, likely {middle}"
    return f"{span} (likely {shown[0][2].number if len({one.unit for one in shown[0]}) == 1 else middle})"


def _show_all(values: tuple[float, ...], unit: str, system: Literal["metric", "us"],
              us_areal: ArealUnit, reckoned: bool) -> list[Shown]:
    """The values in one unit, the one that suits the largest."""
    largest = max(map(abs, values))
    return [_show(value, largest, unit, system, us_areal, reckoned) for value in values]


def _systems(system: Systems) -> tuple[Literal["metric", "us"], ...]:
    return ("metric", "us") if system == "both" else (system,)


def _both(first: str, second: str | None = None) -> str:
    return first if second is None or second == first else f"{first} ({second})"


def _join(low: Shown, high: Shown) -> str:
    if low == high:
        return str(high)
    return f"{low.number if low.unit == high.unit else low} to {high}"


def _show(value: float, largest: float, unit: str, system: Literal["metric", "us"],
          us_areal: ArealUnit, reckoned: bool) -> Shown:
    """`value`, in the unit that suits `largest` when several values stand side by side."""
    if not (isfinite(value) and isfinite(largest)):
        raise ValueError(f"not a finite quantity: {value} {unit}")
    dimension, given = find_unit(unit)
    if dimension.name == "time":
        return clock_time(_told(convert(value, unit, "min"), "min", dimension, reckoned))
    if dimension.name == "length" and system == "us":
        return us_length(_told(convert(value, unit, "in"), "in", dimension, reckoned))
    target = _target(dimension, given, largest, system, us_areal)
    shown = _told(convert(value, unit, target.symbol), target.symbol, dimension, reckoned)
    if step := _CONVERTED_STEPS.get(target.symbol) if target.symbol != given.symbol else None:
        shown = round(shown / step) * step
    return Shown(_figures(shown, dimension),
                  "" if target.symbol in _UNITLESS else target.printed)


def _told(value: float, symbol: str, dimension: Dimension, reckoned: bool) -> float:
    return as_read(value, symbol, dimension.name) if reckoned else value


def _target(dimension: Dimension, given: Unit, largest: float, system: str, us_areal: ArealUnit) -> Unit:
    if ladder := _LADDERS.get((dimension.name, system)):
        return find_unit(_rung(ladder, given.symbol, largest))[1]
    if given.system == system or dimension.name not in _FIXED:
        return given
    metric, us = _FIXED[dimension.name]
    us = us_areal if dimension.name == "areal mass" else us
    return find_unit(metric if system == "metric" else us)[1]


def _rung(ladder: _Ladder, symbol: str, largest: float) -> str:
    return next(rung for rung, limit in ladder if convert(largest, symbol, rung) < limit)


def _figures(value: float, dimension: Dimension) -> str:
    if dimension.name == "count" and value.is_integer():
        return str(int(value))
    if dimension.name == "temperature" and abs(value) < 10:
        value = round(value, 1)
    return rounded(value)
