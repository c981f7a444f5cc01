"""From what people write for a unit to the unit."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache

from advisor.errors import InputError, near, quoted
from advisor.units.catalogue import DIMENSIONS, Dimension, Unit
from advisor.units.words import PLAIN_SIGNS, WORDS

_POWERS = {"sq": "2", "square": "2", "cu": "3", "cubic": "3"}
_POWERS_AFTER = {"squared": "2", "cubed": "3"}
_SHORTEST_WORD = 4
_TOKEN = re.compile(r"[a-z]+[234]?|[°%'\"]|1(?:e-6)?(?![0-9])")
_MILLIONTHS = re.compile(r"^[x*]?\s*(?:10\s*-\s*6|1?e-0?6)\s*(?=/)")


def plain(text: str) -> str:
    """`text` in small letters, typographic signs as ASCII, white space as single spaces."""
    spaced = " ".join(text.translate(PLAIN_SIGNS).casefold().split())
    return re.sub(r"\s*(\^|\*\*)\s*", r"\1", spaced.replace("''", '"'))


def unit_key(text: str) -> str:
    """The spelling that all ways of writing one unit share: `ounces per square yard` is `oz/yd2`.

    A part that holds anything no unit is written with becomes `?`, which no unit has.
    """
    flat = re.sub(r"\bper\b", "/", plain(text))
    flat = re.sub(r"\^|\*\*", "", flat)
    flat = _MILLIONTHS.sub("1e-6", re.sub(r"[.()]", "", flat).strip())
    top, slash, rest = flat.partition("/")
    return "/".join(_part_key(part) for part in [top, *(re.split(r"[/*]", rest) if slash else [])])


def _part_key(part: str) -> str:
    if _TOKEN.sub("", part).strip():
        return "?"
    tokens = _with_powers(_base(token) for token in _TOKEN.findall(part))
    if len(tokens) > 1:
        tokens = [token for token in tokens if token != "deg"]
    return " ".join(tokens)


def _base(token: str) -> str:
    power = token[-1] if token[-1] in "234" else ""
    word = token.removesuffix(power)
    return WORDS.get(word, word) + power


def _with_powers(tokens: Iterable[str]) -> list[str]:
    joined: list[str] = []
    waiting = ""
    for token in tokens:
        if token in _POWERS:
            waiting = _POWERS[token]
        elif token in _POWERS_AFTER and joined:
            joined[-1] += _POWERS_AFTER[token]
        else:
            joined.append(token + waiting)
            waiting = ""
    return joined


@cache
def _by_symbol() -> dict[str, tuple[Dimension, Unit]]:
    return {unit.symbol: (dimension, unit) for dimension in DIMENSIONS for unit in dimension.units}


@cache
def keys_of(dimension: Dimension) -> dict[str, Unit]:
    """Every reduced spelling of the dimension's units."""
    found: dict[str, Unit] = {}
    for unit in dimension.units:
        for key in (unit_key(unit.symbol), *unit.keys):
            if "?" not in key:
                found.setdefault(key, unit)
    return found


def find_unit(symbol: str) -> tuple[Dimension, Unit]:
    """The dimension and unit of a symbol such as `mm`; InputError with a near match if there is none."""
    found = known_unit(symbol)
    if found is None:
        close = near(symbol, _by_symbol())
        raise InputError(f"{quoted(symbol)} is not a unit known here",
                         help=f"did you mean `{close}`?" if close else "write one such as `mm`, `g` or `min`")
    return _by_symbol()[found]


def known_unit(text: str) -> str | None:
    """The symbol of the unit that `text` names, or None: `inches` is `in`.

    Of what belongs to two dimensions the symbol itself comes first: `C` is a temperature, `K` a
    temperature difference (an absolute one is `kelvin`).
    """
    if text in _by_symbol():
        return text
    if len(text) > 40:
        return None
    key = unit_key(text)
    dimension = dimension_with(key)
    return keys_of(dimension)[key].symbol if dimension else None


def dimension_with(key: str) -> Dimension | None:
    """The first dimension that has a unit of this reduced spelling."""
    return next((dimension for dimension in DIMENSIONS if key in keys_of(dimension)), None)


def near_spelling(text: str, dimension: Dimension) -> str | None:
    """The word for a unit of the dimension spelled most like `text`, if `text` is a word itself.

    Abbreviations are left alone: one letter makes another unit of them.
    """
    if not (text.isalpha() and len(text) >= _SHORTEST_WORD):
        return None
    bases = keys_of(dimension)
    return near(text, [word for word, base in WORDS.items() if base in bases and len(word) >= _SHORTEST_WORD])


def same_dimension(one: str, other: str) -> bool:
    """Whether two units measure the same kind of quantity; InputError if either is unknown."""
    return find_unit(one)[0] is find_unit(other)[0]


@cache
def _suffixes() -> dict[str, str]:
    symbols = _by_symbol()
    return {symbol.replace("1/", "per_").replace("/", "_").replace(" ", "_"): symbol for symbol in symbols}


@cache
def unit_of_name(argument_name: str) -> str | None:
    """The unit named by the end of an argument's name, the longest that fits, capitals counting.

    `thickness_mm` is `mm`, `areal_mass_g_m2` is `g/m2`, `drops_per_mL` is `1/mL`, `title` is None.
    The unit comes last: `thickness_mm_min` would be read as minutes.
    """
    words = argument_name.split("_")
    tails = ("_".join(words[start:]) for start in range(1, len(words)))
    return next((_suffixes()[tail] for tail in tails if tail in _suffixes()), None)
