"""Numbers as people write them: `12`, `0,5`, `1/2`, `1 1/2`, `1-1/2`, `2e-3`; exact."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

LARGEST = 10**12
_EXPONENT_LIMIT = 12
_OVER = r"([0-9]+)\s*/\s*([0-9]+)(?![0-9.,/])"
_MIXED = re.compile(rf"([0-9]+)(?:\s+|-){_OVER}")
_FRACTION = re.compile(_OVER)
_DECIMAL = re.compile(r"((?:[0-9]+|(?=\.))(?:[.,][0-9]+)*)(?:e([+-]?[0-9]+))?(?![0-9.,])")
_VULGAR = {
    "¼": "1/4", "½": "1/2", "¾": "3/4", "⅐": "1/7", "⅑": "1/9", "⅒": "1/10", "⅓": "1/3", "⅔": "2/3",
    "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5", "⅙": "1/6", "⅚": "5/6", "⅛": "1/8", "⅜": "3/8",
    "⅝": "5/8", "⅞": "7/8",
}
_VULGAR_SIGN = re.compile(f"([0-9]?)([{''.join(_VULGAR)}])")


class UnreadableNumberError(ValueError):
    """A number that cannot be read one way only; the text says why, `help` what to write."""

    def __init__(self, why: str, help: str) -> None:
        super().__init__(why)
        self.help = help


@dataclass(frozen=True)
class Read:
    """A number read, where it ended, and whether it was written with a fraction stroke."""

    value: Fraction
    end: int
    stroke: bool


def spell_fractions(text: str) -> str:
    """Fraction signs written out: `1½` is `1 1/2`."""
    return _VULGAR_SIGN.sub(lambda found: (found[1] and found[1] + " ") + _VULGAR[found[2]], text)


def read_number(text: str, start: int) -> Read | None:
    """The unsigned number at `start`, or None when there is none.

    Raises UnreadableNumberError for a thousands comma, an improper mixed number, a division by zero, and
    what is larger than 1e12.
    """
    if mixed := _MIXED.match(text, start):
        return Read(_mixed(*mixed.groups()), mixed.end(), stroke=True)
    if fraction := _FRACTION.match(text, start):
        return Read(_bounded(_ratio(*fraction.groups())), fraction.end(), stroke=True)
    if decimal := _DECIMAL.match(text, start):
        return Read(_bounded(_decimal(*decimal.groups())), decimal.end(), stroke=False)
    return None


def _ratio(above: str, below: str) -> Fraction:
    if int(below) == 0:
        raise UnreadableNumberError("a number divided by zero", "write the fraction as in `1/2`")
    return Fraction(int(above), int(below))


def _mixed(whole: str, above: str, below: str) -> Fraction:
    part = _ratio(above, below)
    if part >= 1 or int(whole) == 0:
        raise UnreadableNumberError("not a mixed number", "write `1 1/2`, or `1 to 2` for a range")
    return _bounded(int(whole) + part)


def _decimal(digits: str, exponent: str | None) -> Fraction:
    if re.fullmatch(r"[1-9][0-9]{0,2}(?:,[0-9]{3})+", digits):
        without, point = digits.replace(",", ""), digits.replace(",", ".", 1)
        offer = f"write `{without}` or `{point}`" if digits.count(",") == 1 else f"write `{without}`"
        raise UnreadableNumberError("ambiguous: the comma could mark thousands or decimals", offer)
    if digits.count(",") + digits.count(".") > 1:
        raise UnreadableNumberError("not a number with one decimal point", "write it as in `1200.5`")
    power = int(exponent or 0)
    if abs(power) > _EXPONENT_LIMIT:
        raise UnreadableNumberError("too large or too small", "write the number out, in a unit that suits it")
    return Fraction(digits.replace(",", ".")) * Fraction(10) ** power


def _bounded(value: Fraction) -> Fraction:
    if value > LARGEST:
        raise UnreadableNumberError("too large", "write the number in a unit that suits it")
    return value
