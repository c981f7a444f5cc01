"""Peroxide catalyst for polyester and vinyl ester: by mass, by volume, by drops."""

from math import floor

from advisor.calculators.ranges import Range, require

__all__ = ["catalyst_drops", "catalyst_mass_g", "catalyst_volume_mL"]

RESIN_MASS_KG = Range(0, 10_000)
DOSE_PERCENT = Range(0.1, 5)
CATALYST_MASS_G = Range(0, 500_000)
CATALYST_DENSITY_KG_M3 = Range(900, 1300)
CATALYST_VOLUME_ML = Range(0, 500_000)
DROPS_PER_ML = Range(5, 100)


def catalyst_mass_g(resin_mass_kg: float, dose_percent: float) -> float:
    """Catalyst for a mass of resin; what dose is safe is for the rules and the maker to say.

    Args:
        resin_mass_kg: resin without catalyst, kg, 0 to 10000.
        dose_percent: catalyst for 100 parts of resin by mass, %, 0.1 to 5.
    Returns:
        Catalyst, g.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: catalyst = resin mass x dose/100
    Source: definition of the dose by mass of resin
    Example:
        >>> round(catalyst_mass_g(2.10, 1.5), 2)
        31.5
    """
    require(RESIN_MASS_KG, resin_mass_kg=resin_mass_kg)
    require(DOSE_PERCENT, dose_percent=dose_percent)
    return resin_mass_kg * dose_percent * 10


def catalyst_volume_mL(catalyst_mass_g: float, catalyst_density_kg_m3: float) -> float:
    """Volume of a mass of catalyst, for a graduated syringe or dispenser.

    Args:
        catalyst_mass_g: catalyst, g, 0 to 500000.
        catalyst_density_kg_m3: density of the catalyst, kg/m3, 900 to 1300.
    Returns:
        Catalyst, mL.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: volume = catalyst mass/catalyst density
    Source: definition of density
    Example:
        >>> round(catalyst_volume_mL(31.5, 1110), 1)
        28.4
    """
    require(CATALYST_MASS_G, catalyst_mass_g=catalyst_mass_g)
    require(CATALYST_DENSITY_KG_M3, catalyst_density_kg_m3=catalyst_density_kg_m3)
    return catalyst_mass_g / catalyst_density_kg_m3 * 1000


def catalyst_drops(catalyst_volume_mL: float, drops_per_mL: float) -> int:
    """Drops to count, to the nearest whole drop, from a dropper that was calibrated.

    Args:
        catalyst_volume_mL: catalyst, mL, 0 to 500000; at least one drop.
        drops_per_mL: drops of this dropper, per mL, 5 to 100.
    Returns:
        Number of drops, a count.
    Raises:
        OutOfRange: an argument is outside its range, or the volume is less than one drop.
    Formula: drops = catalyst volume x drops per mL
    Source: definition; a rough measure, to be calibrated for each dropper (common-practice)
    Example:
        >>> catalyst_drops(0.45, 30)
        14
    """
    require(CATALYST_VOLUME_ML, catalyst_volume_mL=catalyst_volume_mL)
    require(DROPS_PER_ML, drops_per_mL=drops_per_mL)
    require(Range(1 / drops_per_mL, CATALYST_VOLUME_ML.high), catalyst_volume_mL=catalyst_volume_mL)
    return floor(catalyst_volume_mL * drops_per_mL + 0.5)
