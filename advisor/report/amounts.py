"""Numbers of the advice in words for the bench."""

from __future__ import annotations

from math import ceil, isclose

from advisor.consultation.advice import Batch, CheckLine, Quantity
from advisor.report import phrases
from advisor.units import Systems, format_quantity, format_range

# What lies between two temperatures is not itself a temperature: 5 C of margin is 9 F, not 41 F.
_DIFFERENCES = {"C": "K", "kelvin": "K", "F": "delta_F"}
_ROUNDING = 1e-9


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


def check_cells(check: CheckLine, system: Systems) -> tuple[str, ...]:
    """Name, value, limit with its sense, what is to spare, and the word for the margin."""
    return (check.name, format_quantity(check.value, check.unit, system), _limit(check, system),
            _spare(check, system), phrases.MARGIN[check.verdict])


def _limit(check: CheckLine, system: Systems) -> str:
    shown = format_quantity(check.limit, check.unit, system)
    if check.value == check.limit:
        return shown
    least = isclose(check.margin, check.value - check.limit, rel_tol=1e-6)
    return f"{phrases.AT_LEAST if least else phrases.AT_MOST} {shown}"


def _spare(check: CheckLine, system: Systems) -> str:
    unit = _DIFFERENCES.get(check.unit, check.unit)
    shown = format_quantity(abs(check.margin), unit, system)
    return f"{phrases.SHORT} {shown}" if check.margin < 0 else shown


def batch_cells(batch: Batch, system: Systems) -> tuple[str, ...]:
    """Number, mass, start after the first batch, and the two times that count from its own mixing."""
    times = (batch.start_min, batch.place_within_min, batch.stop_at_min)
    return (str(batch.number), format_quantity(batch.mass_kg, "kg", system),
            *(format_quantity(minutes, "min", system) for minutes in times))


def cell(value: object) -> str:
    """A cell of a computed list, already in words where it has a unit."""
    if value is None:
        return "-"
    if isinstance(value, float):
        return format_quantity(value, "count")
    return str(value)
