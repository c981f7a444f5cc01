"""Numbers in the text of advice that stand without a unit, a thing counted, or a name that they belong to."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from advisor.consultation.advice import Advice
from advisor.units import DIMENSIONS

WORKED = ("formula", "with_numbers", "basis")
"""Sums as written out; units stand beside the result, and formulas hold plain factors."""
NOT_TEXT = frozenset({"rule", "source", "id", "question", "decision", "chosen", "close_to", "trace", "drawn", "recall",
                      "answers", "columns", "rule_base", "title", "status", "strength", "rows", *WORKED})
_UNITS = sorted({unit.symbol for dimension in DIMENSIONS for unit in dimension.units} | {
    "°C", "°F", "C", "F", "K", "%", "percent", "degrees", "MPa", "GPa", "kPa", "psi", "N mm", "N m", "N/mm", "lbf", "N",
    "mm", "cm²", "cm", "m²", "m³/h", "m³", "m", "in²", "in", "ft²", "ft", "yd", "kg/m²", "kg", "g/m²", "g/m2", "g",
    "grams", "mg/m³", "oz/yd2", "oz/ft2", "oz", "lb", "mL", "L", "US fl oz", "US gal", "ppm", "h", "min", "minutes",
    "days", "day", "hours", "s", "per h", "per mL", "US qt", "US pt"}, key=len, reverse=True)
_COUNTED = ("grit", "x", "times", "points", "more points", "batches", "sections", "parts", "drops", "plies", "fail",
            "fails", "should change", "are not told", "is not told", "are sound", "is sound", "are right in",
            "is right in")
_NAMED = re.compile(r"(?:\b[Pp]ly |\bCFR |\bPart |\bEN ISO |in N mm: [^;]*|\d : |guideline of |August "
                    r"|Values about (?:\d+ \(|\d+ \(\d+ to )?|parts of \w+ by mass: .*)$")
"""What a number is the name of, or the unit said before it: ply 1, a part of a regulation, a ratio, a year."""
_RATIO = re.compile(r"\s*: ?1\b| CFR | August 2023\b")
_YEAR = re.compile(r"\((?:[A-Z][\w ]*,? ?|as listed in )?(?:19|20)\d\d\)$")
_NUMBER = r"\d+(?:,\d{3})*(?:\.\d+)?(?: \d+/\d+|/\d+)?"
_STARTS = re.compile(rf"(?<![\w.,/^-]){_NUMBER}(?![\d/])")
_JOINED = re.compile(rf"(?:(?:\s*(?:to|and|or|then|,|-))+\s*{_NUMBER})+")
_UNIT = re.compile(r"[\s-]?(?:" + "|".join(map(re.escape, (*_UNITS, *_COUNTED))) + r")(?![a-zA-Z])")
_RANGE = re.compile(r"\s*\([^()]*\)")


def texts_of(advice: Advice) -> Iterator[str]:
    """Every text of the advice that a person reads; sums and ids left out."""
    yield from _texts(advice.model_dump(exclude={*NOT_TEXT, "confirm"}))
    yield from (f"{line.text}: {line.used}" if line.used else line.text for line in advice.confirm)


def _texts(part: Any) -> Iterator[str]:
    if isinstance(part, str):
        yield part
    elif isinstance(part, dict):
        for name, value in part.items():
            if name not in NOT_TEXT:
                yield from _texts(value)
    elif isinstance(part, list | tuple):
        for value in part:
            yield from _texts(value)


def bare(text: str) -> Iterator[str]:
    """The numbers of a text that nothing says the unit or the kind of, each with the words around it."""
    if "could not be worked out" in text:
        return  # what a computation says of its inputs
    for found in _STARTS.finditer(text):
        if not _explained(text, found.start(), found.end()):
            yield text[max(0, found.start() - 40):found.end() + 40]


def _explained(text: str, start: int, end: int) -> bool:
    before, after = text[:start], text[end:].removeprefix(")")
    if _UNIT.match(after) or _NAMED.search(before) or _RATIO.match(after) or _YEAR.search(text[:end + 1]):
        return True
    for pattern in (_JOINED, _RANGE, _JOINED):
        joined = pattern.match(after)
        if joined:
            after = after[joined.end():].removeprefix(")")
            if _UNIT.match(after):
                return True
    return False
