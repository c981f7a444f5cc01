"""What a sprung panel leaves in the glue line after the clamps come off."""

from dataclasses import dataclass
from math import exp, sin, sqrt

from advisor.calculators.ranges import Range, require

__all__ = ["EdgeLoad", "ResidualTension", "edge_load_glued_flat", "residual_tension"]

FORCE_N_MM = Range(0, 2500)
EDGE_LOAD_N_MM = Range(0, 10_000)
EDGE_MOMENT_N = Range(0, 50_000_000)
FREE_LENGTH_MM = Range(10, 10_000)
BOND_WIDTH_MM = Range(1, 1000)
THICKNESS_MM = Range(0.2, 100)
MODULUS_MPA = Range(10, 300_000)
BOND_LINE_MM = Range(0.05, 50)
ADHESIVE_MODULUS_MPA = Range(0.1, 20_000)
SMALL = 1e-3


@dataclass(frozen=True, slots=True)
class EdgeLoad:
    """What the panel puts on the edge of the bond, per length of joint."""

    joint_edge_load_N_mm: float
    joint_edge_moment_N: float


@dataclass(frozen=True, slots=True)
class ResidualTension:
    """Tension across the glue line that never goes away."""

    mean_tension_MPa: float
    peak_tension_MPa: float
    peak_to_mean_ratio: float
    transfer_length_mm: float


def edge_load_glued_flat(force_per_length_N_mm: float, free_length_mm: float) -> EdgeLoad:
    """Load on the bond of a panel that was pulled shut with its edge free to tilt and then glued flat over a flange.

    For a pull that was measured; closing_force gives the same with edge_condition guided.

    Args:
        force_per_length_N_mm: force that closed the gap with the edge free to tilt, per length, N/mm, 0 to 2500.
        free_length_mm: from where the panel is held to the joint, mm, 10 to 10000.
    Returns:
        EdgeLoad: load (N/mm) and moment (N mm per mm, written N) on the edge of the bond.
    Raises:
        OutOfRange: an argument is outside its range.
    Valid: flat panel of even thickness held firmly at the far end; for a shell or a ribbed panel a guess, mostly too
        high. A bond line that may stay wedge-shaped leaves the load as measured, and no moment.
    Formula: load = 4 x force per length; moment = load x free length/2
    Source: Roark's Formulas for Stress and Strain, table of beams, 12 E I/L^3 against 3 E I/L^3 (from-memory)
    Example:
        >>> edge_load_glued_flat(0.25, 400)
        EdgeLoad(joint_edge_load_N_mm=1.0, joint_edge_moment_N=200.0)
    """
    require(FORCE_N_MM, force_per_length_N_mm=force_per_length_N_mm)
    require(FREE_LENGTH_MM, free_length_mm=free_length_mm)
    load_N_mm = 4 * force_per_length_N_mm
    return EdgeLoad(joint_edge_load_N_mm=load_N_mm, joint_edge_moment_N=load_N_mm * free_length_mm / 2)


def residual_tension(
    edge_load_N_mm: float,
    edge_moment_N: float,
    bond_width_mm: float,
    thickness_mm: float,
    modulus_MPa: float,
    bond_line_mm: float,
    adhesive_modulus_MPa: float,
) -> ResidualTension:
    """Tension at the edge of a bond that holds a sprung panel down on something stiff.

    This is a load for ever: set it against the sustained-load allowance in peel and cleavage at the
    temperature of service, not against a data sheet's short-term strength.

    Args:
        edge_load_N_mm: pull of the panel away from the joint, per length, N/mm, 0 to 10000.
        edge_moment_N: moment at the same edge, N mm per mm of joint, written N, 0 to 50000000; 0 if the edge may tilt.
        bond_width_mm: width of the bond, away from the edge that is pulled, mm, 1 to 1000.
        thickness_mm: thickness of the panel, mm, 0.2 to 100.
        modulus_MPa: bending modulus of the panel, MPa, 10 to 300000.
        bond_line_mm: thickness of the glue line, mm, 0.05 to 50.
        adhesive_modulus_MPa: tensile modulus of the glue, MPa, 0.1 to 20000.
    Returns:
        ResidualTension: mean over the bond and peak at its edge (MPa), their ratio (dimensionless), and the
        length (mm) within which the peak dies away.
    Raises:
        OutOfRange: an argument is outside its range.
    Valid: elastic panel and glue, no fillet, nothing else that holds the panel; the part below is rigid. Glue that
        creeps eases the peak and opens the joint; brittle glue does not.
    Formula: b = (3 (Ea/h)/(E t^3))^(1/4); x = b w; D = sinh^2 x - sin^2 x; peak = 2 b q (sinh x cosh x - sin x cos
        x)/D + 2 b^2 m (sinh^2 x + sin^2 x)/D; mean = q/w; transfer length = 1/b; with q edge load, m edge moment, w
        bond width, t thickness, E modulus, h bond line, Ea adhesive modulus
    Source: Hetenyi, Beams on Elastic Foundation, University of Michigan Press 1946, beam of finite length with free
        ends (from-memory)
    Example:
        >>> result = residual_tension(0.15, 0, 25, 3, 7000, 1, 10)
        >>> round(result.mean_tension_MPa, 4), round(result.peak_tension_MPa, 4)
        (0.006, 0.0341)
    """
    require(EDGE_LOAD_N_MM, edge_load_N_mm=edge_load_N_mm)
    require(EDGE_MOMENT_N, edge_moment_N=edge_moment_N)
    require(BOND_WIDTH_MM, bond_width_mm=bond_width_mm)
    require(THICKNESS_MM, thickness_mm=thickness_mm)
    require(MODULUS_MPA, modulus_MPa=modulus_MPa)
    require(BOND_LINE_MM, bond_line_mm=bond_line_mm)
    require(ADHESIVE_MODULUS_MPA, adhesive_modulus_MPa=adhesive_modulus_MPa)
    per_mm = sqrt(sqrt(3 * adhesive_modulus_MPa / bond_line_mm / (modulus_MPa * thickness_mm**3)))
    by_load, by_moment = _foundation(per_mm * bond_width_mm)
    mean_MPa = edge_load_N_mm / bond_width_mm
    ratio_by_load = 2 * per_mm * bond_width_mm * by_load
    peak_MPa = ratio_by_load * mean_MPa + 2 * per_mm**2 * edge_moment_N * by_moment
    return ResidualTension(
        mean_tension_MPa=mean_MPa,
        peak_tension_MPa=peak_MPa,
        peak_to_mean_ratio=peak_MPa / mean_MPa if mean_MPa else ratio_by_load,
        transfer_length_mm=1 / per_mm,
    )


def _foundation(x: float) -> tuple[float, float]:
    """Deflection at the loaded end of a short beam to that of an endless one: by a load, by a moment."""
    if x < SMALL:  # the difference of squares would lose its digits
        return 2 / x, 3 / x**2
    # All terms times 4 exp(-2x), so that nothing overflows.
    decay = exp(-2 * x)
    difference = (1 - decay) ** 2 - 4 * decay * sin(x) ** 2
    by_load = (1 - decay**2 - 2 * decay * sin(2 * x)) / difference
    by_moment = ((1 - decay) ** 2 + 4 * decay * sin(x) ** 2) / difference
    return by_load, by_moment
