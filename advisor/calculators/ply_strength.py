"""Strength of a mat or woven laminate from its glass content, and the factor that a designer divides it by."""

import math
from dataclasses import dataclass
from typing import Literal, get_args

from advisor.calculators.micromechanics import UnknownArchitecture
from advisor.calculators.ranges import Range, require

__all__ = ["PlyStrength", "TestedArchitecture", "laminate_design_factor_ratio", "ply_strength"]

TestedArchitecture = Literal["mat", "woven"]
"""The architectures that the standard's strength formulas were fitted to."""

GLASS_FRACTION = Range(0.25, 0.60)
FACTOR = Range(1.0, 5.0)
SERVICE_TEMPERATURE_C = Range(-40, 120)
SOFTENING_TEMPERATURE_C = Range(0, 250)
LOAD_CYCLES = Range(1, 1e6)

BASIC_FACTOR = 3.0
LEAST_DESIGN_FACTOR = 8.0
LEAST_MARGIN_K = 20.0


@dataclass(frozen=True, slots=True)
class PlyStrength:
    """Mean strengths at a short, dry, cool first load."""

    tensile_strength_MPa: float
    compressive_strength_MPa: float
    flexural_strength_MPa: float
    shear_strength_MPa: float
    interlaminar_shear_strength_MPa: float


def ply_strength(architecture: TestedArchitecture, glass_fraction: float) -> PlyStrength:
    """Strengths of a hand-laid mat or woven E-glass polyester laminate, before any factor.

    Args:
        architecture: mat or woven; for stitched glass no formula is held, ask the maker or test.
        glass_fraction: glass content by mass, dimensionless, 0.25 to 0.60.
    Returns:
        PlyStrength: tension, compression, bending, in-plane shear and shear between the plies, MPa.
    Raises:
        OutOfRange: the argument is outside its range.
        UnknownArchitecture: the architecture is neither.
    Formula: tension 800 psi^2 - 80 psi + 37; compression 150 psi + 72; bending 502 psi^2 + 106.8; shear 80 psi +
        38; between plies 22.5 - 17.5 psi; with psi = glass fraction
    Symbols: psi glass by mass; strengths in MPa
    Valid: new, cured, dry and cool, first load. Sustained load, fatigue, heat and water take much of it:
        divide by a design factor. Along the glass; at 45 degrees to a weave it is far less
    Source: ISO 12215-5:2008, annex C (from-memory)
    Example:
        >>> round(ply_strength("mat", 0.30).tensile_strength_MPa, 1)
        85.0
    """
    if architecture not in get_args(TestedArchitecture):
        raise UnknownArchitecture(architecture, get_args(TestedArchitecture))
    require(GLASS_FRACTION, glass_fraction=glass_fraction)
    return PlyStrength(
        tensile_strength_MPa=800 * glass_fraction**2 - 80 * glass_fraction + 37,
        compressive_strength_MPa=150 * glass_fraction + 72,
        flexural_strength_MPa=502 * glass_fraction**2 + 106.8,
        shear_strength_MPa=80 * glass_fraction + 38,
        interlaminar_shear_strength_MPa=22.5 - 17.5 * glass_fraction,
    )


def laminate_design_factor_ratio(
    method_ratio: float,
    surroundings_ratio: float,
    softening_temperature_C: float,
    service_temperature_C: float,
    load_cycles_count: float,
    cure_ratio: float,
) -> float:
    """What the short-time strength of a laminate is divided by to give a load it may carry for years.

    Args:
        method_ratio: k1, for how it is laid, dimensionless, 1.0 to 5.0.
        surroundings_ratio: k2, for what wets it, dimensionless, 1.0 to 5.0.
        softening_temperature_C: heat-deflection temperature of the resin, °C, 0 to 250.
        service_temperature_C: of the part, °C, -40 to 120; 20 K or more below softening.
        load_cycles_count: how often the full load comes, count, 1 to 1000000.
        cure_ratio: k5, for how it was cured, dimensionless, 1.0 to 5.0.
    Returns:
        Design factor K, dimensionless.
    Raises:
        OutOfRange: an argument is outside its range, or the part gets within 20 K of softening.
    Formula: K = 3 k1 k2 k3 k4 k5, not below 8; k3 = 1.25 - 0.0125 (HDT - 20 - T), 1.0 or more;
        k4 = 1.1 + 0.9 (log10 N - 3)/3, 1.1 or more
    Symbols: HDT softening and T service temperature, °C; N load cycles
    Valid: laminates laid by hand or sprayed, for vessels and tanks; used here as a yardstick for other parts
    Source: BS 4994:1987, design factors, seen on a worked sheet; the least of 8 from-memory
    Example:
        >>> round(laminate_design_factor_ratio(1.5, 1.3, 100, 60, 3650, 1.5), 3)
        11.133
    """
    require(FACTOR, method_ratio=method_ratio)
    require(FACTOR, surroundings_ratio=surroundings_ratio)
    require(FACTOR, cure_ratio=cure_ratio)
    require(SOFTENING_TEMPERATURE_C, softening_temperature_C=softening_temperature_C)
    require(SERVICE_TEMPERATURE_C, service_temperature_C=service_temperature_C)
    require(LOAD_CYCLES, load_cycles_count=load_cycles_count)
    margin = softening_temperature_C - LEAST_MARGIN_K - service_temperature_C
    if margin < 0:
        hottest = softening_temperature_C - LEAST_MARGIN_K
        require(Range(SERVICE_TEMPERATURE_C.low, hottest), service_temperature_C=service_temperature_C)
    heat = max(1.0, 1.25 - 0.0125 * margin)
    fatigue = max(1.1, 1.1 + 0.9 * (math.log10(load_cycles_count) - 3) / 3)
    factor = BASIC_FACTOR * method_ratio * surroundings_ratio * heat * fatigue * cure_ratio
    return max(LEAST_DESIGN_FACTOR, factor)
