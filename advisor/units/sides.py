"""What was typed, taken apart into signs, numbers and the texts of their units."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from advisor.errors import InputError
from advisor.units.number import UnreadableNumberError, read_number, spell_fractions
from advisor.units.refusals import Wanted
from advisor.units.spelling import plain

LENGTH_LIMIT = 60
_ABOUT = re.compile(r"(?:about|around|roughly|approximately|approx\.?|circa|ca\.?|~|≈)\s*(?=[-+0-9.])")
_SEPARATOR = re.compile(r"\s*(?:\.{2,3}|…|–|—|(?<![a-z])to(?![a-z]))\s*")
_LEADING_DASH = re.compile(r"^[–—](?=\s*[0-9.])")
_FEET_DASH = re.compile(r"('|ft\.?|feet|foot)-(?=[0-9][0-9 ./-]*(?:\"|in))")
_UNIT = re.compile(
    r"(?:\s*[x*]?\s*(?:10\s*\^?\s*-\s*6|1?e-0?6)\s*(?=/|per))?"
    r"(?:[a-z°%'\"/()*]|(?<=[a-z])\.(?![0-9])|\^|(?<=[a-z^*])[234](?![0-9a-z])|\s)*")
_SIGN = re.compile(r"\s*([-+]?)\s*")
_CLOCK = re.compile(r"[0-9]+:[0-9]+(?::[0-9]+)?")


@dataclass(frozen=True)
class Part:
    """A number, the text of its unit, and whether the number had a fraction stroke."""

    number: Fraction
    unit: str
    stroke: bool


@dataclass(frozen=True)
class Side:
    """One end of a range, or the whole: a sign and parts such as 10 ft, 6 in."""

    sign: int
    parts: tuple[Part, ...]

    @property
    def bare(self) -> bool:
        """Whether it is one number without a unit."""
        return len(self.parts) == 1 and not self.parts[0].unit


def read_sides(text: str, wanted: Wanted) -> tuple[Side, ...]:
    """The one side of a single value, or the two of a range; InputError when anything is left over."""
    if not text.strip():
        raise InputError("nothing was given", wanted.where, wanted.expected())
    if len(text.strip()) > LENGTH_LIMIT:
        raise wanted.refuse(f"is longer than {LENGTH_LIMIT} characters")
    flat = _FEET_DASH.sub(r"\1 ", _LEADING_DASH.sub("-", spell_fractions(plain(text))))
    flat = _ABOUT.sub("", flat, count=1) if _ABOUT.match(flat) else flat
    if _CLOCK.fullmatch(flat):
        raise _clock(wanted)
    try:
        return _split(flat, wanted)
    except UnreadableNumberError as unreadable:
        raise wanted.refuse(f"is {unreadable}", unreadable.help) from None


def _clock(wanted: Wanted) -> InputError:
    if wanted.dimension.name == "time":
        return wanted.refuse("is ambiguous: hours and minutes, or minutes and seconds",
                             "write for instance `1 h 30 min` or `90 s`")
    return wanted.refuse("is not understood: a colon is not used here")


def _split(flat: str, wanted: Wanted) -> tuple[Side, ...]:
    pieces = _SEPARATOR.split(flat)
    first, end = _read_side(pieces[0], 0)
    if len(pieces) == 1 and flat[end:end + 1] == "-":
        pieces = [flat[:end], flat[end + 1:]]
    ends, sides = [end], [first]
    for piece in pieces[1:]:
        side, end = _read_side(piece, 0)
        sides.append(side)
        ends.append(end)
    understood = ends == [len(piece) for piece in pieces] and all(side.parts for side in sides)
    if not understood or len(sides) > 2:
        raise wanted.refuse("is not understood")
    return tuple(sides)


def _read_side(text: str, start: int) -> tuple[Side, int]:
    opening = _SIGN.match(text, start)
    sign, at = (-1 if opening and opening[1] == "-" else 1), (opening.end() if opening else start)
    parts: list[Part] = []
    # `10 ft.5 in` has two readings, so only the first number may begin with a point.
    while (not parts or text[at:at + 1] != ".") and (number := read_number(text, at)):
        found = _UNIT.match(text, number.end)
        at = found.end() if found else number.end
        parts.append(Part(number.value, text[number.end:at].strip(), number.stroke))
    return Side(sign, tuple(parts)), at
