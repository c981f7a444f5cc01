"""A lap joint judged by the peak shear at its ends: the most it can bear, and the overlap that a load needs."""

from advisor.calculators import shear_lag
from advisor.calculators.ranges import OutOfRange, Range, require

__all__ = ["largest_load_by_peak_N", "overlap_for_peak_shear_mm"]

STRESS_MPA = Range(0.001, 2000)


def largest_load_by_peak_N(
    joint_width_mm: float,
    allowable_peak_shear_MPa: float,
    thickness_a_mm: float,
    modulus_a_MPa: float,
    thickness_b_mm: float,
    modulus_b_MPa: float,
    bond_line_mm: float,
    adhesive_shear_modulus_MPa: float,
) -> float:
    """Load at which the peak shear reaches its allowance however long the overlap is.

    Args:
        joint_width_mm: length of the joint across the load, mm, 1 to 100000.
        allowable_peak_shear_MPa: allowable shear at an end, knocked down already, MPa, 0.001 to 2000.
        thickness_a_mm: thickness of one part, mm, 0.2 to 100.
        modulus_a_MPa: tensile modulus of that part, MPa, 10 to 300000.
        thickness_b_mm: thickness of the other part, mm, 0.2 to 100.
        modulus_b_MPa: tensile modulus of the other part, MPa, 10 to 300000.
        bond_line_mm: thickness of the glue line, mm, 0.05 to 50.
        adhesive_shear_modulus_MPa: shear modulus of the glue, MPa, 0.05 to 5000.
    Returns:
        Load, N.
    Raises:
        OutOfRange: an argument is outside its range.
    Valid: as lap_shear: elastic, no bending. Severe for tough glues, which yield at the ends and load the middle.
    Formula: 1/l^2 = (G/h) (1/A + 1/B); load = joint width x allowable peak shear x S h/(G l), S the smaller of A and
        B; with A = modulus a x thickness a, B = modulus b x thickness b, G adhesive shear modulus, h bond line
    Source: Volkersen, Luftfahrtforschung 15, 1938 (from-memory), overlap without end
    Example:
        >>> round(largest_load_by_peak_N(25, 22.538, 3, 7000, 3, 7000, 0.3, 1000))
        2000
    """
    require(shear_lag.JOINT_WIDTH_MM, joint_width_mm=joint_width_mm)
    require(STRESS_MPA, allowable_peak_shear_MPa=allowable_peak_shear_MPa)
    length_mm = shear_lag.transfer_length_mm(
        thickness_a_mm, modulus_a_MPa, thickness_b_mm, modulus_b_MPa, bond_line_mm, adhesive_shear_modulus_MPa
    )
    softer_N_mm = min(modulus_a_MPa * thickness_a_mm, modulus_b_MPa * thickness_b_mm)
    per_stretch_MPa = adhesive_shear_modulus_MPa / bond_line_mm * length_mm
    return joint_width_mm * allowable_peak_shear_MPa * softer_N_mm / per_stretch_MPa


def overlap_for_peak_shear_mm(
    load_N: float,
    joint_width_mm: float,
    allowable_peak_shear_MPa: float,
    thickness_a_mm: float,
    modulus_a_MPa: float,
    thickness_b_mm: float,
    modulus_b_MPa: float,
    bond_line_mm: float,
    adhesive_shear_modulus_MPa: float,
) -> float:
    """Overlap needed so that the peak shear stays within its allowance.

    Args:
        load_N: load through the joint, N, 0 to 1000000; below largest_load_by_peak_N.
        joint_width_mm: length of the joint across the load, mm, 1 to 100000.
        allowable_peak_shear_MPa: allowable shear at an end, knocked down already, MPa, 0.001 to 2000.
        thickness_a_mm: thickness of one part, mm, 0.2 to 100.
        modulus_a_MPa: tensile modulus of that part, MPa, 10 to 300000.
        thickness_b_mm: thickness of the other part, mm, 0.2 to 100.
        modulus_b_MPa: tensile modulus of the other part, MPa, 10 to 300000.
        bond_line_mm: thickness of the glue line, mm, 0.05 to 50.
        adhesive_shear_modulus_MPa: shear modulus of the glue, MPa, 0.05 to 5000.
    Returns:
        Overlap, mm.
    Raises:
        OutOfRange: an argument is outside its range, or no overlap bears the load.
    Valid: as lap_shear: elastic, no bending or peel.
    Formula: 1/l^2 = (G/h) (1/A + 1/B); largest load = joint width x allowable peak shear x S h/(G l), S the smaller of
        A and B; f = load/largest load, r = S/the larger of A and B; overlap = l ln((f r + (f^2 r^2 + 1 -
        f^2)^(1/2))/(1 - f)); with A = modulus a x thickness a, B = modulus b x thickness b, G adhesive shear modulus,
        h bond line
    Source: Volkersen, Luftfahrtforschung 15, 1938 (from-memory), solved for the overlap
    Example:
        >>> round(overlap_for_peak_shear_mm(1000, 25, 22.538, 3, 7000, 3, 7000, 0.3, 1000), 2)
        1.95
    """
    require(shear_lag.LOAD_N, load_N=load_N)
    parts = (thickness_a_mm, modulus_a_MPa, thickness_b_mm, modulus_b_MPa, bond_line_mm, adhesive_shear_modulus_MPa)
    largest_N = largest_load_by_peak_N(joint_width_mm, allowable_peak_shear_MPa, *parts)
    if load_N >= largest_N:
        raise OutOfRange("load_N", load_N, shear_lag.LOAD_N.low, largest_N, "N")
    softer, stiffer = sorted((modulus_a_MPa * thickness_a_mm, modulus_b_MPa * thickness_b_mm))
    transfers = shear_lag.transfers_for_share(load_N / largest_N, softer / stiffer)
    return transfers * shear_lag.transfer_length_mm(*parts)
