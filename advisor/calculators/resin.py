"""Resin for the glass, coats, and the two parts of a mix."""

from dataclasses import dataclass
from math import fsum

from advisor.calculators.patches import CutList, Patch
from advisor.calculators.properties import Reinforcements, areal_mass_g_m2, property_of
from advisor.calculators.ranges import Range, require

__all__ = [
    "MixParts",
    "ResinNeed",
    "coat_mass_kg",
    "mass_of_volume_kg",
    "mix_parts",
    "resin_for_cut_list",
    "resin_needed_kg",
]

MASS_KG = Range(0, 10_000)
RESIN_TO_GLASS = Range(0.2, 10)
WASTE_FRACTION = Range(0, 1)
AREA_M2 = Range(0, 10_000)
VOLUME_ML = Range(0, 10_000_000)
FILM_THICKNESS_MM = Range(0.01, 10)
COAT_DENSITY_KG_M3 = Range(700, 3000)
PARTS = Range(0.1, 1000)


@dataclass(frozen=True, slots=True)
class ResinNeed:
    """Resin with waste: at the driest, the likely and the wettest resin to glass ratio."""

    low_kg: float
    likely_kg: float
    high_kg: float


@dataclass(frozen=True, slots=True)
class MixParts:
    """The two components of one mix."""

    resin_kg: float
    hardener_kg: float


def resin_needed_kg(glass_kg: float, resin_to_glass: float, waste_fraction: float) -> float:
    """Resin to wet out a mass of glass, with what stays in cups and rollers.

    Args:
        glass_kg: dry glass that is laid, kg, 0 to 10000.
        resin_to_glass: resin to glass by mass, dimensionless, 0.2 to 10.
        waste_fraction: share added for cups and rollers, dimensionless, 0 to 1.
    Returns:
        Resin, kg.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: resin = glass x resin to glass x (1 + waste fraction)
    Source: definition of the resin to glass ratio; an allowance for waste is common-practice
    Example:
        >>> round(resin_needed_kg(0.20, 1.0, 0.10), 3)
        0.22
    """
    require(MASS_KG, glass_kg=glass_kg)
    require(RESIN_TO_GLASS, resin_to_glass=resin_to_glass)
    require(WASTE_FRACTION, waste_fraction=waste_fraction)
    return glass_kg * resin_to_glass * (1 + waste_fraction)


def resin_for_cut_list(cut_list: CutList, reinforcements: Reinforcements, waste_fraction: float) -> ResinNeed:
    """Resin for all patches of a cut list: low, likely and high.

    Overlaps where a patch is wider than its roll are not counted; the waste share must cover them.

    Args:
        cut_list: the patches.
        reinforcements: id to its properties `areal_mass_g_m2` (g/m2) and `resin_to_glass_low`,
            `resin_to_glass_likely`, `resin_to_glass_high` (each 0.2 to 10, in rising order).
        waste_fraction: share added for cups and rollers, dimensionless, 0 to 1.
    Returns:
        ResinNeed: low, likely and high, kg.
    Raises:
        OutOfRange: an argument or property is outside its range, or the ratios do not rise.
        MissingProperty: a reinforcement or one of its properties is absent.
    Formula: resin = sum of patch area x areal mass x ratio, times (1 + waste)
    Source: definition of the resin to glass ratio; an allowance for waste is common-practice
    Example:
        >>> cuts = CutList((Patch(1, "mat", 1000, 1000, 1.0),), 1.0, 1000, 1000)
        >>> mat = {"areal_mass_g_m2": 500, "resin_to_glass_low": 2.0, "resin_to_glass_likely": 2.5}
        >>> resin_for_cut_list(cuts, {"mat": mat | {"resin_to_glass_high": 3.0}}, 0.0)
        ResinNeed(low_kg=1.0, likely_kg=1.25, high_kg=1.5)
    """
    require(WASTE_FRACTION, waste_fraction=waste_fraction)
    needs = [resin_of_patch_kg(patch, reinforcements) for patch in cut_list.patches]
    low, likely, high = (fsum(column) * (1 + waste_fraction) for column in zip(*needs, strict=True))
    return ResinNeed(low_kg=low, likely_kg=likely, high_kg=high)


def coat_mass_kg(area_m2: float, film_thickness_mm: float, density_kg_m3: float) -> float:
    """Gel coat, flow coat or any other even film over an area, without waste.

    Args:
        area_m2: area to coat, m2, 0 to 10000.
        film_thickness_mm: wet film, mm, 0.01 to 10.
        density_kg_m3: density of the liquid, kg/m3, 700 to 3000.
    Returns:
        Mass of the coat, kg.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: mass = area x film thickness x density
    Source: geometry
    Example:
        >>> round(coat_mass_kg(2.0, 0.5, 1200), 3)
        1.2
    """
    require(AREA_M2, area_m2=area_m2)
    require(FILM_THICKNESS_MM, film_thickness_mm=film_thickness_mm)
    require(COAT_DENSITY_KG_M3, density_kg_m3=density_kg_m3)
    return area_m2 * film_thickness_mm / 1000 * density_kg_m3


def mass_of_volume_kg(volume_mL: float, density_kg_m3: float) -> float:
    """Mass of a volume of resin, paste or gel coat.

    Args:
        volume_mL: volume, mL, 0 to 10000000.
        density_kg_m3: density, kg/m3, 700 to 3000.
    Returns:
        Mass, kg.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: mass = volume x density
    Source: definition of density
    Example:
        >>> round(mass_of_volume_kg(500, 1200), 3)
        0.6
    """
    require(VOLUME_ML, volume_mL=volume_mL)
    require(COAT_DENSITY_KG_M3, density_kg_m3=density_kg_m3)
    return volume_mL * 1e-6 * density_kg_m3


def mix_parts(total_mass_kg: float, resin_parts: float, hardener_parts: float) -> MixParts:
    """Resin and hardener in a mix of given mass; the parts are by mass, not by volume.

    Args:
        total_mass_kg: mass of the mix, kg, 0 to 10000.
        resin_parts: parts of resin by mass, dimensionless, 0.1 to 1000.
        hardener_parts: parts of hardener by mass, dimensionless, 0.1 to 1000.
    Returns:
        MixParts: resin and hardener, kg.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: resin = total mass x resin parts/(resin parts + hardener parts); hardener = the rest
    Source: definition of a mixing ratio by mass
    Example:
        >>> mix_parts(3, 2, 1)
        MixParts(resin_kg=2.0, hardener_kg=1.0)
    """
    require(MASS_KG, total_mass_kg=total_mass_kg)
    require(PARTS, resin_parts=resin_parts, hardener_parts=hardener_parts)
    all_parts = resin_parts + hardener_parts
    return MixParts(
        resin_kg=total_mass_kg * resin_parts / all_parts,
        hardener_kg=total_mass_kg * hardener_parts / all_parts,
    )


def resin_of_patch_kg(patch: Patch, reinforcements: Reinforcements) -> tuple[float, float, float]:
    """The resin that one patch takes up, kg: low, likely and high, without waste. See resin_for_cut_list."""
    glass_kg = patch.area_m2 * areal_mass_g_m2(reinforcements, patch.reinforcement) / 1000
    lowest = RESIN_TO_GLASS.low
    needs = []
    for level in ("low", "likely", "high"):
        limits = Range(lowest, RESIN_TO_GLASS.high)
        lowest = property_of(reinforcements, patch.reinforcement, f"resin_to_glass_{level}", limits)
        needs.append(resin_needed_kg(glass_kg, lowest, 0))
    return needs[0], needs[1], needs[2]
