"""One wetted-out ply: its thickness, density, fibre volume and resin."""

from advisor.calculators.ranges import Range, require

__all__ = ["fibre_volume_fraction", "laminate_density_kg_m3", "ply_thickness_mm", "resin_to_glass_ratio"]

AREAL_MASS_G_M2 = Range(10, 5000)
HAND_LAID_GLASS_FRACTION = Range(0.10, 0.80)
ANY_GLASS_FRACTION = Range(0.01, 0.90)
GLASS_DENSITY_KG_M3 = Range(1700, 3000)  # carbon cloth, which is laid where the old part is of carbon, begins at 1700
RESIN_DENSITY_KG_M3 = Range(900, 2000)


def ply_thickness_mm(
    areal_mass_g_m2: float, glass_fraction: float, glass_density_kg_m3: float, resin_density_kg_m3: float
) -> float:
    """Thickness of one cured ply without voids.

    Args:
        areal_mass_g_m2: dry glass, g/m2, 10 to 5000.
        glass_fraction: glass content by mass, dimensionless, 0.10 to 0.80.
        glass_density_kg_m3: density of the glass, or of the carbon laid in its place, kg/m3, 1700 to 3000.
        resin_density_kg_m3: density of the cured resin, kg/m3, 900 to 2000.
    Returns:
        Ply thickness, mm.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: thickness = areal mass x (1/glass density + (1/glass fraction - 1)/resin density), in g/m2, kg/m3 and
        mm
    Source: rule of mixtures; equal to the ply thickness formula of ISO 12215-5, annex on laminate
        properties (from-memory); measured plies lie within about 15 % of it
    Example:
        >>> round(ply_thickness_mm(450, 0.30, 2560, 1200), 3)
        1.051
    """
    require(AREAL_MASS_G_M2, areal_mass_g_m2=areal_mass_g_m2)
    require(HAND_LAID_GLASS_FRACTION, glass_fraction=glass_fraction)
    _require_densities(glass_density_kg_m3, resin_density_kg_m3)
    return areal_mass_g_m2 * (1 / glass_density_kg_m3 + (1 / glass_fraction - 1) / resin_density_kg_m3)


def fibre_volume_fraction(
    glass_fraction: float, glass_density_kg_m3: float, resin_density_kg_m3: float
) -> float:
    """Share of the laminate's volume that is glass, without voids.

    Args:
        glass_fraction: glass content by mass, dimensionless, 0.01 to 0.90.
        glass_density_kg_m3: density of the glass, or of the carbon laid in its place, kg/m3, 1700 to 3000.
        resin_density_kg_m3: density of the cured resin, kg/m3, 900 to 2000.
    Returns:
        Fibre volume fraction, dimensionless.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: Vf = (glass fraction/glass density)/(glass fraction/glass density + (1 - glass fraction)/resin
        density)
    Source: Kaw, Mechanics of Composite Materials, 2nd ed., CRC Press 2006, chapter 3 (from-memory)
    Example:
        >>> round(fibre_volume_fraction(0.48, 2560, 1200), 3)
        0.302
    """
    glass_volume = glass_fraction / glass_density_kg_m3
    return glass_volume * laminate_density_kg_m3(glass_fraction, glass_density_kg_m3, resin_density_kg_m3)


def laminate_density_kg_m3(
    glass_fraction: float, glass_density_kg_m3: float, resin_density_kg_m3: float
) -> float:
    """Density of the cured laminate without voids.

    Args:
        glass_fraction: glass content by mass, dimensionless, 0.01 to 0.90.
        glass_density_kg_m3: density of the glass, or of the carbon laid in its place, kg/m3, 1700 to 3000.
        resin_density_kg_m3: density of the cured resin, kg/m3, 900 to 2000.
    Returns:
        Laminate density, kg/m3.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: density = 1/(glass fraction/glass density + (1 - glass fraction)/resin density)
    Source: Kaw, Mechanics of Composite Materials, 2nd ed., CRC Press 2006, chapter 3 (from-memory)
    Example:
        >>> round(laminate_density_kg_m3(0.30, 2560, 1200), 1)
        1427.5
    """
    require(ANY_GLASS_FRACTION, glass_fraction=glass_fraction)
    _require_densities(glass_density_kg_m3, resin_density_kg_m3)
    return 1 / (glass_fraction / glass_density_kg_m3 + (1 - glass_fraction) / resin_density_kg_m3)


def resin_to_glass_ratio(glass_fraction: float) -> float:
    """Mass of resin for each unit mass of glass.

    Args:
        glass_fraction: glass content by mass, dimensionless, 0.10 to 0.80.
    Returns:
        Resin to glass by mass, dimensionless.
    Raises:
        OutOfRange: the argument is outside its range.
    Formula: ratio = (1 - glass fraction)/glass fraction
    Source: definition of the glass content by mass
    Example:
        >>> resin_to_glass_ratio(0.50)
        1.0
    """
    require(HAND_LAID_GLASS_FRACTION, glass_fraction=glass_fraction)
    return (1 - glass_fraction) / glass_fraction


def _require_densities(glass_density_kg_m3: float, resin_density_kg_m3: float) -> None:
    require(GLASS_DENSITY_KG_M3, glass_density_kg_m3=glass_density_kg_m3)
    require(RESIN_DENSITY_KG_M3, resin_density_kg_m3=resin_density_kg_m3)
