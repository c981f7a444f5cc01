"""Two materials that expand differently, and the bond line between them."""

from advisor.calculators.ranges import Range, require

__all__ = ["bond_line_shear_strain_percent", "thermal_movement_mm"]

EXPANSION_UM_M_K = Range(-10, 300)
TEMPERATURE_CHANGE_K = Range(-200, 200)
LENGTH_MM = Range(0, 100_000)
MOVEMENT_MM = Range(0, 1000)
BOND_LINE_MM = Range(0.05, 50)


def thermal_movement_mm(
    expansion_a_um_m_K: float, expansion_b_um_m_K: float, temperature_change_K: float, length_mm: float
) -> float:
    """How far the ends of two parts move past each other when both are free and warm up evenly.

    Args:
        expansion_a_um_m_K: expansion of one part, um/(m K), -10 to 300.
        expansion_b_um_m_K: expansion of the other part, um/(m K), -10 to 300.
        temperature_change_K: change since the bond set, K, -200 to 200; the sign does not matter.
        length_mm: length of the joint, mm, 0 to 100000.
    Returns:
        Movement at each end, mm, never below zero.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: movement = |expansion a - expansion b| x |temperature change| x length/2, the middle standing still
    Source: definition of the coefficient of thermal expansion, geometry
    Example:
        >>> round(thermal_movement_mm(30, 23, 50, 500), 4)
        0.0875
    """
    require(EXPANSION_UM_M_K, expansion_a_um_m_K=expansion_a_um_m_K, expansion_b_um_m_K=expansion_b_um_m_K)
    require(TEMPERATURE_CHANGE_K, temperature_change_K=temperature_change_K)
    require(LENGTH_MM, length_mm=length_mm)
    difference_per_K = abs(expansion_a_um_m_K - expansion_b_um_m_K) * 1e-6
    return difference_per_K * abs(temperature_change_K) * length_mm / 2


def bond_line_shear_strain_percent(movement_mm: float, bond_line_mm: float) -> float:
    """Shear strain of a bond line soft enough to follow the movement of the parts.

    Args:
        movement_mm: movement of one face past the other, mm, 0 to 1000.
        bond_line_mm: thickness of the bond line, mm, 0.05 to 50.
    Returns:
        Shear strain, % of the bond line thickness.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: strain = 100 x movement/bond line
    Source: geometry, parts taken as rigid
    Example:
        >>> round(bond_line_shear_strain_percent(0.0875, 3), 2)
        2.92
    """
    require(MOVEMENT_MM, movement_mm=movement_mm)
    require(BOND_LINE_MM, bond_line_mm=bond_line_mm)
    return 100 * movement_mm / bond_line_mm
