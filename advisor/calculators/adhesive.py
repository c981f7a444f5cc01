"""Adhesive: volume of a bead, height of a bead for a bond line, amount with losses."""

from advisor.calculators.ranges import Range, require

__all__ = [
    "adhesive_needed_mL",
    "bead_height_for_bond_line_mm",
    "bead_volume_mL",
    "triangular_bead_volume_mL",
]

BEAD_LENGTH_MM = Range(0, 1_000_000)
BEAD_SIDE_MM = Range(0, 1000)
BOND_WIDTH_MM = Range(1, 1000)
BOND_LINE_MM = Range(0.05, 50)
SQUEEZE_OUT_FRACTION = Range(0, 2)
VOLUME_ML = Range(0, 1_000_000)
LOSS_ML = Range(0, 500)
NOZZLES = Range(0, 10_000)


def bead_volume_mL(length_mm: float, width_mm: float, thickness_mm: float) -> float:
    """Volume of a bead or bond line of rectangular section.

    Args:
        length_mm: length of the joint, mm, 0 to 1000000.
        width_mm: width of the bond, mm, 0 to 1000.
        thickness_mm: thickness of the bond line, mm, 0 to 1000.
    Returns:
        Net volume, mL.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: V = length x width x thickness
    Source: geometry
    Example:
        >>> bead_volume_mL(2000, 25, 3)
        150.0
    """
    require(BEAD_LENGTH_MM, length_mm=length_mm)
    require(BEAD_SIDE_MM, width_mm=width_mm, thickness_mm=thickness_mm)
    return length_mm * width_mm * thickness_mm / 1000


def triangular_bead_volume_mL(length_mm: float, base_mm: float, height_mm: float) -> float:
    """Volume of a bead of triangular section, as a notched nozzle lays it, or of a straight fillet.

    Args:
        length_mm: length of the bead, mm, 0 to 1000000.
        base_mm: base of the triangle, mm, 0 to 1000.
        height_mm: height of the triangle, mm, 0 to 1000.
    Returns:
        Volume, mL.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: V = length x base x height/2
    Source: geometry
    Example:
        >>> triangular_bead_volume_mL(1000, 10, 12)
        60.0
    """
    require(BEAD_LENGTH_MM, length_mm=length_mm)
    require(BEAD_SIDE_MM, base_mm=base_mm, height_mm=height_mm)
    return length_mm * base_mm * height_mm / 2000


def bead_height_for_bond_line_mm(
    bond_width_mm: float, bond_line_mm: float, squeeze_out_fraction: float, bead_base_mm: float
) -> float:
    """Height of a triangular bead that fills the bond when it is pressed down, with some squeezed out.

    The base is not wider than the bond, so the bead always stands at least twice the bond line high.

    Args:
        bond_width_mm: width to be filled, mm, 1 to 1000.
        bond_line_mm: thickness of the closed bond, mm, 0.05 to 50.
        squeeze_out_fraction: share squeezed out, of the net volume, dimensionless, 0 to 2.
        bead_base_mm: base of the bead, mm, 1 to 1000; at most the bond width.
    Returns:
        Bead height, mm.
    Raises:
        OutOfRange: an argument is outside its range, or the base is wider than the bond.
    Formula: height = 2 x bond width x bond line x (1 + squeeze out fraction)/bead base
    Source: geometry, equal cross sections before and after closing
    Example:
        >>> bead_height_for_bond_line_mm(25, 2, 0.2, 10)
        12.0
    """
    require(BOND_WIDTH_MM, bond_width_mm=bond_width_mm, bead_base_mm=bead_base_mm)
    require(BOND_LINE_MM, bond_line_mm=bond_line_mm)
    require(SQUEEZE_OUT_FRACTION, squeeze_out_fraction=squeeze_out_fraction)
    require(Range(BOND_WIDTH_MM.low, bond_width_mm), bead_base_mm=bead_base_mm)
    return 2 * bond_width_mm * bond_line_mm * (1 + squeeze_out_fraction) / bead_base_mm


def adhesive_needed_mL(
    net_volume_mL: float,
    squeeze_out_fraction: float,
    nozzle_loss_mL: float,
    nozzle_count: int,
    purge_mL: float,
) -> float:
    """Adhesive to buy for a joint: what fills it, what is squeezed out, what nozzles and purging cost.

    Args:
        net_volume_mL: volume of the closed bond, mL, 0 to 1000000.
        squeeze_out_fraction: share squeezed out, of the net volume, dimensionless, 0 to 2.
        nozzle_loss_mL: left in each nozzle, mL, 0 to 500.
        nozzle_count: nozzles used, count, 0 to 10000.
        purge_mL: discarded through each new nozzle before use, mL, 0 to 500.
    Returns:
        Adhesive, mL.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: V = net volume x (1 + squeeze out fraction) + nozzle count x (nozzle loss + purge)
    Source: common-practice, arithmetic
    Example:
        >>> adhesive_needed_mL(150, 0.2, 10, 2, 5)
        210.0
    """
    require(VOLUME_ML, net_volume_mL=net_volume_mL)
    require(SQUEEZE_OUT_FRACTION, squeeze_out_fraction=squeeze_out_fraction)
    require(LOSS_ML, nozzle_loss_mL=nozzle_loss_mL, purge_mL=purge_mL)
    require(NOZZLES, nozzle_count=nozzle_count)
    return net_volume_mL * (1 + squeeze_out_fraction) + nozzle_count * (nozzle_loss_mL + purge_mL)
