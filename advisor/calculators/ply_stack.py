"""A stack of plies: its inputs checked, and its stiffness matrices A, B and D."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt
from typing import TYPE_CHECKING, TypeAlias

from advisor.calculators.ranges import OutOfRange, Range, require_each, require_entries

if TYPE_CHECKING:  # importing numpy would slow every start, also of those who never ask for a laminate
    from numpy import float64
    from numpy.typing import NDArray

    Array: TypeAlias = NDArray[float64]

__all__ = ["Matrix", "PlyStack", "as_matrix", "one_for_each", "solved", "stack_of", "stiffness_matrices"]

Matrix: TypeAlias = tuple[tuple[float, ...], ...]
"""Rows of a matrix of three by three."""

MOST_PLIES = 500
PLY_THICKNESS_MM = Range(0.01, 50)
MODULUS_MPA = Range(1, 1000000)
POISSON_RATIO = Range(0.0, 0.95)
ANGLE_DEGREES = Range(-180, 180)
ROUNDING = 1e-15  # below this a strain, or a curvature in 1/mm, is the noise of the solution


@dataclass(frozen=True, slots=True)
class PlyStack:
    """Plies from the first laid outward, in arrays; heights are measured from the middle of the stack, mm."""

    reduced: Array
    turn: Array
    turned: Array
    heights: Array

    @property
    def thickness_mm(self) -> float:
        """Thickness of the whole stack, mm."""
        return float(self.heights[-1] - self.heights[0])


def stack_of(
    ply_thicknesses_mm: Sequence[float],
    moduli_1_MPa: Sequence[float],
    moduli_2_MPa: Sequence[float],
    shear_moduli_MPa: Sequence[float],
    poisson_ratios: Sequence[float],
    angles_degrees: Sequence[float],
) -> PlyStack:
    """Check the lists and build the stack; OutOfRange for a value, a length, or moduli that no material has."""
    import numpy as np

    require_each(PLY_THICKNESS_MM, "ply_thicknesses_mm", ply_thicknesses_mm)
    require_each(MODULUS_MPA, "moduli_1_MPa", moduli_1_MPa)
    require_each(MODULUS_MPA, "moduli_2_MPa", moduli_2_MPa)
    require_each(MODULUS_MPA, "shear_moduli_MPa", shear_moduli_MPa)
    require_each(POISSON_RATIO, "poisson_ratios", poisson_ratios)
    require_each(ANGLE_DEGREES, "angles_degrees", angles_degrees)
    thicknesses, first, second, shear, poisson, angles = one_for_each(
        ply_thicknesses_mm=ply_thicknesses_mm,
        moduli_1_MPa=moduli_1_MPa,
        moduli_2_MPa=moduli_2_MPa,
        shear_moduli_MPa=shear_moduli_MPa,
        poisson_ratios=poisson_ratios,
        angles_degrees=angles_degrees,
    )
    for modulus_1, modulus_2, ratio in zip(first, second, poisson, strict=True):
        _require_possible(modulus_1, modulus_2, ratio)
    reduced = np.array([_reduced_stiffness(*ply) for ply in zip(first, second, shear, poisson, strict=True)])
    turn = _turns(np.radians(np.array(angles, dtype=float)))
    edges = np.concatenate(([0.0], np.cumsum(np.array(thicknesses, dtype=float))))
    turned = np.swapaxes(turn, 1, 2) @ reduced @ turn
    return PlyStack(reduced, turn, turned, edges - edges[-1] / 2)


def one_for_each(**lists: Sequence[float]) -> list[list[float]]:
    """Repeat every list of one entry until it has as many as the longest; OutOfRange for any other length."""
    for name, values in lists.items():
        require_entries(name, values, MOST_PLIES)
    count = max(len(values) for values in lists.values())
    for name, values in lists.items():
        if len(values) not in (1, count):
            raise OutOfRange(name, len(values), count, count, "entries")
    return [list(values) * (count if len(values) == 1 else 1) for values in lists.values()]


def _require_possible(modulus_1: float, modulus_2: float, poisson: float) -> None:
    """Beyond this ratio a ply would give out energy when it is pulled."""
    most = sqrt(modulus_1 / modulus_2)
    if poisson >= most:
        raise OutOfRange("poisson_ratios", poisson, 0.0, most, "")


def _reduced_stiffness(modulus_1: float, modulus_2: float, shear: float, poisson: float) -> list[list[float]]:
    """Return stress for strain of one thin ply along its own axes, MPa (Kaw 2006, section 2.4)."""
    reduced = 1 - poisson**2 * modulus_2 / modulus_1
    sideways = poisson * modulus_2 / reduced
    return [[modulus_1 / reduced, sideways, 0.0], [sideways, modulus_2 / reduced, 0.0], [0.0, 0.0, shear]]


def _turns(radians: Array) -> Array:
    """Return for every angle the matrix that turns strains of the laminate into strains of the ply."""
    import numpy as np

    c, s = np.cos(radians), np.sin(radians)
    rows = [[c * c, s * s, c * s], [s * s, c * c, -c * s], [-2 * c * s, 2 * c * s, c * c - s * s]]
    return np.moveaxis(np.array(rows), 2, 0)


def stiffness_matrices(turned: Array, heights: Array) -> tuple[Array, Array, Array]:
    """Return A in N/mm, B in N and D in N mm (Kaw 2006, section 4.3)."""
    import numpy as np

    first, second, third = (np.diff(heights**power) / power for power in (1, 2, 3))
    return (
        np.tensordot(first, turned, axes=1),
        np.tensordot(second, turned, axes=1),
        np.tensordot(third, turned, axes=1),
    )


def solved(stack: PlyStack, forces: Array, moments: Array) -> tuple[Array, Array]:
    """Return strain at mid-thickness and curvature in 1/mm under line loads and moments per width."""
    import numpy as np

    a, b, d = stiffness_matrices(stack.turned, stack.heights)
    found = np.linalg.solve(np.block([[a, b], [b, d]]), np.concatenate([forces, moments]))
    found[np.abs(found) < ROUNDING] = 0.0
    return found[:3], found[3:]


def as_matrix(array: Array) -> Matrix:
    """Return plain rows of floats."""
    return tuple(tuple(float(value) for value in row) for row in array)
