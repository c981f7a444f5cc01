"""Numbers as they are read off a scale, a tape and a clock."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

_INCH_TOLERANCE = 0.06
# Below each size in inches, the fraction of an inch (as one over this) that a tape is read to.
_INCH_STEPS = ((1.5, 16), (6, 8), (120, 4), (float("inf"), 1))
_DAYS_FROM_MINUTES = 72 * 60
_WEEK_MIN = 7 * 24 * 60
# Below each limit, times are rounded to this many minutes.
_STEPS_MIN = ((90, 1), (180, 5), (600, 15), (1440, 30), (float("inf"), 60))


@dataclass(frozen=True)
class Shown:
    """A number and its unit as printed; the unit is empty where it stands within the number."""

    number: str
    unit: str = ""

    def __str__(self) -> str:
        return f"{self.number} {self.unit}".strip()


def rounded(value: float, figures: int = 3) -> str:
    """At most `figures` figures, no trailing zeros, never with an exponent."""
    text = f"{Decimal(f'{value:.{figures - 1}e}'):f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text in ("-0", "0") else text


def _half_up(value: float) -> int:
    return int(Decimal(value).quantize(Decimal(1), ROUND_HALF_UP))


def us_length(inches: float) -> Shown:
    """Inches as a tape is read, the longer the coarser; feet from 24 in; decimals where that is more than 6 % off."""
    size, sign = abs(inches), "-" if inches < 0 else ""
    step = next(step for limit, step in _INCH_STEPS if size < limit)
    sixteenths = _half_up(size * step) * 16 // step
    if sixteenths < 2 or abs(sixteenths / 16 - size) > _INCH_TOLERANCE * size:
        return Shown(rounded(round(inches, 3) if size >= 0.01 else inches, 3 if size >= 0.01 else 2), "in")
    feet, rest = divmod(sixteenths, 12 * 16)
    if sixteenths < 24 * 16:
        return Shown(sign + _mixed(sixteenths), "in")
    return Shown(f"{sign}{feet} ft" + (f" {_mixed(rest)} in" if rest else ""))


def _mixed(sixteenths: int) -> str:
    whole, rest = divmod(sixteenths, 16)
    return " ".join([*([str(whole)] if whole else []), *([str(Fraction(rest, 16))] if rest else [])])


def clock_time(minutes: float) -> Shown:
    """Seconds, minutes, hours and minutes; from 72 h quarters of days, from a week whole days."""
    size, sign = abs(minutes), "-" if minutes < 0 else ""
    if 0 < size < 1:
        return Shown(rounded(minutes * 60), "s")
    if size < 59.5:
        return Shown(rounded(minutes) if size < 5 else f"{sign}{_half_up(size)}", "min")
    step = next(step for limit, step in _STEPS_MIN if size < limit)
    total = _half_up(size / step) * step
    if total < _DAYS_FROM_MINUTES:
        hours, rest = divmod(total, 60)
        return Shown(f"{sign}{hours} h" + (f" {rest} min" if rest else ""))
    step = 6 if size < _WEEK_MIN else 24
    days, hours = divmod(_half_up(size / 60 / step) * step, 24)
    return Shown(f"{sign}{days} days" + (f" {hours} h" if hours else ""))
