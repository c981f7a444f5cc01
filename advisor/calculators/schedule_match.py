"""The fewest repeats of a build-up that match an old laminate in thickness and in bending."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import cast

from advisor.calculators.layers import GlassAndResin, LaidLaminate, Layers, layers_of, stiffness_of, summed
from advisor.calculators.micromechanics import Architecture
from advisor.calculators.properties import MissingProperty
from advisor.calculators.ranges import OutOfRange, Range, require, require_entries, unit_of

__all__ = ["LaminateMatch", "LayerProperties", "match_build_up", "match_by_repeats"]

LayerProperties = Mapping[str, Mapping[str, float | str]]
"""Reinforcement id to its `architecture`, `areal_mass_g_m2`, `glass_fraction`, and `angle_degrees` where not 0."""

TARGET_THICKNESS_MM = Range(0.1, 200)
TARGET_STIFFNESS_NMM = Range(0, 1e12)
FIXED_LAYERS = Range(0, 50)
MOST_REPEATS = 60
MOST_REPEATED = 100
THICKNESS = "target_thickness_mm"
BENDING_X, BENDING_Y = "target_bending_stiffness_x_Nmm", "target_bending_stiffness_y_Nmm"
ROUNDING = 1e-9  # a target that is met exactly must not cost one more repeat


@dataclass(frozen=True, slots=True)
class LaminateMatch:
    """The fewest repeats that meet both targets, and how many either alone would take."""

    repeat_count: int
    repeats_for_thickness_count: int
    repeats_for_bending_count: int
    layer_count: int
    thickness_over_percent: float
    laminate: LaidLaminate
    layer_numbers: tuple[int, ...]


def match_by_repeats(
    target_thickness_mm: float,
    target_bending_stiffness_x_Nmm: float,
    target_bending_stiffness_y_Nmm: float,
    first_count: int,
    last_count: int,
    architectures: Sequence[Architecture],
    areal_masses_g_m2: Sequence[float],
    glass_fractions: Sequence[float],
    angles_degrees: Sequence[float],
    glass_density_kg_m3: float,
    resin_density_kg_m3: float,
    fibre_modulus_MPa: float,
    resin_modulus_MPa: float,
    fibre_poisson_ratio: float,
    resin_poisson_ratio: float,
) -> LaminateMatch:
    """Fewest whole repeats of the middle layers with which a build-up is both thick and stiff enough.

    Every number of repeats is tried from none upward, and the first that meets all targets is given, so no
    smaller one does.

    Args:
        target_thickness_mm: thickness to reach, mm, 0.1 to 200.
        target_bending_stiffness_x_Nmm: bending stiffness for each mm of width to reach along x, N mm,
            0 to 1000000000000; 0 where it does not matter.
        target_bending_stiffness_y_Nmm: the same along y, N mm, 0 to 1000000000000.
        first_count: how many of the layers come once, at the start, count, 0 to 50.
        last_count: how many come once, at the end, count, 0 to 50; those between are repeated.
        architectures: mat, woven, biaxial or unidirectional for each layer in the order laid, 1 to 200 entries.
        areal_masses_g_m2: dry glass of each layer, g/m2, 10 to 5000; one value for all or one for each.
        glass_fractions: glass content by mass of each, dimensionless, 0.10 to 0.80; one or one for each.
        angles_degrees: of each layer's first axis to the laminate's x, degrees, -180 to 180; one or one for each.
        glass_density_kg_m3: density of the glass, or of the carbon laid in its place, kg/m3, 1700 to 3000.
        resin_density_kg_m3: density of the cured resin, kg/m3, 900 to 2000.
        fibre_modulus_MPa: modulus of the glass, MPa, 10000 to 500000.
        resin_modulus_MPa: modulus of the cured resin, MPa, 100 to 10000.
        fibre_poisson_ratio: of the glass, dimensionless, 0.0 to 0.49.
        resin_poisson_ratio: of the cured resin, dimensionless, 0.0 to 0.49.
    Returns:
        LaminateMatch: repeats for both targets and for either alone (count), layers (count), thickness over the
        target in %, the laminate, and the numbers of the layers in the order laid, from 1.
    Raises:
        OutOfRange: a value is outside its range, a list has the wrong length, no layer is left to repeat, or
            60 repeats do not reach a target.
        UnknownArchitecture: an architecture is none of the four.
    Formula: n = fewest repeats with thickness >= target and bending stiffness >= target in x and in y
    Symbols: as in laid_laminate
    Valid: as laid_laminate. A new laminate with more glass is stiff enough while still too thin, and then its
        thickness decides; what it must carry is not computed here
    Source: exhaustive search; values as in laid_laminate
    Example:
        >>> made_of = (2560, 1200, 72000, 3300, 0.22, 0.35)
        >>> match = match_by_repeats(4, 34133, 34133, 1, 0, ["mat", "woven", "mat"], [450, 600, 300],
        ...                          [0.3, 0.48, 0.3], [0], *made_of)
        >>> match.repeat_count, match.layer_numbers, round(match.laminate.thickness_mm, 2)
        (2, (1, 2, 3, 2, 3), 4.0)
    """
    require(TARGET_THICKNESS_MM, target_thickness_mm=target_thickness_mm)
    require(TARGET_STIFFNESS_NMM, target_bending_stiffness_x_Nmm=target_bending_stiffness_x_Nmm)
    require(TARGET_STIFFNESS_NMM, target_bending_stiffness_y_Nmm=target_bending_stiffness_y_Nmm)
    require(FIXED_LAYERS, first_count=first_count)
    require(FIXED_LAYERS, last_count=last_count)
    made_of = GlassAndResin(
        glass_density_kg_m3, resin_density_kg_m3, fibre_modulus_MPa, resin_modulus_MPa, fibre_poisson_ratio,
        resin_poisson_ratio,
    )
    layers = layers_of(architectures, areal_masses_g_m2, glass_fractions, angles_degrees, made_of)
    require(Range(0, len(architectures) - 1), first_count=first_count)
    require(Range(0, len(architectures) - 1 - first_count), last_count=last_count)
    targets = {
        THICKNESS: target_thickness_mm,
        BENDING_X: target_bending_stiffness_x_Nmm,
        BENDING_Y: target_bending_stiffness_y_Nmm,
    }
    return _fewest(layers, first_count, len(architectures) - last_count, targets)


def match_build_up(
    target_thickness_mm: float,
    target_bending_stiffness_x_Nmm: float,
    target_bending_stiffness_y_Nmm: float,
    first: Sequence[str],
    repeat: Sequence[str],
    last: Sequence[str],
    reinforcements: LayerProperties,
    glass_density_kg_m3: float,
    resin_density_kg_m3: float,
    fibre_modulus_MPa: float,
    resin_modulus_MPa: float,
    fibre_poisson_ratio: float,
    resin_poisson_ratio: float,
) -> LaminateMatch:
    """Fewest whole repeats of a build-up of named reinforcements, as match_by_repeats.

    Args:
        target_thickness_mm: thickness to reach, mm, 0.1 to 200.
        target_bending_stiffness_x_Nmm: bending stiffness for each mm of width to reach along x, N mm,
            0 to 1000000000000; 0 where it does not matter.
        target_bending_stiffness_y_Nmm: the same along y, N mm, 0 to 1000000000000.
        first: ids of the reinforcements next to the old laminate, in order; may be empty.
        repeat: ids repeated as a whole between first and last, 1 to 100 entries.
        last: ids of the outermost reinforcements, in order; may be empty.
        reinforcements: id to its properties `architecture`, `areal_mass_g_m2` (g/m2), `glass_fraction`, and
            `angle_degrees` where not 0.
        glass_density_kg_m3: density of the glass, or of the carbon laid in its place, kg/m3, 1700 to 3000.
        resin_density_kg_m3: density of the cured resin, kg/m3, 900 to 2000.
        fibre_modulus_MPa: modulus of the glass, MPa, 10000 to 500000.
        resin_modulus_MPa: modulus of the cured resin, MPa, 100 to 10000.
        fibre_poisson_ratio: of the glass, dimensionless, 0.0 to 0.49.
        resin_poisson_ratio: of the cured resin, dimensionless, 0.0 to 0.49.
    Returns:
        LaminateMatch: as match_by_repeats; layer numbers count through first, repeat, last.
    Raises:
        OutOfRange: as match_by_repeats.
        MissingProperty: a reinforcement or one of its properties is absent.
        UnknownArchitecture: an architecture is none of the four.
    Formula: as match_by_repeats
    Symbols: as in laid_laminate
    Valid: as match_by_repeats
    Source: exhaustive search; values as in laid_laminate
    Example:
        >>> mat = {"architecture": "mat", "areal_mass_g_m2": 450, "glass_fraction": 0.30}
        >>> match_build_up(3, 0, 0, ["mat"], ["mat"], [], {"mat": mat}, 2560, 1200, 72000, 3300, 0.22, 0.35).layer_count
        3
    """
    require_entries("repeat", repeat, MOST_REPEATED)
    kinds = [_kind(reinforcements, reinforcement) for reinforcement in (*first, *repeat, *last)]
    return match_by_repeats(
        target_thickness_mm,
        target_bending_stiffness_x_Nmm,
        target_bending_stiffness_y_Nmm,
        len(first),
        len(last),
        [cast(Architecture, kind["architecture"]) for kind in kinds],
        [float(kind["areal_mass_g_m2"]) for kind in kinds],
        [float(kind["glass_fraction"]) for kind in kinds],
        [float(kind.get("angle_degrees", 0)) for kind in kinds],
        glass_density_kg_m3,
        resin_density_kg_m3,
        fibre_modulus_MPa,
        resin_modulus_MPa,
        fibre_poisson_ratio,
        resin_poisson_ratio,
    )


def _kind(reinforcements: LayerProperties, reinforcement: str) -> Mapping[str, float | str]:
    if reinforcement not in reinforcements:
        raise MissingProperty(f"reinforcement `{reinforcement}` has no properties")
    kind = reinforcements[reinforcement]
    for name in ("architecture", "areal_mass_g_m2", "glass_fraction"):
        if name not in kind:
            raise MissingProperty(f"`{name}` is missing for reinforcement `{reinforcement}`")
    return kind


def _fewest(layers: Layers, first: int, middle: int, targets: Mapping[str, float]) -> LaminateMatch:
    """Try 0, 1, 2 ... repeats; each target keeps the first number that met it."""
    met: dict[str, int] = {}
    for repeats in range(MOST_REPEATS + 1):
        order = [*range(first), *[*range(first, middle)] * repeats, *range(middle, len(layers.woven))]
        reached = _reached(layers, order)
        enough = [name for name in targets if reached[name] >= targets[name] * (1 - ROUNDING)]
        met = dict.fromkeys(enough, repeats) | met
        if len(enough) == len(targets):
            return _match(layers, order, repeats, targets[THICKNESS], met)
    name = next(name for name in targets if name not in enough)
    raise OutOfRange(name, targets[name], 0, reached[name], unit_of(name))


def _reached(layers: Layers, order: list[int]) -> dict[str, float]:
    if not order:
        return dict.fromkeys((THICKNESS, BENDING_X, BENDING_Y), 0.0)
    stiffness = stiffness_of(layers, order)
    return {
        THICKNESS: stiffness.thickness_mm,
        BENDING_X: stiffness.bending_stiffness_x_Nmm,
        BENDING_Y: stiffness.bending_stiffness_y_Nmm,
    }


def _match(
    layers: Layers, order: list[int], repeats: int, target_thickness_mm: float, met: Mapping[str, int]
) -> LaminateMatch:
    laminate = summed(layers, order)
    return LaminateMatch(
        repeat_count=repeats,
        repeats_for_thickness_count=met[THICKNESS],
        repeats_for_bending_count=max(met[BENDING_X], met[BENDING_Y]),
        layer_count=len(order),
        thickness_over_percent=max(0.0, 100 * (laminate.thickness_mm / target_thickness_mm - 1)),
        laminate=laminate,
        layer_numbers=tuple(number + 1 for number in order),
    )
