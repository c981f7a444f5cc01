"""A single lap between two like parts: how it bends, and the shear and peel at the ends of its glue line."""

from dataclasses import dataclass
from math import cos, exp, sin, sqrt, tanh

from advisor.calculators import shear_lag
from advisor.calculators.ranges import Range, require

__all__ = ["LapEdges", "lap_edges"]

POISSON_RATIO = Range(0, 0.5)
TENSILE_MODULUS_MPA = Range(0.1, 20_000)
FLEXIBLE_BOND_LINE = 0.1


@dataclass(frozen=True, slots=True)
class LapEdges:
    """Bending, shear and peel at the ends of a single lap."""

    line_load_N_mm: float
    edge_moment_ratio: float
    edge_force_ratio: float
    mean_shear_MPa: float
    edge_shear_MPa: float
    edge_peel_MPa: float
    edge_peel_thick_line_MPa: float
    shear_to_mean_ratio: float
    peel_to_mean_shear_ratio: float
    part_stress_MPa: float
    part_stress_thick_line_MPa: float
    part_stress_to_direct_ratio: float
    flexible_bond_line: bool


def lap_edges(
    load_N: float,
    overlap_mm: float,
    joint_width_mm: float,
    thickness_mm: float,
    modulus_MPa: float,
    poisson_ratio: float,
    bond_line_mm: float,
    adhesive_shear_modulus_MPa: float,
    adhesive_tensile_modulus_MPa: float,
) -> LapEdges:
    """Shear and peel at the ends of a single lap of two like parts, which bends because the pull is off centre.

    Args:
        load_N: load through the joint, N, 0 to 1000000.
        overlap_mm: overlap along the load, mm, 1 to 2000.
        joint_width_mm: length of the joint across the load, mm, 1 to 100000.
        thickness_mm: thickness of each part, mm, 0.2 to 100.
        modulus_MPa: tensile and bending modulus of the parts, MPa, 10 to 300000.
        poisson_ratio: Poisson's ratio of the parts, dimensionless, 0 to 0.5.
        bond_line_mm: thickness of the glue line, mm, 0.05 to 50.
        adhesive_shear_modulus_MPa: shear modulus of the glue, MPa, 0.05 to 5000.
        adhesive_tensile_modulus_MPa: tensile modulus of the glue, MPa, 0.1 to 20000.
    Returns:
        LapEdges: load per length (N/mm); factors k of moment and k' of transverse force, shear and peel as ratios
        to the mean shear (dimensionless); mean shear, shear and peel at the ends, and the stress in the part at the
        end of the overlap with its bending (MPa), the last also as a ratio to the direct pull (dimensionless); peel
        and part stress once more with the pull further off centre by the bond line (thick_line, MPa): use these;
        whether the bond line is so flexible against the parts that the theory holds closely.
    Raises:
        OutOfRange: an argument is outside its range.
    Valid: two like parts, long ends that are free to turn, elastic, no fillet of glue. flexible_bond_line false: the
        parts give through their thickness too, and the true peaks are lower. Edge shear leaves out how far a thick
        bond line puts the pull off centre. A thicker bond line lowers these peaks, yet tests find lower strength with
        it: never buy strength by thickness.
    Formula: p = load/joint width; c = overlap/2; e = (1 - nu^2) p/(E t); k = 1/(1 + 2^(3/2) tanh((3 e/2)^(1/2) c/t));
        k' = k (c/t) (3 e)^(1/2); b = (c/t) (8 G t/(E h))^(1/2); shear = p/(8 c) (b (1 + 3 k) coth b + 3 (1 - k)); y =
        (c/t) (6 Ea t/(E h))^(1/4); N = sinh 2y + sin 2y; peel = p t/c^2 (y^2 k/2 (sinh 2y - sin 2y)/N + y k' (cosh 2y
        + cos 2y)/N); part stress = p/t (1 + 3 k); thick line: k and k' times 1 + h/t in peel and part stress;
        flexible: Ea t/(E h) and 2 (1 + nu) G t/(E h) <= 0.1; with t thickness, E modulus, nu poisson ratio, h bond
        line, G adhesive shear modulus, Ea adhesive tensile modulus
    Source: Goland and Reissner, Journal of Applied Mechanics 11, 1944, A17 (from-memory), written as in da Silva and
        others, International Journal of Adhesion and Adhesives 29, 2009 (from-memory); 1 - nu^2 stands in the bending
        of the ends only; thick_line: Hart-Smith, NASA CR-112236, 1973 (from-memory); strength and bond line thickness:
        Tomblin and others, DOT/FAA/AR-01/33, 2001 (abstract)
    Example:
        >>> result = lap_edges(2000, 25, 25, 3, 7000, 0.33, 0.3, 1000, 2700)
        >>> round(result.edge_moment_ratio, 5), round(result.edge_shear_MPa, 3), round(result.edge_peel_MPa, 3)
        (0.55035, 30.953, 38.549)
    """
    _require(load_N, overlap_mm, joint_width_mm, thickness_mm, modulus_MPa)
    require(POISSON_RATIO, poisson_ratio=poisson_ratio)
    require(shear_lag.BOND_LINE_MM, bond_line_mm=bond_line_mm)
    require(shear_lag.SHEAR_MODULUS_MPA, adhesive_shear_modulus_MPa=adhesive_shear_modulus_MPa)
    require(TENSILE_MODULUS_MPA, adhesive_tensile_modulus_MPa=adhesive_tensile_modulus_MPa)
    line_load_N_mm = load_N / joint_width_mm
    half_lengths = overlap_mm / 2 / thickness_mm
    bending = (1 - poisson_ratio**2) * line_load_N_mm / (modulus_MPa * thickness_mm)
    k = 1 / (1 + 2 * sqrt(2) * tanh(sqrt(1.5 * bending) * half_lengths))
    k_force = k * half_lengths * sqrt(3 * bending)
    to_part = thickness_mm / (modulus_MPa * bond_line_mm)
    shear_ratio = _edge_shear(half_lengths * sqrt(8 * adhesive_shear_modulus_MPa * to_part), k)
    peel_ratio = _edge_peel(half_lengths * sqrt(sqrt(6 * adhesive_tensile_modulus_MPa * to_part)), k, k_force)
    peel_ratio *= 2 / half_lengths
    mean_MPa = line_load_N_mm / overlap_mm
    offset = 1 + bond_line_mm / thickness_mm
    direct_MPa = line_load_N_mm / thickness_mm
    part_shear_flexibility = 2 * (1 + poisson_ratio) * adhesive_shear_modulus_MPa * to_part
    return LapEdges(
        line_load_N_mm=line_load_N_mm,
        edge_moment_ratio=k,
        edge_force_ratio=k_force,
        mean_shear_MPa=mean_MPa,
        edge_shear_MPa=shear_ratio * mean_MPa,
        edge_peel_MPa=peel_ratio * mean_MPa,
        edge_peel_thick_line_MPa=peel_ratio * mean_MPa * offset,
        shear_to_mean_ratio=shear_ratio,
        peel_to_mean_shear_ratio=peel_ratio,
        part_stress_MPa=direct_MPa * (1 + 3 * k),
        part_stress_thick_line_MPa=direct_MPa * (1 + 3 * k * offset),
        part_stress_to_direct_ratio=1 + 3 * k,
        flexible_bond_line=max(adhesive_tensile_modulus_MPa * to_part, part_shear_flexibility) <= FLEXIBLE_BOND_LINE,
    )


def _require(
    load_N: float, overlap_mm: float, joint_width_mm: float, thickness_mm: float, modulus_MPa: float
) -> None:
    require(shear_lag.LOAD_N, load_N=load_N)
    require(shear_lag.OVERLAP_MM, overlap_mm=overlap_mm)
    require(shear_lag.JOINT_WIDTH_MM, joint_width_mm=joint_width_mm)
    require(shear_lag.THICKNESS_MM, thickness_mm=thickness_mm)
    require(shear_lag.MODULUS_MPA, modulus_MPa=modulus_MPa)


def _edge_shear(b: float, k: float) -> float:
    """Shear at the end to the mean shear."""
    return (b * (1 + 3 * k) * shear_lag.coth(b) + 3 * (1 - k)) / 4


def _edge_peel(y: float, k: float, k_force: float) -> float:
    """Peel at the end times c²/(p t); all hyperbolic terms times 2 exp(-2y), so that nothing overflows."""
    decay = exp(-2 * y)
    sinh_2y, cosh_2y = 1 - decay**2, 1 + decay**2
    sine, cosine = 2 * decay * sin(2 * y), 2 * decay * cos(2 * y)
    by_moment = y**2 * k / 2 * (sinh_2y - sine)
    return (by_moment + y * k_force * (cosh_2y + cosine)) / (sinh_2y + sine)
