"""A lap joint pulled in its own plane: mean shear, shear at its two ends, and overlap that is worth having."""

from dataclasses import dataclass

from advisor.calculators import shear_lag
from advisor.calculators.ranges import Range, require

__all__ = [
    "LapShear",
    "lap_mean_shear_MPa",
    "lap_shear",
    "overlap_at_part_strength_mm",
    "overlap_for_mean_shear_mm",
    "useful_overlap_mm",
]

STRESS_MPA = Range(0.001, 2000)
SHARE_FRACTION = Range(0.1, 0.9999)


@dataclass(frozen=True, slots=True)
class LapShear:
    """Shear along a lap joint by shear-lag; the ends are named after the part whose load comes in there."""

    line_load_N_mm: float
    mean_shear_MPa: float
    shear_where_a_enters_MPa: float
    shear_where_b_enters_MPa: float
    peak_shear_MPa: float
    peak_to_mean_ratio: float
    transfer_length_mm: float
    overlap_to_transfer_ratio: float


def lap_mean_shear_MPa(load_N: float, overlap_mm: float, joint_width_mm: float) -> float:
    """Mean shear of a lap joint, as lap-shear tests are reported.

    Args:
        load_N: load through the joint, N, 0 to 1000000.
        overlap_mm: overlap along the load, mm, 1 to 2000.
        joint_width_mm: length of the joint across the load, mm, 1 to 100000.
    Returns:
        Mean shear stress, MPa.
    Raises:
        OutOfRange: an argument is outside its range.
    Valid: as a mean only: the ends carry more, and a strength measured on a short test piece does not hold for a
        longer overlap.
    Formula: mean shear = load/(overlap x joint width)
    Source: definition; that single-lap test strengths are no design stresses: ASTM D4896
    Example:
        >>> lap_mean_shear_MPa(2000, 25, 25)
        3.2
    """
    require(shear_lag.LOAD_N, load_N=load_N)
    require(shear_lag.OVERLAP_MM, overlap_mm=overlap_mm)
    require(shear_lag.JOINT_WIDTH_MM, joint_width_mm=joint_width_mm)
    return load_N / (overlap_mm * joint_width_mm)


def lap_shear(
    load_N: float,
    overlap_mm: float,
    joint_width_mm: float,
    thickness_a_mm: float,
    modulus_a_MPa: float,
    thickness_b_mm: float,
    modulus_b_MPa: float,
    bond_line_mm: float,
    adhesive_shear_modulus_MPa: float,
) -> LapShear:
    """Shear at both ends of a lap joint between like or unlike parts.

    Args:
        load_N: load through the joint, N, 0 to 1000000.
        overlap_mm: overlap along the load, mm, 1 to 2000.
        joint_width_mm: length of the joint across the load, mm, 1 to 100000.
        thickness_a_mm: thickness of one part, mm, 0.2 to 100.
        modulus_a_MPa: tensile modulus of that part, MPa, 10 to 300000.
        thickness_b_mm: thickness of the other part, mm, 0.2 to 100.
        modulus_b_MPa: tensile modulus of the other part, MPa, 10 to 300000.
        bond_line_mm: thickness of the glue line, mm, 0.05 to 50.
        adhesive_shear_modulus_MPa: shear modulus of the glue, MPa, 0.05 to 5000.
    Returns:
        LapShear: load per length of joint (N/mm); mean, end and peak shear (MPa); peak to mean (dimensionless);
        transfer length (mm), and the overlap as a multiple of it (dimensionless).
    Raises:
        OutOfRange: an argument is outside its range.
    Valid: elastic glue; the parts only stretch. Bending of the parts and peel are left out: lap_edges for a single
        lap. Parts thick against the bond line shear too, which lowers the true peak. Glue that yields before it breaks
        carries more than this peak says, but not for long if loaded for ever.
    Formula: 1/l^2 = (G/h) (1/A + 1/B); x = L/l; shear where a enters = (G/h) l P (coth x/A + 1/(B sinh x)), where b
        enters = (G/h) l P (coth x/B + 1/(A sinh x)); P = load/joint width, mean = P/L; with L overlap, A = modulus a x
        thickness a, B = modulus b x thickness b, G adhesive shear modulus, h bond line
    Source: Volkersen, Luftfahrtforschung 15, 1938 (from-memory), solution of its differential equation
    Example:
        >>> result = lap_shear(2000, 25, 25, 3, 7000, 3, 7000, 0.3, 1000)
        >>> round(result.peak_shear_MPa, 3), round(result.peak_to_mean_ratio, 3)
        (22.537, 7.043)
    """
    mean_MPa = lap_mean_shear_MPa(load_N, overlap_mm, joint_width_mm)
    length_mm = shear_lag.transfer_length_mm(
        thickness_a_mm, modulus_a_MPa, thickness_b_mm, modulus_b_MPa, bond_line_mm, adhesive_shear_modulus_MPa
    )
    x = overlap_mm / length_mm
    line_load_N_mm = load_N / joint_width_mm
    stretch_a, stretch_b = 1 / (modulus_a_MPa * thickness_a_mm), 1 / (modulus_b_MPa * thickness_b_mm)
    per_stretch = adhesive_shear_modulus_MPa / bond_line_mm * length_mm
    # Ratios to the mean first, so that a load of zero still has its ratio.
    where_a = per_stretch * overlap_mm * (stretch_a * shear_lag.coth(x) + stretch_b * shear_lag.csch(x))
    where_b = per_stretch * overlap_mm * (stretch_b * shear_lag.coth(x) + stretch_a * shear_lag.csch(x))
    return LapShear(
        line_load_N_mm=line_load_N_mm,
        mean_shear_MPa=mean_MPa,
        shear_where_a_enters_MPa=where_a * mean_MPa,
        shear_where_b_enters_MPa=where_b * mean_MPa,
        peak_shear_MPa=max(where_a, where_b) * mean_MPa,
        peak_to_mean_ratio=max(where_a, where_b),
        transfer_length_mm=length_mm,
        overlap_to_transfer_ratio=x,
    )


def useful_overlap_mm(
    share_of_longest_fraction: float,
    thickness_a_mm: float,
    modulus_a_MPa: float,
    thickness_b_mm: float,
    modulus_b_MPa: float,
    bond_line_mm: float,
    adhesive_shear_modulus_MPa: float,
) -> float:
    """Overlap at which the joint bears a given share of what an endless overlap would: beyond it more is wasted.

    Args:
        share_of_longest_fraction: share wanted, dimensionless, 0.1 to 0.9999; at 0.995 doubling a joint of
            like parts gains under 1 %.
        thickness_a_mm: thickness of one part, mm, 0.2 to 100.
        modulus_a_MPa: tensile modulus of that part, MPa, 10 to 300000.
        thickness_b_mm: thickness of the other part, mm, 0.2 to 100.
        modulus_b_MPa: tensile modulus of the other part, MPa, 10 to 300000.
        bond_line_mm: thickness of the glue line, mm, 0.05 to 50.
        adhesive_shear_modulus_MPa: shear modulus of the glue, MPa, 0.05 to 5000.
    Returns:
        Overlap, mm.
    Raises:
        OutOfRange: an argument is outside its range.
    Valid: for the load that the elastic peak allows, as lap_shear. An overlap longer than this still helps against
        creep: its middle carries little and holds the joint in place.
    Formula: 1/l^2 = (G/h) (1/A + 1/B); overlap = l ln((f r + (f^2 r^2 + 1 - f^2)^(1/2))/(1 - f)), r = the smaller of A
        and B to the larger; with f share of longest, A = modulus a x thickness a, B = modulus b x thickness b, G
        adhesive shear modulus, h bond line
    Source: from Volkersen, Luftfahrtforschung 15, 1938 (from-memory); creep: MIL-HDBK-17-3F, volume 3,
        chapter 12 (excerpt)
    Example:
        >>> round(useful_overlap_mm(0.995, 3, 7000, 3, 7000, 0.3, 1000), 2)
        10.63
    """
    require(SHARE_FRACTION, share_of_longest_fraction=share_of_longest_fraction)
    length_mm = shear_lag.transfer_length_mm(
        thickness_a_mm, modulus_a_MPa, thickness_b_mm, modulus_b_MPa, bond_line_mm, adhesive_shear_modulus_MPa
    )
    softer, stiffer = sorted((modulus_a_MPa * thickness_a_mm, modulus_b_MPa * thickness_b_mm))
    return length_mm * shear_lag.transfers_for_share(share_of_longest_fraction, softer / stiffer)


def overlap_for_mean_shear_mm(load_N: float, joint_width_mm: float, allowable_shear_MPa: float) -> float:
    """Overlap needed so that the mean shear stays within an allowance.

    Args:
        load_N: load through the joint, N, 0 to 1000000.
        joint_width_mm: length of the joint across the load, mm, 1 to 100000.
        allowable_shear_MPa: allowable mean shear, knocked down already, MPa, 0.001 to 2000.
    Returns:
        Overlap, mm.
    Raises:
        OutOfRange: an argument is outside its range.
    Valid: only up to useful_overlap_mm; an overlap beyond that does not bear the load that this formula promises.
    Formula: overlap = load/(joint width x allowable shear)
    Source: definition of mean shear
    Example:
        >>> overlap_for_mean_shear_mm(2000, 100, 0.5)
        40.0
    """
    require(shear_lag.LOAD_N, load_N=load_N)
    require(shear_lag.JOINT_WIDTH_MM, joint_width_mm=joint_width_mm)
    require(STRESS_MPA, allowable_shear_MPa=allowable_shear_MPa)
    return load_N / (joint_width_mm * allowable_shear_MPa)


def overlap_at_part_strength_mm(part_strength_MPa: float, thickness_mm: float, mean_shear_strength_MPa: float) -> float:
    """Overlap at which the part itself gives before the glue: beyond it the joint gains nothing.

    Args:
        part_strength_MPa: yield or tensile strength of the part, MPa, 0.001 to 2000.
        thickness_mm: thickness of the part, mm, 0.2 to 100.
        mean_shear_strength_MPa: mean shear strength of the joint, MPa, 0.001 to 2000.
    Returns:
        Overlap, mm.
    Raises:
        OutOfRange: an argument is outside its range.
    Valid: bending of the part left out: a single lap gives sooner.
    Formula: overlap = part strength x thickness/mean shear strength
    Source: ASTM D1002, greatest overlap of a test piece (from-memory)
    Example:
        >>> round(overlap_at_part_strength_mm(345, 1.62, 25), 1)
        22.4
    """
    require(STRESS_MPA, part_strength_MPa=part_strength_MPa, mean_shear_strength_MPa=mean_shear_strength_MPa)
    require(shear_lag.THICKNESS_MM, thickness_mm=thickness_mm)
    return part_strength_MPa * thickness_mm / mean_shear_strength_MPa
