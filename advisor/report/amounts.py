"""Numbers of the advice in words for the bench."""

from __future__ import annotations

from math import ceil, floor

from advisor.consultation.advice import Batch, CheckLine, Quantity
from advisor.report import phrases
from advisor.units import Systems, format_quantity, format_range

# What lies between two temperatures is not itself a temperature: 5 C of margin is 9 F, not 41 F.
_DIFFERENCES = {"C": "K", "kelvin": "K", "F": "delta_F"}
_ROUNDING = 1e-9
_WHOLE_MINUTES_FROM = 5


def how_much(quantity: Quantity, system: Systems) -> str:
    """The amount with its range, or `as needed`."""
    if quantity.amount is None:
        return phrases.AS_NEEDED
    low, high = (quantity.amount if end is None else end for end in (quantity.low, quantity.high))
    return format_range(low, quantity.amount, high, quantity.unit, system)


def to_buy(quantity: Quantity, system: Systems) -> str:
    """The packs, else the high end of the amount, whole pieces rounded up."""
    high = quantity.amount if quantity.high is None else quantity.high
    if quantity.packs or high is None:
        return quantity.packs or phrases.AS_NEEDED
    return format_quantity(ceil(high - _ROUNDING) if quantity.unit == "count" else high, quantity.unit, system)


def at_the_bench(value: float, unit: str, system: Systems) -> str:
    """A measured or reckoned value without figures that nobody can read off a clock or a thermometer.

    Minutes are whole from 5 on, degrees have one decimal, and a share is in parts of a hundred.
    """
    if unit == "min" and abs(value) >= _WHOLE_MINUTES_FROM:
        value = floor(value + 0.5)
    elif unit in _DIFFERENCES or unit in _DIFFERENCES.values():
        value = round(value, 1)
    elif unit == "fraction":
        value, unit = value * 100, "percent"
    return format_quantity(value, unit, system)


def check_cells(check: CheckLine, system: Systems) -> tuple[str, ...]:
    """Name, value, limit with its sense, what is to spare, and the word for the margin."""
    return (check.name, at_the_bench(check.value, check.unit, system),
            f"{phrases.BOUND[check.bound]} {at_the_bench(check.limit, check.unit, system)}",
            _spare(check, system), phrases.MARGIN[check.verdict])


def check_range(check: CheckLine, system: Systems) -> str:
    """Between what the value and its limit may lie."""
    value = format_range(check.low, check.value, check.high, check.unit, system)
    limit = format_range(check.limit_low, check.limit, check.limit_high, check.unit, system)
    return f"{value}, against {phrases.BOUND[check.bound]} {limit}."


def _spare(check: CheckLine, system: Systems) -> str:
    shown = at_the_bench(abs(check.margin), _DIFFERENCES.get(check.unit, check.unit), system)
    return f"{phrases.SHORT} {shown}" if check.margin < 0 else shown


def batch_cells(batch: Batch, system: Systems) -> tuple[str, ...]:
    """Number, mass, start after the first batch, and the two times that count from its own mixing."""
    times = (batch.start_min, batch.place_within_min, batch.stop_at_min)
    return (str(batch.number), format_quantity(batch.mass_kg, "kg", system),
            *(at_the_bench(minutes, "min", system) for minutes in times))


def cell(value: object) -> str:
    """A cell of a computed list, already in words where it has a unit."""
    if value is None:
        return "-"
    if isinstance(value, float):
        return format_quantity(value, "count")
    return str(value)
