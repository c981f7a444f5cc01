"""How a stack of plies warps when it cools or its resin shrinks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from advisor.calculators.ply_stack import PlyStack, one_for_each, solved, stack_of
from advisor.calculators.ranges import Range, require, require_each

if TYPE_CHECKING:
    from advisor.calculators.ply_stack import Array

__all__ = ["LaminateWarp", "laminate_warp"]

EXPANSION_UM_M_K = Range(-20, 500)
SHRINKAGE_PERCENT = Range(-1, 5)
TEMPERATURE_CHANGE_K = Range(-200, 200)
SPAN_MM = Range(1, 20000)


@dataclass(frozen=True, slots=True)
class LaminateWarp:
    """Free strain and curvature; a rise below zero means that the middle stands off on the side of ply 1."""

    strain_x_percent: float
    strain_y_percent: float
    shear_strain_xy_percent: float
    curvature_x_per_m: float
    curvature_y_per_m: float
    twist_xy_per_m: float
    rise_x_mm: float
    rise_y_mm: float
    corner_rise_mm: float
    small_deflection: bool


def laminate_warp(
    ply_thicknesses_mm: Sequence[float],
    moduli_1_MPa: Sequence[float],
    moduli_2_MPa: Sequence[float],
    shear_moduli_MPa: Sequence[float],
    poisson_ratios: Sequence[float],
    angles_degrees: Sequence[float],
    expansions_1_um_m_K: Sequence[float],
    expansions_2_um_m_K: Sequence[float],
    shrinkages_1_percent: Sequence[float],
    shrinkages_2_percent: Sequence[float],
    temperature_change_K: float,
    span_mm: float,
) -> LaminateWarp:
    """How far a free stack shrinks, arches and twists when it cools and its resin shrinks.

    Args:
        ply_thicknesses_mm: thickness of each ply, mm, 0.01 to 50; each list as in laminate_stiffness.
        moduli_1_MPa: modulus along each ply's first axis, MPa, 1 to 1000000.
        moduli_2_MPa: modulus across it, MPa, 1 to 1000000.
        shear_moduli_MPa: in-plane shear modulus, MPa, 1 to 1000000.
        poisson_ratios: shrinkage across for stretch along, dimensionless, 0.0 to 0.95.
        angles_degrees: from the laminate's x to the ply's first axis, degrees, -180 to 180.
        expansions_1_um_m_K: thermal expansion along each ply's first axis, um/(m K), -20 to 500.
        expansions_2_um_m_K: thermal expansion across it, um/(m K), -20 to 500.
        shrinkages_1_percent: shrinkage along after the resin gelled and the plies held each other, %, -1 to 5;
            0 for an old laminate.
        shrinkages_2_percent: the same across, %, -1 to 5.
        temperature_change_K: from the temperature at which it set, K, -200 to 200; cooling is negative.
        span_mm: length over which the rise is told, mm, 1 to 20000.
    Returns:
        LaminateWarp: strains in %, curvatures in 1/m, rise over the span in mm, and whether the rise stays
        below one thickness, up to which the numbers may be trusted.
    Raises:
        OutOfRange: a value is outside its range, or a list has the wrong length.
    Formula: free ply strain = alpha dT - shrinkage; [e0; k] = [A B; B D]^-1 [sum Q e t; sum Q e t z];
        rise = k L^2/8; corner rise = kxy L^2/8
    Symbols: alpha expansion, 1/K; dT temperature change, K; e0 strain; k curvature; t ply thickness and z
        height of its middle, mm; L span, mm
    Valid: free and flat part, small deflection, one temperature through it, stiffnesses of the cured resin.
        Past a rise of one thickness a saddle snaps into a cylinder and the rise is no longer the one given
    Source: Kaw, Mechanics of Composite Materials, 2nd ed., CRC Press 2006, section 4.5; the limit: Hyer, Journal
        of Composite Materials 15 (1981) 175 (both from-memory)
    Example:
        >>> warp = laminate_warp([2, 2], [7000], [7000], [2692], [0.3], [0], [30], [30], [0, 0.1], [0, 0.1], 0, 500)
        >>> round(warp.rise_x_mm, 2), warp.small_deflection
        (-11.72, False)
    """
    import numpy as np

    require_each(EXPANSION_UM_M_K, "expansions_1_um_m_K", expansions_1_um_m_K)
    require_each(EXPANSION_UM_M_K, "expansions_2_um_m_K", expansions_2_um_m_K)
    require_each(SHRINKAGE_PERCENT, "shrinkages_1_percent", shrinkages_1_percent)
    require_each(SHRINKAGE_PERCENT, "shrinkages_2_percent", shrinkages_2_percent)
    require(TEMPERATURE_CHANGE_K, temperature_change_K=temperature_change_K)
    require(SPAN_MM, span_mm=span_mm)
    stack = stack_of(
        ply_thicknesses_mm, moduli_1_MPa, moduli_2_MPa, shear_moduli_MPa, poisson_ratios, angles_degrees
    )
    plies = [1.0] * len(stack.reduced)
    _, along, across, shrunk_along, shrunk_across = one_for_each(
        ply_thicknesses_mm=plies,
        expansions_1_um_m_K=expansions_1_um_m_K,
        expansions_2_um_m_K=expansions_2_um_m_K,
        shrinkages_1_percent=shrinkages_1_percent,
        shrinkages_2_percent=shrinkages_2_percent,
    )
    free = np.zeros((len(plies), 3))
    free[:, 0] = np.array(along) * 1e-6 * temperature_change_K - np.array(shrunk_along) / 100
    free[:, 1] = np.array(across) * 1e-6 * temperature_change_K - np.array(shrunk_across) / 100
    return _warp(stack, free, span_mm)


def _warp(stack: PlyStack, free: Array, span_mm: float) -> LaminateWarp:
    import numpy as np

    stress = np.einsum("pji,pjk,pk->pi", stack.turn, stack.reduced, free)
    thicknesses = np.diff(stack.heights)
    middles = (stack.heights[1:] + stack.heights[:-1]) / 2
    middle, curvature = solved(stack, thicknesses @ stress, (thicknesses * middles) @ stress)
    rise_x, rise_y, corner_rise = (float(k) * span_mm**2 / 8 for k in curvature)
    return LaminateWarp(
        strain_x_percent=100 * float(middle[0]),
        strain_y_percent=100 * float(middle[1]),
        shear_strain_xy_percent=100 * float(middle[2]),
        curvature_x_per_m=1000 * float(curvature[0]),
        curvature_y_per_m=1000 * float(curvature[1]),
        twist_xy_per_m=1000 * float(curvature[2]),
        rise_x_mm=rise_x,
        rise_y_mm=rise_y,
        corner_rise_mm=corner_rise,
        small_deflection=max(abs(rise_x), abs(rise_y), abs(corner_rise)) <= stack.thickness_mm,
    )
