"""Pulling a panel to close a gap: the force it takes, per length and per clamp, and what it does to the panel."""

from dataclasses import dataclass
from typing import Literal, NamedTuple

from advisor.calculators.ranges import Range, require

__all__ = ["ClosingForce", "EdgeCondition", "MeasuredForce", "closing_force", "closing_force_from_pull"]

EdgeCondition = Literal["free", "guided", "both_supported", "both_held"]

THICKNESS_MM = Range(0.2, 100)
MODULUS_MPA = Range(10, 300_000)
FREE_LENGTH_MM = Range(10, 10_000)
GAP_MM = Range(0, 500)
JOINT_LENGTH_MM = Range(1, 100_000)
CLAMP_SPACING_MM = Range(1, 10_000)
PULL_N = Range(0.01, 100_000)
PULLED_DISTANCE_MM = Range(0.1, 500)


class _Strip(NamedTuple):
    """A strip: force = stiffness EI gap/L³; moments as shares of force x L; how far it may bend."""

    stiffness: float
    largest_moment: float
    joint_load_share: float
    joint_moment: float
    most_gap_to_length: float
    most_gap_to_thickness: float


# Ends that cannot draw in stretch the panel: a sixth (supported) and a third (held) of the thickness keep
# the force missed by bending alone to about 8 %. Without stretch a tenth of the length keeps it to about 1 %.
_STRIPS: dict[str, _Strip] = {
    "free": _Strip(3, 1, 1, 0, 0.1, float("inf")),
    "guided": _Strip(12, 1 / 2, 1, 1 / 2, 0.1, float("inf")),
    "both_supported": _Strip(48, 1 / 4, 1 / 2, 1 / 4, 0.1, 1 / 6),
    "both_held": _Strip(192, 1 / 8, 1 / 2, 1 / 8, 0.1, 1 / 3),
}


@dataclass(frozen=True, slots=True)
class ClosingForce:
    """Force to close a gap by bending a flat panel, and what that leaves in panel and joint."""

    force_per_length_N_mm: float
    total_force_N: float
    force_per_clamp_N: float
    bending_stress_MPa: float
    bending_strain_percent: float
    stored_energy_J: float
    joint_edge_load_N_mm: float
    joint_edge_moment_N: float
    small_deflection: bool


@dataclass(frozen=True, slots=True)
class MeasuredForce:
    """Force to close a gap, from a pull that was measured."""

    stiffness_N_mm: float
    force_at_gap_N: float
    force_per_length_N_mm: float
    total_force_N: float
    force_per_clamp_N: float
    stored_energy_J: float
    gap_to_pulled_ratio: float


def closing_force(
    thickness_mm: float,
    modulus_MPa: float,
    free_length_mm: float,
    edge_condition: EdgeCondition,
    gap_mm: float,
    joint_length_mm: float,
    clamp_spacing_mm: float,
) -> ClosingForce:
    """Force to pull a flat panel shut over a gap that is the same all along the joint.

    A curved or ribbed panel is far stiffer than a flat one: measure the pull instead (closing_force_from_pull).

    Args:
        thickness_mm: thickness of the panel, mm, 0.2 to 100.
        modulus_MPa: bending modulus of the panel, MPa, 10 to 300000.
        free_length_mm: from where the panel is held to the joint, or between its two holds when the joint
            lies midway between them, mm, 10 to 10000.
        edge_condition: free (the edge may tilt while it is pulled), guided (the edge is pressed flat and cannot
            tilt, as when glued over a flange), both_supported (joint midway, the panel may tilt at both holds)
            or both_held (joint midway, it cannot tilt at either).
        gap_mm: how far the panel is pulled, bond line left out, mm, 0 to 500.
        joint_length_mm: length of the joint, mm, 1 to 100000.
        clamp_spacing_mm: from clamp to clamp along the joint, mm, 1 to 10000.
    Returns:
        ClosingForce: force per length (N/mm), in all and per clamp (N); stress (MPa) and strain (%) where
        the panel bends most; energy stored in the whole panel (J), let go at once if a clamp slips; load (N/mm) and
        moment (N mm per mm, written N) that one edge of the bond keeps; whether the panel bends little
        enough for the formula.
    Raises:
        OutOfRange: an argument is outside its range.
        ValueError: the edge condition is not one of the four.
    Valid: flat panel of even thickness, elastic. small_deflection false: the true force is higher, measure it. A panel
        much wider than its free length is about a tenth stiffer than the strip of this formula.
    Formula: q = c E (t^3/12) gap/L^3, c = 3 free, 12 guided, 48 both_supported, 192 both_held; in all q x joint
        length, per clamp q x clamp spacing; stress = 6 m q L/t^2, m = 1, 1/2, 1/4, 1/8; strain = stress/E; energy = q
        x gap x joint length/2; edge moment = 0, q L/2, q L/4, q L/8; edge load = q, for both_ q/2; small deflection:
        gap <= L/10, for both_supported also <= t/6, for both_held also <= t/3; with E modulus, t thickness, L free
        length
    Source: Roark's Formulas for Stress and Strain, table of beams (from-memory); limits of small deflection computed
    Example:
        >>> result = closing_force(3, 7000, 400, "free", 5, 50, 50)
        >>> round(result.total_force_N, 5), round(result.bending_stress_MPa, 3)
        (0.18457, 0.984)
    """
    require(THICKNESS_MM, thickness_mm=thickness_mm)
    require(MODULUS_MPA, modulus_MPa=modulus_MPa)
    require(FREE_LENGTH_MM, free_length_mm=free_length_mm)
    require(GAP_MM, gap_mm=gap_mm)
    _require_joint(joint_length_mm, clamp_spacing_mm)
    strip = _strip(edge_condition)
    line_load_N_mm = strip.stiffness * modulus_MPa * thickness_mm**3 / 12 * gap_mm / free_length_mm**3
    moment_N = line_load_N_mm * free_length_mm
    stress_MPa = 6 * strip.largest_moment * moment_N / thickness_mm**2
    return ClosingForce(
        force_per_length_N_mm=line_load_N_mm,
        total_force_N=line_load_N_mm * joint_length_mm,
        force_per_clamp_N=line_load_N_mm * clamp_spacing_mm,
        bending_stress_MPa=stress_MPa,
        bending_strain_percent=100 * stress_MPa / modulus_MPa,
        stored_energy_J=line_load_N_mm * gap_mm * joint_length_mm / 2000,
        joint_edge_load_N_mm=strip.joint_load_share * line_load_N_mm,
        joint_edge_moment_N=strip.joint_moment * moment_N,
        small_deflection=gap_mm
        <= min(strip.most_gap_to_length * free_length_mm, strip.most_gap_to_thickness * thickness_mm),
    )


def closing_force_from_pull(
    pull_N: float,
    pulled_distance_mm: float,
    gap_mm: float,
    moved_length_mm: float,
    joint_length_mm: float,
    clamp_spacing_mm: float,
) -> MeasuredForce:
    """Force to close a gap, from a pull on the real panel with a luggage or spring scale.

    To be preferred to the formula: it takes in curvature, ribs and how the panel is really held.

    Args:
        pull_N: reading of the scale while it holds the panel at the distance, N, 0.01 to 100000.
        pulled_distance_mm: how far the panel moved where it was pulled, mm, 0.1 to 500.
        gap_mm: how far it has to move, bond line left out, mm, 0 to 500.
        moved_length_mm: length of joint that this one pull moved at least half as far, mm, 1 to 100000.
        joint_length_mm: length of the joint, mm, 1 to 100000.
        clamp_spacing_mm: from clamp to clamp along the joint, mm, 1 to 10000.
    Returns:
        MeasuredForce: stiffness at the pull (N/mm); force there with the gap closed, in all and per clamp (N);
        force per length (N/mm); energy stored in the panel (J); gap as a multiple of the distance pulled.
    Raises:
        OutOfRange: an argument is outside its range.
    Valid: best when pulled all the way. From a gap of more than about twice the distance pulled the force is a guess,
        low where the panel stiffens as it bends; thermoplastics also ease off with time.
    Formula: stiffness = pull/pulled distance; F = stiffness x gap; q = F/moved length; per clamp = q x clamp spacing;
        in all = q x joint length; energy = q x gap x joint length/2
    Source: linear elasticity; common-practice
    Example:
        >>> result = closing_force_from_pull(40, 5, 10, 200, 1000, 150)
        >>> result.force_at_gap_N, result.force_per_length_N_mm, result.force_per_clamp_N
        (80.0, 0.4, 60.0)
    """
    require(PULL_N, pull_N=pull_N)
    require(PULLED_DISTANCE_MM, pulled_distance_mm=pulled_distance_mm)
    require(GAP_MM, gap_mm=gap_mm)
    require(JOINT_LENGTH_MM, moved_length_mm=moved_length_mm)
    _require_joint(joint_length_mm, clamp_spacing_mm)
    stiffness_N_mm = pull_N / pulled_distance_mm
    line_load_N_mm = stiffness_N_mm * gap_mm / moved_length_mm
    return MeasuredForce(
        stiffness_N_mm=stiffness_N_mm,
        force_at_gap_N=stiffness_N_mm * gap_mm,
        force_per_length_N_mm=line_load_N_mm,
        total_force_N=line_load_N_mm * joint_length_mm,
        force_per_clamp_N=line_load_N_mm * clamp_spacing_mm,
        stored_energy_J=line_load_N_mm * gap_mm * joint_length_mm / 2000,
        gap_to_pulled_ratio=gap_mm / pulled_distance_mm,
    )


def _require_joint(joint_length_mm: float, clamp_spacing_mm: float) -> None:
    require(JOINT_LENGTH_MM, joint_length_mm=joint_length_mm)
    require(CLAMP_SPACING_MM, clamp_spacing_mm=clamp_spacing_mm)


def _strip(edge_condition: str) -> _Strip:
    if edge_condition not in _STRIPS:
        raise ValueError(f"`edge_condition` is `{edge_condition}`, must be one of {', '.join(_STRIPS)}")
    return _STRIPS[edge_condition]
