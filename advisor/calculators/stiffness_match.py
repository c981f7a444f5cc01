"""A new laminate beside the old one: thickness, mass, and stiffness pulled and bent."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from advisor.calculators.layers import GlassAndResin, LaidLaminate, layers_of, summed
from advisor.calculators.micromechanics import Architecture
from advisor.calculators.ranges import Range, require

__all__ = ["LaminateComparison", "bending_stiffness_Nmm", "compare_laminates", "laid_laminate"]

PANEL_THICKNESS_MM = Range(0.1, 200)
PANEL_MODULUS_MPA = Range(100, 500000)


@dataclass(frozen=True, slots=True)
class LaminateComparison:
    """Old and new side by side; each ratio is new over old."""

    old: LaidLaminate
    new: LaidLaminate
    thickness_ratio: float
    mass_ratio: float
    in_plane_x_ratio: float
    in_plane_y_ratio: float
    bending_x_ratio: float
    bending_y_ratio: float


def bending_stiffness_Nmm(thickness_mm: float, bending_modulus_MPa: float) -> float:
    """Bending stiffness, per width, of a panel that is the same all through, such as an old laminate.

    Args:
        thickness_mm: thickness without gelcoat or paint, mm, 0.1 to 200.
        bending_modulus_MPa: modulus in bending, MPa, 100 to 500000.
    Returns:
        Bending stiffness for each mm of width, N mm.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: D = bending modulus x thickness^3/12
    Symbols: E modulus, MPa; t thickness, mm
    Valid: solid panels; a strip that is free at its edges. Not for sandwiches
    Source: Roark's Formulas for Stress and Strain, chapter on beams (from-memory)
    Example:
        >>> bending_stiffness_Nmm(3, 6400)
        14400.0
    """
    require(PANEL_THICKNESS_MM, thickness_mm=thickness_mm)
    require(PANEL_MODULUS_MPA, bending_modulus_MPa=bending_modulus_MPa)
    return bending_modulus_MPa * thickness_mm**3 / 12


def laid_laminate(
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
) -> LaidLaminate:
    """Thickness, mass and stiffness of layers of E-glass laid on one another.

    Args:
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
        LaidLaminate: mm, kg/m2, woven share of the glass mass, stiffness per width in N/mm and N mm, moduli in
        MPa, coupling ratio (0 for a stack that stays flat).
    Raises:
        OutOfRange: a value is outside its range, or a list has the wrong length.
        UnknownArchitecture: an architecture is none of the four.
    Formula: plies as in ply_thickness_mm and ply_stiffness, stack as in laminate_stiffness; woven share = glass
        that is not mat over all glass
    Symbols: as in those
    Valid: as ply_stiffness and laminate_stiffness
    Source: those of ply_thickness_mm, ply_stiffness and laminate_stiffness
    Example:
        >>> laid = laid_laminate(["mat"] * 3, [450], [0.3], [0], 2560, 1200, 72000, 3300, 0.22, 0.35)
        >>> round(laid.thickness_mm, 3), round(laid.mass_kg_m2, 2), round(laid.bending_stiffness_x_Nmm)
        (3.152, 4.5, 16707)
    """
    made_of = GlassAndResin(
        glass_density_kg_m3, resin_density_kg_m3, fibre_modulus_MPa, resin_modulus_MPa, fibre_poisson_ratio,
        resin_poisson_ratio,
    )
    layers = layers_of(architectures, areal_masses_g_m2, glass_fractions, angles_degrees, made_of)
    return summed(layers, range(len(architectures)))


def compare_laminates(
    old_architectures: Sequence[Architecture],
    old_areal_masses_g_m2: Sequence[float],
    old_glass_fractions: Sequence[float],
    old_angles_degrees: Sequence[float],
    new_architectures: Sequence[Architecture],
    new_areal_masses_g_m2: Sequence[float],
    new_glass_fractions: Sequence[float],
    new_angles_degrees: Sequence[float],
    glass_density_kg_m3: float,
    resin_density_kg_m3: float,
    fibre_modulus_MPa: float,
    resin_modulus_MPa: float,
    fibre_poisson_ratio: float,
    resin_poisson_ratio: float,
) -> LaminateComparison:
    """An old and a new laminate of E-glass side by side.

    Args:
        old_architectures: mat, woven, biaxial or unidirectional for each old layer, 1 to 200 entries.
        old_areal_masses_g_m2: dry glass of each old layer, g/m2, 10 to 5000; one value for all or one for each.
        old_glass_fractions: glass content by mass, dimensionless, 0.10 to 0.80; one or one for each.
        old_angles_degrees: first axis of each to the laminate's x, degrees, -180 to 180; one or one for each.
        new_architectures: the same for the new layers in the order laid, 1 to 200 entries.
        new_areal_masses_g_m2: dry glass of each new layer, g/m2, 10 to 5000.
        new_glass_fractions: glass content by mass, dimensionless, 0.10 to 0.80.
        new_angles_degrees: first axis of each to the laminate's x, degrees, -180 to 180.
        glass_density_kg_m3: density of the glass, or of the carbon laid in its place, kg/m3, 1700 to 3000.
        resin_density_kg_m3: density of the cured resin, kg/m3, 900 to 2000.
        fibre_modulus_MPa: modulus of the glass, MPa, 10000 to 500000.
        resin_modulus_MPa: modulus of the cured resin, MPa, 100 to 10000.
        fibre_poisson_ratio: of the glass, dimensionless, 0.0 to 0.49.
        resin_poisson_ratio: of the cured resin, dimensionless, 0.0 to 0.49.
    Returns:
        LaminateComparison: both laminates, and new over old for thickness, mass, pull and bending.
    Raises:
        OutOfRange: a value is outside its range, or a list has the wrong length.
        UnknownArchitecture: an architecture is none of the four.
    Formula: ratio = new/old of the values of laid_laminate
    Symbols: as in laid_laminate
    Valid: as laid_laminate; an old laminate that is cracked, wet or softened is less stiff than its layers say
    Source: those of laid_laminate
    Example:
        >>> same = (["mat"], [450], [0.3], [0])
        >>> compare_laminates(*same, *same, 2560, 1200, 72000, 3300, 0.22, 0.35).bending_x_ratio
        1.0
    """
    made_of = GlassAndResin(
        glass_density_kg_m3, resin_density_kg_m3, fibre_modulus_MPa, resin_modulus_MPa, fibre_poisson_ratio,
        resin_poisson_ratio,
    )
    old_layers = layers_of(
        old_architectures, old_areal_masses_g_m2, old_glass_fractions, old_angles_degrees, made_of, "old_"
    )
    new_layers = layers_of(
        new_architectures, new_areal_masses_g_m2, new_glass_fractions, new_angles_degrees, made_of, "new_"
    )
    old, new = summed(old_layers, range(len(old_architectures))), summed(new_layers, range(len(new_architectures)))
    return LaminateComparison(
        old=old,
        new=new,
        thickness_ratio=new.thickness_mm / old.thickness_mm,
        mass_ratio=new.mass_kg_m2 / old.mass_kg_m2,
        in_plane_x_ratio=new.in_plane_stiffness_x_N_mm / old.in_plane_stiffness_x_N_mm,
        in_plane_y_ratio=new.in_plane_stiffness_y_N_mm / old.in_plane_stiffness_y_N_mm,
        bending_x_ratio=new.bending_stiffness_x_Nmm / old.bending_stiffness_x_Nmm,
        bending_y_ratio=new.bending_stiffness_y_Nmm / old.bending_stiffness_y_Nmm,
    )
