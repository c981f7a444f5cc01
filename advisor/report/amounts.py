"""Numbers of the advice in words for the bench."""

from __future__ import annotations

from math import ceil, floor

from advisor.consultation.advice import Batch, CheckLine, Quantity
from advisor.consultation.records import packs_in
from advisor.report import phrases
from advisor.units import Systems, format_quantity, format_range

# What lies between two temperatures is not itself a temperature: 5 C of margin is 9 F, not 41 F.
_DIFFERENCES = {"C": "K", "kelvin": "K", "F": "delta_F"}
_ROUNDING = 1e-9
_WIDE_SHARE = 0.5
_FEW_MINUTES = 5


def how_much(quantity: Quantity, system: Systems) -> str:
    """The amount with its range, or `as needed`."""
    if quantity.amount is None:
        return phrases.AS_NEEDED
    low, high = (quantity.amount if end is None else end for end in (quantity.low, quantity.high))
    return format_range(low, quantity.amount, high, quantity.unit, packs_in(quantity.unit, system), reckoned=True)


def to_buy(quantity: Quantity, system: Systems) -> str:
    """The packs, else the high end of the amount, whole pieces rounded up."""
    high = quantity.amount if quantity.high is None else quantity.high
    if quantity.packs or high is None:
        return quantity.packs or phrases.AS_NEEDED
    high = ceil(high - _ROUNDING) if quantity.unit == "count" else high
    return format_quantity(high, quantity.unit, packs_in(quantity.unit, system), reckoned=True)


def at_the_bench(value: float, unit: str, system: Systems) -> str:
    """A measured or reckoned value no finer than it can be read off; a share is in parts of a hundred."""
    scale, unit = _as_share(unit)
    return format_quantity(value * scale, unit, system, reckoned=True)


def _as_share(unit: str) -> tuple[float, str]:
    return (100, "percent") if unit == "fraction" else (1, unit)


def check_cells(check: CheckLine, system: Systems) -> tuple[str, ...]:
    """Name, value, limit with its sense, what is to spare, and the word for the margin.

    A value that would read like its limit and is not it is shown in full; of a share that may be anything, only that.
    """
    value, limit = (at_the_bench(number, check.unit, system) for number in (check.value, check.limit))
    if value == limit and check.margin:
        value, limit = (_in_full(number, check.unit, system) for number in (check.value, check.limit))
    spare = _spare(check, system)
    if _tells_nothing(check):
        value, spare = phrases.BETWEEN.format(low=_in_words(check.low), high=_in_words(check.high)), phrases.NOT_SURE
    verdict = phrases.NOT_TAKEN if check.not_taken else phrases.MARGIN[check.verdict]
    return (check.name, value, f"{phrases.BOUND[check.bound]} {limit}", spare, verdict)


def _in_full(value: float, unit: str, system: Systems) -> str:
    scale, unit = _as_share(unit)
    return format_quantity(value * scale, unit, system)


def _tells_nothing(check: CheckLine) -> bool:
    """Whether a share of something spans half of it or more and may well be too little."""
    return (check.unit == "fraction" and check.bound == "at_least" and check.straddles
            and check.high <= 1 and check.high - check.low >= _WIDE_SHARE)


def _in_words(share: float) -> str:
    return min(phrases.SHARES, key=lambda named: abs(named[0] - share))[1]


def check_range(check: CheckLine, system: Systems) -> str:
    """Between what the value and its limit may lie."""
    value = _ranging(check.low, check.value, check.high, check.unit, system)
    limit = _ranging(check.limit_low, check.limit, check.limit_high, check.unit, system)
    return f"{value}, against {phrases.BOUND[check.bound]} {limit}."


def _ranging(low: float, likely: float, high: float, unit: str, system: Systems) -> str:
    scale, unit = _as_share(unit)
    return format_range(scale * low, scale * likely, scale * high, unit, system, reckoned=True)


def _spare(check: CheckLine, system: Systems) -> str:
    shown = at_the_bench(abs(check.margin), _DIFFERENCES.get(check.unit, check.unit), system)
    return f"{phrases.SHORT} {shown}" if check.margin < 0 else shown


def batch_cells(batch: Batch, system: Systems) -> tuple[str, ...]:
    """Number, mass, start after the first batch, and the two times that count from its own mixing."""
    times = (batch.start_min, batch.place_within_min, batch.stop_at_min)
    return (str(batch.number), format_quantity(batch.mass_kg, "kg", system, reckoned=True),
            *(format_quantity(_no_later(minutes), "min", system) for minutes in times))


def _no_later(minutes: float) -> float:
    """A few minutes to the half minute before, as a cup is put away sooner and never later."""
    return floor(2 * minutes) / 2 if minutes < _FEW_MINUTES else minutes


def cell(value: object) -> str:
    """A cell of a computed list, already in words where it has a unit."""
    if value is None:
        return "-"
    if isinstance(value, float):
        return format_quantity(value, "count")
    return str(value)
