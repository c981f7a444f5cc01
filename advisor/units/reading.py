"""How finely a reckoned number is printed: no finer than the tool with which it is read off.

Calipers show a twentieth of a millimetre, a scale for resin a tenth of a gram, a syringe a tenth of a millilitre. From
half an hour on nobody plans finer than five minutes, from ten hours on finer than hours.
Forces, stresses and vapours are reckoned from ranges so wide that two figures say all there is. This is the one place
that decides it; what somebody typed, and what a sheet says, is printed as it was given.
"""

from __future__ import annotations

from collections.abc import Mapping
from decimal import ROUND_HALF_UP, Decimal
from math import floor, inf, log10

# In the unit that is printed: below each size the step to which it is rounded. Smaller than the first step: one figure.
_STEPS: Mapping[str, tuple[tuple[float, float], ...]] = {
    "mm": ((2, 0.05), (10, 0.1), (inf, 1)),
    "m": ((inf, 0.01),),
    "g": ((30, 0.1), (inf, 1)),
    "mL": ((0.3, 0.05), (30, 0.1), (inf, 1)),
    "cm2": ((30, 0.1), (inf, 1)),
    "percent": ((10, 0.1), (inf, 1)),
    "C": ((10, 0.1), (inf, 1)), "K": ((10, 0.1), (inf, 1)),
    "F": ((inf, 1),), "delta_F": ((10, 0.1), (inf, 1)),
    "in": ((0.1, 0.005), (0.25, 0.01), (inf, 0.0)),
    # Seconds, single minutes, hours below ten and days are left to bench.clock_time.
    "min": ((1, 0.0), (5, 0.5), (30, 0.0), (180, 5), (600, 0.0), (4320, 60), (inf, 0.0)),
}
_FIGURES: Mapping[str, int] = {
    "force": 2, "line load": 2, "stress": 2, "vapour share": 2, "vapour rate": 2, "vapour concentration": 2,
    "air flow": 2, "fraction": 2,
}


def reading_step(value: float, symbol: str, dimension: str) -> float:
    """The step to which `value` is rounded; what is printed is at most half of it away. 0 where it is not rounded."""
    size = abs(value)
    if size == 0:
        return 0.0
    first = 10.0 ** floor(log10(size))
    if steps := _STEPS.get(symbol):
        step = next(step for limit, step in steps if size < limit)
        return step if size >= step else first
    return first / 10.0 ** (_FIGURES[dimension] - 1) if dimension in _FIGURES else 0.0


def as_read(value: float, symbol: str, dimension: str) -> float:
    """`value` in the unit `symbol` as somebody at the bench can read it."""
    step = reading_step(value, symbol, dimension)
    if not step:
        return value
    steps = Decimal(repr(value)) / Decimal(repr(step))
    return float(steps.quantize(Decimal(1), ROUND_HALF_UP) * Decimal(repr(step)))
