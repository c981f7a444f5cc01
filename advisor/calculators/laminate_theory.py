"""Classical laminate theory: how stiff a stack of plies is, pulled and bent, and whether it will warp."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from advisor.calculators.ply_stack import Matrix, as_matrix, stack_of, stiffness_matrices

if TYPE_CHECKING:
    from advisor.calculators.ply_stack import Array

__all__ = ["LaminateStiffness", "laminate_stiffness"]

ROUNDING = 1e-12  # B of a symmetric stack is a difference of large numbers


@dataclass(frozen=True, slots=True)
class LaminateStiffness:
    """A stack's matrices and, from them, its moduli when pulled flat and when bent free."""

    thickness_mm: float
    extension_N_mm: Matrix
    coupling_N: Matrix
    bending_Nmm: Matrix
    modulus_x_MPa: float
    modulus_y_MPa: float
    shear_modulus_xy_MPa: float
    poisson_xy_ratio: float
    in_plane_stiffness_x_N_mm: float
    in_plane_stiffness_y_N_mm: float
    bending_modulus_x_MPa: float
    bending_modulus_y_MPa: float
    bending_shear_modulus_xy_MPa: float
    bending_stiffness_x_Nmm: float
    bending_stiffness_y_Nmm: float
    coupling_ratio: float


def laminate_stiffness(
    ply_thicknesses_mm: Sequence[float],
    moduli_1_MPa: Sequence[float],
    moduli_2_MPa: Sequence[float],
    shear_moduli_MPa: Sequence[float],
    poisson_ratios: Sequence[float],
    angles_degrees: Sequence[float],
) -> LaminateStiffness:
    """Stiffness of any stack of plies in any direction.

    Each list holds one value for every ply in the order laid, or a single value for all of them.

    Args:
        ply_thicknesses_mm: thickness of each ply, mm, 0.01 to 50.
        moduli_1_MPa: modulus along each ply's first axis, MPa, 1 to 1000000.
        moduli_2_MPa: modulus across it, MPa, 1 to 1000000.
        shear_moduli_MPa: in-plane shear modulus, MPa, 1 to 1000000.
        poisson_ratios: shrinkage across for stretch along, dimensionless, 0.0 to 0.95.
        angles_degrees: from the laminate's x to the ply's first axis, degrees, -180 to 180.
    Returns:
        LaminateStiffness: rows of A in N/mm, B in N and D in N mm; moduli in MPa and stiffnesses per width in
        N/mm and N mm; the coupling ratio, 0 for a stack that stays flat and below 1 for any.
    Raises:
        OutOfRange: a value is outside its range, a list has the wrong length, or a Poisson ratio is larger
            than the moduli allow.
    Formula: A = sum Q (z2 - z1), B = sum Q (z2^2 - z1^2)/2, D = sum Q (z2^3 - z1^3)/3;
        Ex = 1/(h a11) with a = A^-1; bending stiffness x = 1/d11 and bending modulus x = 12/(h^3 d11) with
        d = (D - B A^-1 B)^-1; coupling = largest |Bij|/sqrt(Aii Djj)
    Symbols: Q ply stiffness turned into the laminate's axes, MPa; z heights of a ply's faces from mid-thickness,
        mm, the first ply lowest; h thickness, mm
    Valid: plies bonded without voids, thin against the span (about 1 to 20), small deflection, no shear through
        the thickness: not for sandwiches with a soft core. In-plane moduli hold for a panel that is held flat
    Source: Kaw, Mechanics of Composite Materials, 2nd ed., CRC Press 2006, sections 4.3 and 4.4 (from-memory)
    Example:
        >>> cross_ply = laminate_stiffness([1, 1], [39000], [8600], [3800], [0.28], [0, 90])
        >>> round(cross_ply.modulus_x_MPa), round(cross_ply.bending_stiffness_x_Nmm), round(cross_ply.coupling_ratio, 2)
        (23971, 11041, 0.55)
    """
    stack = stack_of(
        ply_thicknesses_mm, moduli_1_MPa, moduli_2_MPa, shear_moduli_MPa, poisson_ratios, angles_degrees
    )
    return stiffness_from_matrices(stack.thickness_mm, *stiffness_matrices(stack.turned, stack.heights))


def stiffness_from_matrices(thickness_mm: float, a: Array, b: Array, d: Array) -> LaminateStiffness:
    """Return moduli and stiffnesses from A in N/mm, B in N and D in N mm."""
    import numpy as np

    flat = np.linalg.inv(a)
    free = np.linalg.inv(d - b @ flat @ b)
    cubed = thickness_mm**3 / 12
    return LaminateStiffness(
        thickness_mm=thickness_mm,
        extension_N_mm=as_matrix(a),
        coupling_N=as_matrix(b),
        bending_Nmm=as_matrix(d),
        modulus_x_MPa=float(1 / (flat[0, 0] * thickness_mm)),
        modulus_y_MPa=float(1 / (flat[1, 1] * thickness_mm)),
        shear_modulus_xy_MPa=float(1 / (flat[2, 2] * thickness_mm)),
        poisson_xy_ratio=float(-flat[0, 1] / flat[0, 0]),
        in_plane_stiffness_x_N_mm=float(1 / flat[0, 0]),
        in_plane_stiffness_y_N_mm=float(1 / flat[1, 1]),
        bending_modulus_x_MPa=float(1 / (free[0, 0] * cubed)),
        bending_modulus_y_MPa=float(1 / (free[1, 1] * cubed)),
        bending_shear_modulus_xy_MPa=float(1 / (free[2, 2] * cubed)),
        bending_stiffness_x_Nmm=float(1 / free[0, 0]),
        bending_stiffness_y_Nmm=float(1 / free[1, 1]),
        coupling_ratio=_coupling(a, b, d),
    )


def _coupling(a: Array, b: Array, d: Array) -> float:
    """Positive energy keeps every term below 1, so the ratio can be compared between stacks and units."""
    import numpy as np

    ratio = float(np.max(np.abs(b) / np.sqrt(np.outer(np.diag(a), np.diag(d)))))
    return ratio if ratio > ROUNDING else 0.0
