"""What a stack of plies does under a load: its strains, its curvature and the stress in every ply."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from advisor.calculators.ply_stack import PlyStack, solved, stack_of
from advisor.calculators.ranges import Range, require

if TYPE_CHECKING:
    from advisor.calculators.ply_stack import Array

__all__ = ["LaminateResponse", "PlyStress", "laminate_response"]

LINE_LOAD_N_MM = Range(-100000, 100000)
MOMENT_N = Range(-1000000, 1000000)


@dataclass(frozen=True, slots=True)
class PlyStress:
    """Stress and strain along one ply's own axes at one of its faces; depth is from the face of ply 1."""

    number: int
    depth_mm: float
    stress_1_MPa: float
    stress_2_MPa: float
    shear_12_MPa: float
    strain_1_percent: float
    strain_2_percent: float
    shear_strain_12_percent: float


@dataclass(frozen=True, slots=True)
class LaminateResponse:
    """Strain at mid-thickness, curvature, and the stress at both faces of every ply."""

    strain_x_percent: float
    strain_y_percent: float
    shear_strain_xy_percent: float
    curvature_x_per_m: float
    curvature_y_per_m: float
    twist_xy_per_m: float
    largest_stress_1_MPa: float
    largest_stress_2_MPa: float
    largest_shear_12_MPa: float
    largest_strain_percent: float
    ply_faces: tuple[PlyStress, ...]


def laminate_response(
    ply_thicknesses_mm: Sequence[float],
    moduli_1_MPa: Sequence[float],
    moduli_2_MPa: Sequence[float],
    shear_moduli_MPa: Sequence[float],
    poisson_ratios: Sequence[float],
    angles_degrees: Sequence[float],
    force_x_N_mm: float,
    force_y_N_mm: float,
    shear_force_xy_N_mm: float,
    moment_x_N: float,
    moment_y_N: float,
    twisting_moment_xy_N: float,
) -> LaminateResponse:
    """Strains and stresses in every ply under line loads and moments per width.

    Args:
        ply_thicknesses_mm: thickness of each ply, mm, 0.01 to 50; each list as in laminate_stiffness.
        moduli_1_MPa: modulus along each ply's first axis, MPa, 1 to 1000000.
        moduli_2_MPa: modulus across it, MPa, 1 to 1000000.
        shear_moduli_MPa: in-plane shear modulus, MPa, 1 to 1000000.
        poisson_ratios: shrinkage across for stretch along, dimensionless, 0.0 to 0.95.
        angles_degrees: from the laminate's x to the ply's first axis, degrees, -180 to 180.
        force_x_N_mm: pull along x for each mm of width, N/mm, -100000 to 100000.
        force_y_N_mm: pull along y, N/mm, -100000 to 100000.
        shear_force_xy_N_mm: shear in the plane, N/mm, -100000 to 100000.
        moment_x_N: bending moment for each mm of width, N (N mm/mm), -1000000 to 1000000; positive stretches
            the face of the last ply.
        moment_y_N: the same along y, N, -1000000 to 1000000.
        twisting_moment_xy_N: twisting moment for each mm of width, N, -1000000 to 1000000.
    Returns:
        LaminateResponse: strains in %, curvatures in 1/m, and stresses in MPa at both faces of every ply, the
        largest of each kind by size with its sign.
    Raises:
        OutOfRange: a value is outside its range, or a list has the wrong length.
    Formula: [N; M] = [A B; B D] [e0; k]; e = e0 + z k; stress = Q e in the ply's axes
    Symbols: N line load, N/mm; M moment per width, N; e0 strain at mid-thickness; k curvature; z height, mm
    Valid: as laminate_stiffness; elastic and before the first crack, which in mat comes well below the strength
    Source: Kaw, Mechanics of Composite Materials, 2nd ed., CRC Press 2006, section 4.3 (from-memory)
    Example:
        >>> pulled = laminate_response([1.0, 1.0], [7000], [7000], [2692], [0.3], [0], 14, 0, 0, 0, 0, 0)
        >>> round(pulled.strain_x_percent, 4), round(pulled.largest_stress_1_MPa, 4)
        (0.1, 7.0)
    """
    import numpy as np

    forces = {"force_x_N_mm": force_x_N_mm, "force_y_N_mm": force_y_N_mm, "shear_force_xy_N_mm": shear_force_xy_N_mm}
    moments = {"moment_x_N": moment_x_N, "moment_y_N": moment_y_N, "twisting_moment_xy_N": twisting_moment_xy_N}
    require(LINE_LOAD_N_MM, **forces)
    require(MOMENT_N, **moments)
    stack = stack_of(
        ply_thicknesses_mm, moduli_1_MPa, moduli_2_MPa, shear_moduli_MPa, poisson_ratios, angles_degrees
    )
    middle, curvature = solved(stack, np.array([*forces.values()]), np.array([*moments.values()]))
    return _response(middle, curvature, _ply_faces(stack, middle, curvature))


def _ply_faces(stack: PlyStack, middle: Array, curvature: Array) -> tuple[PlyStress, ...]:
    return tuple(
        _at_face(stack, index, float(height), middle, curvature)
        for index in range(len(stack.reduced))
        for height in stack.heights[index : index + 2]
    )


def _at_face(stack: PlyStack, index: int, height: float, middle: Array, curvature: Array) -> PlyStress:
    strain = stack.turn[index] @ (middle + height * curvature)
    stress = stack.reduced[index] @ strain
    return PlyStress(
        number=index + 1,
        depth_mm=height + stack.thickness_mm / 2,
        stress_1_MPa=float(stress[0]),
        stress_2_MPa=float(stress[1]),
        shear_12_MPa=float(stress[2]),
        strain_1_percent=100 * float(strain[0]),
        strain_2_percent=100 * float(strain[1]),
        shear_strain_12_percent=100 * float(strain[2]),
    )


def _response(middle: Array, curvature: Array, faces: tuple[PlyStress, ...]) -> LaminateResponse:
    strains = [strain for face in faces for strain in (face.strain_1_percent, face.strain_2_percent)]
    return LaminateResponse(
        strain_x_percent=100 * float(middle[0]),
        strain_y_percent=100 * float(middle[1]),
        shear_strain_xy_percent=100 * float(middle[2]),
        curvature_x_per_m=1000 * float(curvature[0]),
        curvature_y_per_m=1000 * float(curvature[1]),
        twist_xy_per_m=1000 * float(curvature[2]),
        largest_stress_1_MPa=max((face.stress_1_MPa for face in faces), key=abs),
        largest_stress_2_MPa=max((face.stress_2_MPa for face in faces), key=abs),
        largest_shear_12_MPa=max((face.shear_12_MPa for face in faces), key=abs),
        largest_strain_percent=max(strains, key=abs),
        ply_faces=faces,
    )
