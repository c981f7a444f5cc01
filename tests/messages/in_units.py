"""What makes a quantity unreadable."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path

from advisor.units import convert, parse_quantity
from tests.messages.causes import Cause

_TYPED: tuple[tuple[str, str, str, dict[str, object]], ...] = (
    ("a range where one value is wanted", "1..2 mm", "mm", {"ranges_ok": False}),
    ("a range whose second number has no unit", "1 mm..2", "mm", {}),
    ("a bare number where a unit must be said", "3", "mm", {"bare_ok": False}),
    ("a temperature without C or F", "20", "C", {}),
    ("degrees without C or F", "20 deg", "C", {}),
    ("a bare fraction, which mostly means inches", "1/2", "mm", {}),
    ("half of what is counted", "1.5", "count", {}),
    ("a range whose first number has no unit while the second has two", "1..2 ft 3 in", "mm", {}),
    ("a number without unit among others with", "10 ft 6", "mm", {}),
    ("grams in two parts of different systems", "1 lb 3 g", "g", {}),
    ("a fraction in a number that is not the last", "1.5 ft 3 in", "mm", {}),
    ("the smaller unit first", "3 in 1 ft", "mm", {}),
    ("a smaller unit that reaches the larger", "1 ft 13 in", "mm", {}),
    ("a range that runs backwards", "3..2 mm", "mm", {}),
    ("outside what is accepted", "300 mm", "mm", {"plausible": (0, 150)}),
    ("below zero", "-3 mm", "mm", {}),
    ("below the lowest temperature there is", "-500 C", "C", {}),
    ("nothing typed", "  ", "mm", {}),
    ("far too much typed", "1" * 61, "mm", {}),
    ("a clock time for a duration", "1:30", "min", {}),
    ("a colon in a length", "1:30", "mm", {}),
    ("words that are no quantity", "wide", "mm", {}),
    ("a division by zero", "1/0 in", "mm", {}),
    ("an improper mixed number", "1 3/2 in", "mm", {}),
    ("a comma that could mark thousands", "1,200 mm", "mm", {}),
    ("two decimal points", "1.2.3 mm", "mm", {}),
    ("an exponent beyond reason", "1e99 mm", "mm", {}),
    ("a number beyond reason", "9999999999999999 mm", "mm", {}),
    ("ounces without the area they cover", "6 oz", "g/m2", {}),
    ("a unit of something else", "3 kg", "mm", {}),
    ("a unit nobody knows", "3 furlong", "mm", {}),
)


def _parsed(text: str, unit: str, options: dict[str, object], folder: Path) -> object:
    read: Callable[..., object] = parse_quantity
    return read(text, unit, **options)


CAUSES = [
    *(Cause(said, partial(_parsed, text, unit, options)) for said, text, unit, options in _TYPED),
    Cause("a length converted to a mass", lambda folder: convert(1, "mm", "kg")),
    Cause("a conversion to a unit nobody knows", lambda folder: convert(1, "mm", "furlong")),
]
