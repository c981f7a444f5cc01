"""The numbers of a job as drawings ask for them: by part and measure, as the rules named them."""

from __future__ import annotations

from advisor.consultation.advice import Advice
from advisor.units import convert
from advisor.units.present import format_quantity

FACTORS = (1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50)


class Job:
    """An advice with the parts that its rules have drawn, measures in mm and mL, and lengths in the person's units."""

    def __init__(self, advice: Advice) -> None:
        self.advice = advice
        self.drawn = advice.drawn
        self._parts = {part.part: part for part in reversed(advice.drawn.parts)}  # the first that is named counts

    def has(self, part: str) -> bool:
        """Whether the rules name that part."""
        return part in self._parts

    def mm(self, part: str, measure: str) -> float | None:
        """A length in mm; None when the part is not drawn or the measure not known."""
        return self.in_unit(part, measure, "mm")

    def in_unit(self, part: str, measure: str, unit: str) -> float | None:
        """A measure in a unit; None when the part is not drawn or the measure not known."""
        found = self._parts[part].measures.get(measure) if part in self._parts else None
        return convert(found.likely, found.unit, unit) if found else None

    def count(self, part: str, measure: str) -> int:
        """A whole number; none of them when not known."""
        found = self._parts[part].measures.get(measure) if part in self._parts else None
        return round(found.likely) if found else 0

    def key(self, part: str) -> str:
        """What the rules say of a part, for the key; nothing where they say nothing."""
        return (self._parts[part].say or "") if part in self._parts else ""

    @property
    def notes(self) -> list[str]:
        """What the rules say beside the section."""
        return [part.say for part in self.drawn.parts if part.part == "note" and part.say]

    def said(self, value: float, unit: str = "mm") -> str:
        """A length, or what has another unit, as the person measures."""
        return format_quantity(value, unit, self.advice.units)

    def temperature(self, value_C: float) -> str:
        """A temperature as the person reads it."""
        return format_quantity(value_C, "C", self.advice.units)


def factor_for(scale: float, thickness_mm: float, room: float) -> int:
    """The largest of the round factors by which thickness may be drawn within the room."""
    return max((one for one in FACTORS if one * scale * thickness_mm <= room), default=1)


def times(factor: int, what: str) -> str:
    """How a scale differs from true."""
    return "Drawn to scale." if factor == 1 else f"{what} drawn {factor} times."
