"""A taper (scarf) under load: stress across it, length for a load, and how much strength a repair gives back."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot, sqrt

from advisor.calculators.ranges import Range, require, require_each, require_entries

__all__ = [
    "ScarfComparison",
    "ScarfEfficiency",
    "ScarfLength",
    "ScarfStress",
    "compare_scarfs",
    "scarf_efficiency",
    "scarf_for_load",
    "scarf_stress",
]

LINE_LOAD_N_MM = Range(0, 100_000)
THICKNESS_MM = Range(0.1, 200)
TAPER_RATIO = Range(1, 200)
STRENGTH_MPA = Range(0.001, 5000)
MOST_TAPERS = 20
STEEPEST = 1.0


@dataclass(frozen=True, slots=True)
class ScarfStress:
    """Stress on a sloping bond, and its size."""

    laminate_stress_MPa: float
    shear_MPa: float
    normal_MPa: float
    shear_to_laminate_ratio: float
    normal_to_laminate_ratio: float
    taper_length_mm: float
    sloping_length_mm: float


@dataclass(frozen=True, slots=True)
class ScarfLength:
    """The steepest taper that bears a load."""

    taper_ratio: float
    taper_length_mm: float
    governed_by: str


@dataclass(frozen=True, slots=True)
class ScarfEfficiency:
    """How much of the sound laminate's strength one taper gives back."""

    taper_ratio: float
    taper_length_mm: float
    shear_needed_MPa: float
    normal_needed_MPa: float
    shear_margin_ratio: float
    normal_margin_ratio: float
    efficiency_fraction: float
    governed_by: str


@dataclass(frozen=True, slots=True)
class ScarfComparison:
    """Tapers side by side, in the order given."""

    tapers: tuple[ScarfEfficiency, ...]


def scarf_stress(line_load_N_mm: float, thickness_mm: float, taper_ratio: float) -> ScarfStress:
    """Shear along a taper and tension across it, spread evenly, from a pull in the plane of the laminate.

    Args:
        line_load_N_mm: pull per width of the joint, N/mm, 0 to 100000.
        thickness_mm: thickness of the laminate, mm, 0.1 to 200.
        taper_ratio: taper length to thickness, dimensionless, 1 to 200.
    Returns:
        ScarfStress: stress in the laminate, shear and tension on the slope (MPa), both also as ratios to the stress in
        the laminate (dimensionless); taper length seen from above and along the slope (mm).
    Raises:
        OutOfRange: an argument is outside its range.
    Valid: both sides equally stiff, pull in line, no bending. Beside stiff plies the shear is higher than this even
        spread: more the more the plies differ.
    Formula: s = line load/thickness; shear = s n/(n^2 + 1); tension = s/(n^2 + 1); taper length = n x thickness; slope
        = thickness x (n^2 + 1)^(1/2); with n taper ratio
    Source: rotation of plane stress; used for scarf repairs, and its limits named, in DSTO-RR-0317, 2006 (abstract)
    Example:
        >>> result = scarf_stress(100, 1, 12)
        >>> round(result.shear_MPa, 3), round(result.normal_MPa, 4)
        (8.276, 0.6897)
    """
    require(LINE_LOAD_N_MM, line_load_N_mm=line_load_N_mm)
    require(THICKNESS_MM, thickness_mm=thickness_mm)
    require(TAPER_RATIO, taper_ratio=taper_ratio)
    shear_ratio, normal_ratio = _stress_ratios(taper_ratio)
    stress_MPa = line_load_N_mm / thickness_mm
    return ScarfStress(
        laminate_stress_MPa=stress_MPa,
        shear_MPa=stress_MPa * shear_ratio,
        normal_MPa=stress_MPa * normal_ratio,
        shear_to_laminate_ratio=shear_ratio,
        normal_to_laminate_ratio=normal_ratio,
        taper_length_mm=thickness_mm * taper_ratio,
        sloping_length_mm=thickness_mm * hypot(taper_ratio, 1),
    )


def scarf_for_load(
    line_load_N_mm: float, thickness_mm: float, allowable_shear_MPa: float, allowable_normal_MPa: float
) -> ScarfLength:
    """The steepest taper, from 1:1 on, whose shear and tension stay within their allowances.

    Args:
        line_load_N_mm: pull per width of the joint, N/mm, 0 to 100000.
        thickness_mm: thickness of the laminate, mm, 0.1 to 200.
        allowable_shear_MPa: shear allowed on the taper, knocked down already, MPa, 0.001 to 5000.
        allowable_normal_MPa: tension allowed across it, knocked down already, MPa, 0.001 to 5000.
    Returns:
        ScarfLength: taper length to thickness (dimensionless), taper length (mm), and which stress governs: shear,
        tension or neither.
    Raises:
        OutOfRange: an argument is outside its range.
    Valid: both sides equally stiff, pull in line, no bending. A strength sum alone never makes a taper steeper than
        what the trade and the rules ask.
    Formula: s = line load/thickness; n = largest of 1, (s + (s^2 - 4 a^2)^(1/2))/(2 a), (s/allowable normal -
        1)^(1/2); length = n x thickness; with a allowable shear
    Source: rotation of plane stress, solved for the taper
    Example:
        >>> result = scarf_for_load(100, 1, 8.27586, 5)
        >>> round(result.taper_ratio, 2), round(result.taper_length_mm, 1), result.governed_by
        (12.0, 12.0, 'shear')
    """
    require(LINE_LOAD_N_MM, line_load_N_mm=line_load_N_mm)
    require(THICKNESS_MM, thickness_mm=thickness_mm)
    require(STRENGTH_MPA, allowable_shear_MPa=allowable_shear_MPa, allowable_normal_MPa=allowable_normal_MPa)
    stress_MPa = line_load_N_mm / thickness_mm
    root = sqrt(max(stress_MPa**2 - 4 * allowable_shear_MPa**2, 0))
    needed = {
        "neither": STEEPEST,
        "shear": (stress_MPa + root) / (2 * allowable_shear_MPa) if root else STEEPEST,
        "tension": sqrt(max(stress_MPa / allowable_normal_MPa - 1, 0)),
    }
    governed_by = max(needed, key=lambda reason: needed[reason])
    taper_ratio = needed[governed_by]
    return ScarfLength(taper_ratio=taper_ratio, taper_length_mm=taper_ratio * thickness_mm, governed_by=governed_by)


def scarf_efficiency(
    taper_ratio: float,
    thickness_mm: float,
    laminate_strength_MPa: float,
    repair_strength_MPa: float,
    allowable_shear_MPa: float,
    allowable_normal_MPa: float,
) -> ScarfEfficiency:
    """How much of the sound laminate's strength a tapered repair of the same thickness gives back.

    Args:
        taper_ratio: taper length to thickness, dimensionless, 1 to 200.
        thickness_mm: thickness of the laminate, mm, 0.1 to 200.
        laminate_strength_MPa: tensile strength of the sound laminate, MPa, 0.001 to 5000.
        repair_strength_MPa: tensile strength of the laminate laid in the repair, MPa, 0.001 to 5000.
        allowable_shear_MPa: shear strength of the secondary bond as it may be counted on, MPa, 0.001 to 5000.
        allowable_normal_MPa: tensile strength of that bond as it may be counted on, MPa, 0.001 to 5000.
    Returns:
        ScarfEfficiency: shear and tension (MPa) that the bond would need to break the laminate elsewhere, what it has
        as a ratio to each (dimensionless), and the share of the strength given back, at most 1
        (dimensionless); governed_by: shear, tension, repair or laminate.
    Raises:
        OutOfRange: an argument is outside its range.
    Valid: both sides equally stiff, pull in line; strengths of one kind, short-term with short-term. Tests on glass
        laminates with tapers of 6, 12 and 20 found 12 close to the sound laminate, 20 no better, 6 the worst.
    Formula: needed shear = S n/(n^2 + 1); needed tension = S/(n^2 + 1); efficiency = least of 1, allowable
        shear/needed, allowable normal/needed, repair strength/S; taper length = n x thickness; with S laminate
        strength, n taper ratio
    Source: rotation of plane stress; tests: Rothbarth and Pinto, Fibreglass repair behaviour as a function of the
        scarf angle, Trends in the Analysis and Design of Marine Structures, 2019, pages 385-390 (abstract)
    Example:
        >>> result = scarf_efficiency(8, 3, 85, 85, 7, 7)
        >>> round(result.shear_needed_MPa, 2), round(result.efficiency_fraction, 3), result.governed_by
        (10.46, 0.669, 'shear')
    """
    require(TAPER_RATIO, taper_ratio=taper_ratio)
    require(THICKNESS_MM, thickness_mm=thickness_mm)
    require(STRENGTH_MPA, laminate_strength_MPa=laminate_strength_MPa, repair_strength_MPa=repair_strength_MPa)
    require(STRENGTH_MPA, allowable_shear_MPa=allowable_shear_MPa, allowable_normal_MPa=allowable_normal_MPa)
    shear_ratio, normal_ratio = _stress_ratios(taper_ratio)
    shear_MPa, normal_MPa = laminate_strength_MPa * shear_ratio, laminate_strength_MPa * normal_ratio
    shares = {
        "laminate": 1.0,
        "shear": allowable_shear_MPa / shear_MPa,
        "tension": allowable_normal_MPa / normal_MPa,
        "repair": repair_strength_MPa / laminate_strength_MPa,
    }
    governed_by = min(shares, key=lambda reason: shares[reason])
    return ScarfEfficiency(
        taper_ratio=taper_ratio,
        taper_length_mm=taper_ratio * thickness_mm,
        shear_needed_MPa=shear_MPa,
        normal_needed_MPa=normal_MPa,
        shear_margin_ratio=shares["shear"],
        normal_margin_ratio=shares["tension"],
        efficiency_fraction=shares[governed_by],
        governed_by=governed_by,
    )


def compare_scarfs(
    each_taper_ratio: Sequence[float],
    thickness_mm: float,
    laminate_strength_MPa: float,
    repair_strength_MPa: float,
    allowable_shear_MPa: float,
    allowable_normal_MPa: float,
) -> ScarfComparison:
    """Several tapers side by side: room they take, stress they put on the bond, strength they give back.

    Args:
        each_taper_ratio: tapers to compare, each taper length to thickness, dimensionless, 1 to 200; at most twenty.
        thickness_mm: thickness of the laminate, mm, 0.1 to 200.
        laminate_strength_MPa: tensile strength of the sound laminate, MPa, 0.001 to 5000.
        repair_strength_MPa: tensile strength of the laminate laid in the repair, MPa, 0.001 to 5000.
        allowable_shear_MPa: shear strength of the secondary bond as it may be counted on, MPa, 0.001 to 5000.
        allowable_normal_MPa: tensile strength of that bond as it may be counted on, MPa, 0.001 to 5000.
    Returns:
        ScarfComparison: scarf_efficiency of each taper.
    Raises:
        OutOfRange: an argument is outside its range, or there are no tapers or more than twenty.
    Valid: both sides equally stiff, pull in line, no bending; the same kind of strength on both sides.
    Formula: needed shear = S n/(n^2 + 1); needed tension = S/(n^2 + 1); efficiency = least of 1, allowable
        shear/needed, allowable normal/needed, repair strength/S; taper length = n x thickness; with S laminate
        strength, n each taper ratio in turn
    Source: rotation of plane stress, as scarf_efficiency
    Example:
        >>> table = compare_scarfs([8, 12, 20, 50], 3, 85, 85, 7, 7)
        >>> [(taper.taper_length_mm, round(taper.efficiency_fraction, 2)) for taper in table.tapers]
        [(24, 0.67), (36, 1.0), (60, 1.0), (150, 1.0)]
    """
    require_entries("each_taper_ratio", each_taper_ratio, MOST_TAPERS)
    require_each(TAPER_RATIO, "each_taper_ratio", each_taper_ratio)
    strengths = (laminate_strength_MPa, repair_strength_MPa, allowable_shear_MPa, allowable_normal_MPa)
    return ScarfComparison(tuple(scarf_efficiency(ratio, thickness_mm, *strengths) for ratio in each_taper_ratio))


def _stress_ratios(taper_ratio: float) -> tuple[float, float]:
    """Shear and tension on the slope to the stress in the laminate."""
    return taper_ratio / (taper_ratio**2 + 1), 1 / (taper_ratio**2 + 1)
