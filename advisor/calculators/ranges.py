"""What the formulas are valid for, and the error that says so."""

import math
from collections.abc import Collection, Iterable
from typing import NamedTuple

__all__ = ["UNIT_OF_SUFFIX", "OutOfRange", "Range", "require", "require_each", "require_entries", "unit_of"]

UNIT_OF_SUFFIX = {
    "_um_m_K": "um/(m K)",
    "_J_kg_K": "J/(kg K)",
    "_W_m2_K": "W/(m2 K)",
    "_kg_m3": "kg/m3",
    "_kg_m2": "kg/m2",
    "_kg_min": "kg/min",
    "_kJ_mol": "kJ/mol",
    "_per_mL": "per mL",
    "_per_mm": "1/mm",
    "_per_m": "1/m",
    "_Nmm": "N mm",
    "_per_h": "1/h",
    "_mg_m3": "mg/m3",
    "_g_mol": "g/mol",
    "_kJ_kg": "kJ/kg",
    "_W_m_K": "W/(m K)",
    "_W_m2": "W/m2",
    "_g_m2": "g/m2",
    "_g_kg": "g/kg",
    "_m3_h": "m3/h",
    "_m_min": "m/min",
    "_percent": "%",
    "_N_mm2": "N/mm2",
    "_N_mm": "N/mm",
    "_kJ_m2": "kJ/m2",
    "_degrees": "degrees",
    "_ppm": "ppm",
    "_MPa": "MPa",
    "_GPa": "GPa",
    "_kPa": "kPa",
    "_min": "min",
    "_mm2": "mm2",
    "_mm4": "mm4",
    "_g_h": "g/h",
    "_mL": "mL",
    "_mm": "mm",
    "_m3": "m3",
    "_m2": "m2",
    "_kg": "kg",
    "_Pa": "Pa",
    "_C": "°C",
    "_K": "K",
    "_L": "L",
    "_N": "N",
    "_J": "J",
    "_g": "g",
    "_h": "h",
    "_m": "m",
    "_s": "s",
}


class Range(NamedTuple):
    """The smallest and the largest value that a formula accepts, both included."""

    low: float
    high: float


class OutOfRange(ValueError):  # noqa: N818 - named as the reader would say it
    """An argument is outside the range its formula is valid for, or is not a finite number."""

    def __init__(self, argument: str, value: float, low: float, high: float, unit: str) -> None:
        """Keep argument, value, low, high and unit as attributes."""
        super().__init__(argument, value, low, high, unit)
        self.argument = argument
        self.value = value
        self.low = low
        self.high = high
        self.unit = unit

    def __str__(self) -> str:
        """Return one sentence with the value and the range, for the reader."""
        unit = f" {self.unit}" if self.unit else ""
        between = f"{_plain(self.low, 6)} and {_plain(self.high, 6)}{unit}"
        return f"`{self.argument}` is {_plain(self.value, 10)}{unit}, must be between {between}"


def unit_of(name: str) -> str:
    """Return the unit that the suffix of a name states, empty for a dimensionless one."""
    matching = (suffix for suffix in UNIT_OF_SUFFIX if name.endswith(suffix))
    return UNIT_OF_SUFFIX.get(max(matching, key=len, default=""), "")


def require(limits: Range, **arguments: float) -> None:
    """Raise OutOfRange for the first argument that is not finite or not within the limits."""
    for name, value in arguments.items():
        if not (math.isfinite(value) and limits.low <= value <= limits.high):
            raise OutOfRange(name, value, limits.low, limits.high, unit_of(name))


def require_each(limits: Range, argument: str, values: Iterable[float]) -> None:
    """Raise OutOfRange for the first of several values that is not within the limits."""
    for value in values:
        require(limits, **{argument: value})


def require_entries(argument: str, entries: Collection[object], most: int) -> None:
    """Raise OutOfRange when a list is empty or longer than `most`."""
    if not 1 <= len(entries) <= most:
        raise OutOfRange(argument, len(entries), 1, most, "entries")


def _plain(number: float, digits: int) -> str:
    text = f"{number:.{digits}g}"
    whole, point, decimals = text.partition(".")
    return f"{text}0" if point and whole in ("0", "-0") and len(decimals) == 1 else text
