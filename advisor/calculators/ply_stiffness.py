"""Stiffness of one wetted-out ply from its glass content and its architecture, by three independent routes."""

from dataclasses import dataclass
from typing import NamedTuple

from advisor.calculators.laminate import fibre_volume_fraction
from advisor.calculators.micromechanics import (
    Architecture,
    halpin_tsai,
    halpin_tsai_stiffness,
    isotropic_shear,
    krenchel_modulus_MPa,
    mixed,
)
from advisor.calculators.ranges import Range, require

__all__ = ["PlyStiffness", "ply_stiffness"]

GLASS_FRACTION = Range(0.10, 0.80)
BS_4994_POISSON_RATIO = 0.30
# Bureau Veritas NR 546, reduction coefficients for E-glass; from-memory.
CLASS_TRANSVERSE, CLASS_SHEAR, CLASS_POISSON = 0.8, 0.9, 0.9


@dataclass(frozen=True, slots=True)
class PlyStiffness:
    """One ply along its own two axes, and what the two cross-checks say of the first."""

    fibre_volume_fraction: float
    modulus_1_MPa: float
    modulus_2_MPa: float
    shear_modulus_MPa: float
    poisson_ratio: float
    krenchel_modulus_MPa: float
    halpin_tsai_modulus_MPa: float
    krenchel_above_percent: float
    halpin_tsai_above_percent: float


class Elastic(NamedTuple):
    """The four numbers of a thin orthotropic ply: moduli in MPa, then the Poisson ratio."""

    modulus_1: float
    modulus_2: float
    shear: float
    poisson: float


def ply_stiffness(
    architecture: Architecture,
    glass_fraction: float,
    glass_density_kg_m3: float,
    resin_density_kg_m3: float,
    fibre_modulus_MPa: float,
    resin_modulus_MPa: float,
    fibre_poisson_ratio: float,
    resin_poisson_ratio: float,
) -> PlyStiffness:
    """Moduli of one ply of E-glass by a standard's formula, with two cross-checks.

    Args:
        architecture: mat, woven, biaxial (both ways, stitched) or unidirectional. The axes lie along the
            glass, so a cloth sold as plus and minus 45 is a biaxial laid at 45 degrees.
        glass_fraction: glass content by mass, dimensionless, 0.10 to 0.80.
        glass_density_kg_m3: density of the glass, or of the carbon laid in its place, kg/m3, 1700 to 3000.
        resin_density_kg_m3: density of the cured resin, kg/m3, 900 to 2000.
        fibre_modulus_MPa: modulus of the glass, MPa, 10000 to 500000.
        resin_modulus_MPa: modulus of the cured resin, MPa, 100 to 10000.
        fibre_poisson_ratio: of the glass, dimensionless, 0.0 to 0.49.
        resin_poisson_ratio: of the cured resin, dimensionless, 0.0 to 0.49.
    Returns:
        PlyStiffness: fibre volume fraction, moduli in MPa, and by how many % Krenchel's and Halpin and
        Tsai's modulus in direction 1 lie above the standard's.
    Raises:
        OutOfRange: an argument is outside its range.
        UnknownArchitecture: the architecture is none of the four.
    Formula: mat and woven: E = 38000 psi - 5000, not below the bare resin; woven G = 1700 psi + 2240;
        mat G = E/(2(1 + nu)); nu = 0.30. Unidirectional: E1 = Vf Ef + (1 - Vf) Em;
        E2 = 0.8 Em/(1 - num^2) (1 + 0.85 Vf^2)/((1 - Vf)^1.25 + Vf Em/(Ef (1 - num^2)));
        G = 0.9 Gm (1 + eta Vf)/(1 - eta Vf), eta = (Gf - Gm)/(Gf + Gm); nu = 0.9 (Vf nuf + (1 - Vf) num).
        Biaxial: half of it each way, E = Q11 - Q12^2/Q11 with Q11 the mean of the unidirectional's two
    Symbols: psi glass by mass; Vf glass by volume; E, G moduli in MPa; f fibre, m resin
    Valid: hand-laid E-glass without voids in a rigid resin, short load, room temperature; mat at 0.25 and
        more of glass by mass (under about 0.22 it is counted as bare resin), woven at 0.40 to 0.60. Measured
        plies lie within about 15 %. Not for soft resin, carbon or aramid
    Source: mat and woven: ISO 12215-5:2008, annex C (from-memory); Poisson ratio BS 4994:1987, seen on a worked
        sheet; biaxial and unidirectional: Bureau Veritas NR 546, section on individual layers (from-memory)
    Example:
        >>> ply = ply_stiffness("woven", 0.48, 2560, 1200, 72000, 3300, 0.22, 0.35)
        >>> round(ply.modulus_1_MPa), round(ply.krenchel_modulus_MPa), round(ply.krenchel_above_percent, 1)
        (13240, 13176, -0.5)
    """
    require(GLASS_FRACTION, glass_fraction=glass_fraction)
    volume = fibre_volume_fraction(glass_fraction, glass_density_kg_m3, resin_density_kg_m3)
    krenchel = krenchel_modulus_MPa(architecture, volume, fibre_modulus_MPa, resin_modulus_MPa)
    fibre_and_resin = (fibre_modulus_MPa, resin_modulus_MPa, fibre_poisson_ratio, resin_poisson_ratio)
    one_way = halpin_tsai_stiffness(volume, *fibre_and_resin)
    straight = Elastic(
        one_way.modulus_1_MPa, one_way.modulus_2_MPa, one_way.shear_modulus_MPa, one_way.poisson_ratio
    )
    checked = _laid(architecture, straight).modulus_1
    if architecture in ("mat", "woven"):
        ply = _iso_12215(architecture, glass_fraction, resin_modulus_MPa)
    else:
        ply = _laid(architecture, _class_unidirectional(volume, *fibre_and_resin))
    return PlyStiffness(
        fibre_volume_fraction=volume,
        modulus_1_MPa=ply.modulus_1,
        modulus_2_MPa=ply.modulus_2,
        shear_modulus_MPa=ply.shear,
        poisson_ratio=ply.poisson,
        krenchel_modulus_MPa=krenchel,
        halpin_tsai_modulus_MPa=checked,
        krenchel_above_percent=100 * (krenchel / ply.modulus_1 - 1),
        halpin_tsai_above_percent=100 * (checked / ply.modulus_1 - 1),
    )


def _iso_12215(architecture: str, glass_fraction: float, resin_modulus: float) -> Elastic:
    """A mat is the same in every direction, so its shear modulus must follow from the other two."""
    modulus = max(38000 * glass_fraction - 5000, resin_modulus)
    shear = isotropic_shear(modulus, BS_4994_POISSON_RATIO) if architecture == "mat" else 1700 * glass_fraction + 2240
    return Elastic(modulus, modulus, shear, BS_4994_POISSON_RATIO)


def _class_unidirectional(
    volume: float, fibre: float, resin: float, fibre_poisson: float, resin_poisson: float
) -> Elastic:
    plane = 1 - resin_poisson**2
    across = resin / plane * (1 + 0.85 * volume**2) / ((1 - volume) ** 1.25 + volume * resin / (fibre * plane))
    fibre_shear, resin_shear = isotropic_shear(fibre, fibre_poisson), isotropic_shear(resin, resin_poisson)
    return Elastic(
        mixed(volume, fibre, resin),
        CLASS_TRANSVERSE * across,
        CLASS_SHEAR * halpin_tsai(volume, fibre_shear, resin_shear),
        CLASS_POISSON * mixed(volume, fibre_poisson, resin_poisson),
    )


def _laid(architecture: str, one_way: Elastic) -> Elastic:
    """Turn straight fibres one way into the same glass laid one way, both ways or at random."""
    if architecture == "unidirectional":
        return one_way
    if architecture == "mat":
        modulus = 3 / 8 * one_way.modulus_1 + 5 / 8 * one_way.modulus_2
        return Elastic(modulus, modulus, isotropic_shear(modulus, BS_4994_POISSON_RATIO), BS_4994_POISSON_RATIO)
    reduced = 1 - one_way.poisson**2 * one_way.modulus_2 / one_way.modulus_1
    both_ways = (one_way.modulus_1 + one_way.modulus_2) / (2 * reduced)
    sideways = one_way.poisson * one_way.modulus_2 / reduced
    modulus = both_ways - sideways**2 / both_ways
    return Elastic(modulus, modulus, one_way.shear, sideways / both_ways)
