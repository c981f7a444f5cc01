"""What is said to somebody whose quantity cannot be used."""

from __future__ import annotations

import re
from dataclasses import dataclass

from advisor.errors import InputError, quoted
from advisor.units.catalogue import Dimension, Unit
from advisor.units.spelling import dimension_with, near_spelling, unit_key

# Said when a spelling that means something else elsewhere is typed for a dimension.
_SPECIAL = {
    ("areal mass", "oz"): ("does not say of what area: mat is sold by oz/ft2, cloth by oz/yd2",
                           "say per ft2 or per yd2: nine times apart"),
    ("mass", "t"): ("is ambiguous: a ton is 907, 1000 or 1016 kg", "give it in kg or lb"),
    ("volume", "oz"): ("is a mass, a volume is wanted", "for ounces by volume write `fl oz`"),
    ("time", "m"): ("is a length, a time is wanted", "for minutes write `min`"),
}
_BARE = {
    "areal mass": ("has no unit", "say g/m2, oz/ft2 or oz/yd2: the ounces are nine times apart"),
    "temperature": ("does not say °C or °F", "write for instance `20 C` or `68 F`"),
    "temperature difference": ("does not say °C or °F", "write for instance `10 C` or `18 F`"),
}


@dataclass(frozen=True)
class Wanted:
    """What a question wants, and what was typed for it."""

    typed: str
    unit: Unit
    dimension: Dimension
    where: str | None

    def refuse(self, why: str, help: str | None = None) -> InputError:
        """`why` continues the sentence that begins with what was typed."""
        return InputError(f"{quoted(self.typed)} {why}", self.where, help or self.expected())

    def expected(self) -> str:
        """What to type, with an example."""
        return f"give {self.dimension.noun}, for instance {self.dimension.example}"

    @property
    def bare_refused(self) -> bool:
        """Whether a number without unit would be a guess."""
        return self.dimension.name in _BARE

    def without_unit(self) -> InputError:
        """The unit is missing."""
        return self.refuse(*_BARE.get(self.dimension.name, ("has no unit", None)))

    def unit_refused(self, text: str) -> InputError:
        """Another dimension's unit, a unit that needs care, or no unit at all."""
        key = unit_key(text)
        # `1 1/2 oz mat` names no area either.
        first = "oz" if re.match(r"oz\b[^/]*$", key) and self.dimension.name == "areal mass" else key
        special = _SPECIAL.get((self.dimension.name, first))
        if special:
            return self.refuse(*special)
        if key == "deg" and self.bare_refused:
            return self.without_unit()
        other = dimension_with(key)
        if other is not None:
            return InputError(f"{quoted(self.typed)} is {other.noun}, {self.dimension.noun} is wanted",
                              self.where, self.expected())
        # A near match among ounces per foot or per yard would guess by a factor of nine.
        close = None if self.dimension.name == "areal mass" else near_spelling(key, self.dimension)
        offer = f"did you mean `{close}`; " if close else ""
        return self.refuse(f"is not understood: {quoted(text)} is not a unit known here",
                           offer + self.expected())
