"""Styrene given off by open laminating."""

from advisor.calculators.ranges import Range, require

__all__ = ["styrene_released_g"]

RESIN_MASS_KG = Range(0, 10_000)
STYRENE_PERCENT = Range(20, 60)


def styrene_released_g(resin_mass_kg: float, styrene_percent: float) -> float:
    """Styrene given off by hand lay-up in an open mould, until the resin has cured.

    Args:
        resin_mass_kg: resin used, kg, 0 to 10000.
        styrene_percent: styrene in the resin by mass, %, 20 to 60.
    Returns:
        Styrene released, g.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: released = resin mass x 0.014 x (styrene %)^2.275, in g per kg
    Source: US EPA, 40 CFR Part 63 Subpart VVVV, Table 3, production resin, non-atomised application;
        that of Subpart WWWW agrees within 5 % at 35 % styrene (from-memory)
    Example:
        >>> round(styrene_released_g(1.0, 35), 1)
        45.6
    """
    require(RESIN_MASS_KG, resin_mass_kg=resin_mass_kg)
    require(STYRENE_PERCENT, styrene_percent=styrene_percent)
    released_g_kg: float = 0.014 * styrene_percent**2.275
    return resin_mass_kg * released_g_kg
