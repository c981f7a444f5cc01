"""The numbers of a job as drawings ask for them."""

from __future__ import annotations

from advisor.consultation.advice import Advice
from advisor.units import convert
from advisor.units.present import format_quantity

FACTORS = (1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50)


class Job:
    """An advice with its numbers by fact, in mm and mL, and lengths written in the person's units."""

    def __init__(self, advice: Advice) -> None:
        self.advice = advice
        self.drawn = advice.drawn

    def mm(self, fact: str) -> float | None:
        """A length in mm; None when not known."""
        return self._in(fact, "mm")

    def volume_mL(self, fact: str) -> float | None:
        """A volume in mL; None when not known."""
        return self._in(fact, "mL")

    def count(self, fact: str) -> int | None:
        """A whole number."""
        found = self.drawn.numbers.get(fact)
        return round(found.likely) if found else None

    def is_(self, fact: str, word: str) -> bool:
        """Whether a fact has that word."""
        return self.drawn.words.get(fact) == word

    def _in(self, fact: str, unit: str) -> float | None:
        found = self.drawn.numbers.get(fact)
        return convert(found.likely, found.unit, unit) if found else None

    def said(self, length_mm: float) -> str:
        """A length as the person measures."""
        return format_quantity(length_mm, "mm", self.advice.units)

    def temperature(self, value_C: float) -> str:
        """A temperature as the person reads it."""
        return format_quantity(value_C, "C", self.advice.units)


def factor_for(scale: float, thickness_mm: float, room: float) -> int:
    """The largest of the round factors by which thickness may be drawn within the room."""
    return max((one for one in FACTORS if one * scale * thickness_mm <= room), default=1)


def times(factor: int, what: str) -> str:
    """How a scale differs from true."""
    return "Drawn to scale." if factor == 1 else f"{what} drawn {factor} times."
