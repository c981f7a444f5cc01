"""Numbers of the rules folder: read once, with their unit and range."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from advisor.errors import AdvisorError
from advisor.knowledge.model import NumberText
from advisor.units import convert, known_unit, same_dimension

NO_UNIT = "fraction"
PLAIN_UNITS = frozenset({NO_UNIT, "count"})
_WRITTEN = re.compile(r"^([-+]?[0-9]+(?:\.[0-9]+)?)\s*(.*)$")


@dataclass(frozen=True)
class Number:
    """A number with its range (low <= value <= high) in one unit."""

    value: float
    low: float
    high: float
    unit: str

    @property
    def is_range(self) -> bool:
        """Whether low and high differ."""
        return self.low != self.high

    def in_unit(self, unit: str) -> Number:
        """The same number in another unit of its dimension."""
        if unit == self.unit:
            return self
        if {unit, self.unit} <= PLAIN_UNITS:
            return Number(self.value, self.low, self.high, unit)
        low, value, high = (convert(x, self.unit, unit) for x in (self.low, self.value, self.high))
        return Number(value, min(low, high), max(low, high), unit)


class NumberError(ValueError):
    """A number in the rules folder that cannot be read; the text says why, `help` what to write."""

    def __init__(self, why: str, help: str | None = None) -> None:
        super().__init__(why)
        self.help = help


def exact(value: float, unit: str) -> Number:
    """A number without a range."""
    return Number(value, value, value, unit)


def _read_one(text: str, unit: str | None) -> tuple[float, str]:
    match = _WRITTEN.match(text.strip())
    if not match:
        raise NumberError(f"`{text}` is not a number", "write it like `3 mm` or `0.5`")
    written = known_unit(match[2]) if match[2] else (unit or NO_UNIT)
    if written is None:
        raise NumberError(f"`{match[2]}` is not a unit",
                          "write one such as `mm`, `g/m2` or `C`; none where there is none")
    value = float(match[1])
    if unit is None or written == unit:
        return value, written
    try:
        if not same_dimension(written, unit):
            raise NumberError(f"`{text}` is in the wrong kind of unit", f"`{unit}` is wanted")
        return convert(value, written, unit), unit
    except AdvisorError as error:
        raise NumberError(error.what, error.help) from error


def read_number(text: NumberText, unit: str | None) -> Number:
    """Read a number or range; without `unit` the unit written decides.

    Raises:
        NumberError: not a number, not a unit, wrong kind of unit, or low, likely and high out of order.
    """
    given = {name: _read_one(part, unit) for name in ("low", "likely", "high")
             if (part := getattr(text, name)) is not None}
    if not given:
        raise NumberError("no number is given", "write `likely`, or `low` and `high`")
    if len({found for _, found in given.values()}) > 1:
        raise NumberError("low, likely and high are in different units", "write all of them in one unit")
    found = next(iter(given.values()))[1]
    values = {name: value for name, (value, _) in given.items()}
    low = values.get("low", values.get("likely", values.get("high", 0.0)))
    high = values.get("high", values.get("likely", low))
    likely = values.get("likely", (low + high) / 2)
    if not (low <= likely <= high) or not all(map(math.isfinite, (low, high))):
        raise NumberError(f"low {low:g}, likely {likely:g} and high {high:g} are not in order",
                          "low comes first, high last")
    return Number(likely, low, high, found)
