"""A long joint between parts that grow differently with heat: shear and movement at its ends, bond line for it."""

from dataclasses import dataclass
from math import tanh

from advisor.calculators import shear_lag
from advisor.calculators.movement import thermal_movement_mm
from advisor.calculators.ranges import Range, require

__all__ = ["ThermalShear", "bond_line_for_movement_mm", "thermal_shear"]

MOVEMENT_MM = Range(0, 1000)
ALLOWABLE_STRAIN_PERCENT = Range(0.1, 500)
JOINT_LENGTH_MM = Range(1, 100_000)


@dataclass(frozen=True, slots=True)
class ThermalShear:
    """Shear that a change of temperature puts into a joint, greatest at its ends."""

    free_movement_mm: float
    end_movement_mm: float
    peak_shear_MPa: float
    mean_shear_MPa: float
    peak_to_mean_ratio: float
    peak_strain_percent: float
    rigid_parts_strain_percent: float
    line_load_in_parts_N_mm: float
    transfer_length_mm: float
    length_to_transfer_ratio: float


def thermal_shear(
    expansion_a_um_m_K: float,
    expansion_b_um_m_K: float,
    temperature_change_K: float,
    length_mm: float,
    thickness_a_mm: float,
    modulus_a_MPa: float,
    thickness_b_mm: float,
    modulus_b_MPa: float,
    bond_line_mm: float,
    adhesive_shear_modulus_MPa: float,
) -> ThermalShear:
    """Shear at the ends of a joint whose parts grow differently, counted from the temperature at which it set.

    Args:
        expansion_a_um_m_K: expansion of one part, um/(m K), -10 to 300.
        expansion_b_um_m_K: expansion of the other part, um/(m K), -10 to 300.
        temperature_change_K: change since the bond set, K, -200 to 200; the sign does not matter.
        length_mm: length of the joint, mm, 1 to 100000.
        thickness_a_mm: thickness of one part, mm, 0.2 to 100.
        modulus_a_MPa: tensile modulus of that part, MPa, 10 to 300000.
        thickness_b_mm: thickness of the other part, mm, 0.2 to 100.
        modulus_b_MPa: tensile modulus of the other part, MPa, 10 to 300000.
        bond_line_mm: thickness of the glue line, mm, 0.05 to 50.
        adhesive_shear_modulus_MPa: shear modulus of the glue at that temperature, MPa, 0.05 to 5000.
    Returns:
        ThermalShear: movement at each end, if the parts were free and as the glue lets it be (mm); peak and mean
        shear over half the joint (MPa) and their ratio (dimensionless); strain of the glue at the ends and what it
        would be if the parts were rigid (%); load locked up in each part at mid-length (N/mm);
        transfer length (mm), and the length as a multiple of it (dimensionless).
    Raises:
        OutOfRange: an argument is outside its range.
    Valid: elastic, evenly warm, parts held straight: thin parts bow instead, which puts peel on the ends. Glue is
        stiffer when cold: take both ends of the temperature range, each with its own modulus.
    Formula: 1/l^2 = (G/h) (1/A + 1/B); d = |expansion a - expansion b| x |temperature change|; peak = d (G/h) l
        tanh(L/(2 l)); strain = peak/G; end movement = strain x h; free movement = d L/2; rigid parts: strain = d L/(2
        h); load in parts = d (1 - 1/cosh(L/(2 l)))/(1/A + 1/B); mean = load in parts/(L/2); with L length, A = modulus
        a x thickness a, B = modulus b x thickness b, G adhesive shear modulus, h bond line
    Source: shear-lag as Volkersen, Luftfahrtforschung 15, 1938, with thermal strain as in Hart-Smith, NASA CR-112235,
        1973 (from-memory)
    Example:
        >>> result = thermal_shear(30, 23, 50, 500, 3, 7000, 2, 70000, 3, 1)
        >>> round(result.peak_shear_MPa, 5), round(result.rigid_parts_strain_percent, 2)
        (0.02154, 2.92)
    """
    require(JOINT_LENGTH_MM, length_mm=length_mm)
    free_mm = thermal_movement_mm(expansion_a_um_m_K, expansion_b_um_m_K, temperature_change_K, length_mm)
    transfer_mm = shear_lag.transfer_length_mm(
        thickness_a_mm, modulus_a_MPa, thickness_b_mm, modulus_b_MPa, bond_line_mm, adhesive_shear_modulus_MPa
    )
    half = length_mm / 2 / transfer_mm
    end_mm = free_mm * tanh(half) / half
    peak_MPa = adhesive_shear_modulus_MPa * end_mm / bond_line_mm
    mean_to_peak = tanh(half / 2) / half  # (cosh x - 1)/sinh x is tanh(x/2)
    return ThermalShear(
        free_movement_mm=free_mm,
        end_movement_mm=end_mm,
        peak_shear_MPa=peak_MPa,
        mean_shear_MPa=peak_MPa * mean_to_peak,
        peak_to_mean_ratio=1 / mean_to_peak,
        peak_strain_percent=100 * end_mm / bond_line_mm,
        rigid_parts_strain_percent=100 * free_mm / bond_line_mm,
        line_load_in_parts_N_mm=peak_MPa * mean_to_peak * length_mm / 2,
        transfer_length_mm=transfer_mm,
        length_to_transfer_ratio=length_mm / transfer_mm,
    )


def bond_line_for_movement_mm(movement_mm: float, allowable_strain_percent: float) -> float:
    """Least thickness of a soft glue line that follows a movement within its allowable shear strain.

    Args:
        movement_mm: movement of one face past the other, mm, 0 to 1000.
        allowable_strain_percent: shear strain allowed, over and over, % of the bond line thickness, 0.1 to 500.
    Returns:
        Bond line thickness, mm.
    Raises:
        OutOfRange: an argument is outside its range.
    Valid: glue much softer than the parts, which then move freely.
    Formula: bond line = movement/(allowable strain/100)
    Source: geometry, parts taken as rigid
    Example:
        >>> bond_line_for_movement_mm(0.5, 25)
        2.0
    """
    require(MOVEMENT_MM, movement_mm=movement_mm)
    require(ALLOWABLE_STRAIN_PERCENT, allowable_strain_percent=allowable_strain_percent)
    return movement_mm / (allowable_strain_percent / 100)
