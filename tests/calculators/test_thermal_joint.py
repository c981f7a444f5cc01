"""Thermal shear against its differential equation and its limits."""

from typing import Any, NamedTuple

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx
from scipy.integrate import solve_bvp

from advisor.calculators.movement import bond_line_shear_strain_percent, thermal_movement_mm
from advisor.calculators.ranges import OutOfRange
from advisor.calculators.thermal_joint import ThermalShear, bond_line_for_movement_mm, thermal_shear


class Joint(NamedTuple):
    """Laminate on metal and the glue between, in the order of the function."""

    thickness_a_mm: float
    modulus_a_MPa: float
    thickness_b_mm: float
    modulus_b_MPa: float
    bond_line_mm: float
    adhesive_shear_modulus_MPa: float


SOFT = Joint(3, 7000, 2, 70_000, 3, 1)
STIFF = Joint(3, 7000, 2, 70_000, 0.3, 1000)
JOINTS = st.builds(
    Joint,
    st.floats(0.5, 20),
    st.floats(1000, 210_000),
    st.floats(0.5, 20),
    st.floats(1000, 210_000),
    st.floats(0.1, 9),
    st.floats(0.3, 2000),
)
LENGTH_MM = st.floats(20, 5000)


def heated(joint: Joint, length_mm: float = 500, change_K: float = 50) -> ThermalShear:
    return thermal_shear(30, 23, change_K, length_mm, *joint)


def test_laminate_on_aluminium() -> None:
    # Shear lag, computed: closed form and boundary value solver agreed beforehand. 7e-6/K x 50 K, 500 mm.
    assert 1 / heated(SOFT).transfer_length_mm == approx(0.0042725, abs=1e-7)
    assert heated(SOFT).peak_shear_MPa == approx(0.02154, abs=1e-5)
    assert heated(SOFT).rigid_parts_strain_percent == approx(2.92, abs=0.005)
    assert heated(STIFF).peak_shear_MPa == approx(2.731, abs=1e-3)


def by_solver(joint: Joint, mismatch: float, length_mm: float) -> tuple[float, float]:
    """Return the end shear and the load in the parts at mid-length, from equilibrium and stretch of each part."""
    stretch = 1 / (joint.modulus_a_MPa * joint.thickness_a_mm) + 1 / (joint.modulus_b_MPa * joint.thickness_b_mm)
    per_mm = joint.adhesive_shear_modulus_MPa / joint.bond_line_mm

    def slopes(_: Any, y: Any) -> Any:  # load in a part, shear
        return np.vstack([-y[1], per_mm * (mismatch - y[0] * stretch)])

    def ends(a: Any, b: Any) -> Any:
        return np.array([a[1], b[0]])

    along = np.linspace(0, length_mm / 2, 500)
    guess = np.vstack([0 * along + mismatch / stretch, 0 * along])
    solution = solve_bvp(slopes, ends, along, guess, tol=1e-8, max_nodes=100_000)
    assert solution.success
    return float(solution.y[1][-1]), float(solution.y[0][0])


@pytest.mark.parametrize("joint", [SOFT, STIFF, Joint(2, 12_000, 6, 9000, 1, 50), Joint(5, 2300, 1, 210_000, 2, 5)])
@pytest.mark.parametrize("length_mm", [60, 500])
def test_shear_agrees_with_a_boundary_value_solver(joint: Joint, length_mm: float) -> None:
    result = heated(joint, length_mm)
    peak_MPa, load_N_mm = by_solver(joint, 7e-6 * 50, length_mm)
    assert result.peak_shear_MPa == approx(peak_MPa, rel=1e-5)
    assert result.line_load_in_parts_N_mm == approx(load_N_mm, rel=1e-5)


@given(JOINTS, LENGTH_MM)
def test_soft_glue_moves_freely_and_stiff_glue_locks_the_parts(joint: Joint, length_mm: float) -> None:
    result = heated(joint, length_mm)
    assert 0 < result.end_movement_mm <= result.free_movement_mm * (1 + 1e-12)
    assert result.peak_strain_percent <= result.rigid_parts_strain_percent * (1 + 1e-12)
    stretch = 1 / (joint.modulus_a_MPa * joint.thickness_a_mm) + 1 / (joint.modulus_b_MPa * joint.thickness_b_mm)
    assert result.line_load_in_parts_N_mm <= 7e-6 * 50 / stretch * (1 + 1e-9)
    assert result.line_load_in_parts_N_mm == approx(result.mean_shear_MPa * length_mm / 2)
    assert result.peak_to_mean_ratio >= 2 * (1 - 1e-9)


def test_limits_of_short_and_long_joints() -> None:
    # Shear lag, computed: rigid parts for a short joint; da dT/sum of 1/(E t) locked up in a long one.
    short = heated(SOFT, 10)
    assert short.peak_strain_percent == approx(short.rigid_parts_strain_percent, rel=1e-3)
    assert short.peak_to_mean_ratio == approx(2, rel=1e-3)
    assert heated(STIFF, 2000).line_load_in_parts_N_mm == approx(7e-6 * 50 / (1 / 21_000 + 1 / 140_000))
    assert heated(STIFF, 2000).peak_shear_MPa == approx(heated(STIFF, 4000).peak_shear_MPa, rel=1e-9)


@given(JOINTS, LENGTH_MM, st.floats(0.1, 100), st.floats(1.1, 5))
def test_stress_follows_the_change_and_neither_sign_nor_order_matters(
    joint: Joint, length_mm: float, change_K: float, factor: float
) -> None:
    here = heated(joint, length_mm, change_K)
    assert heated(joint, length_mm, -change_K) == here
    assert thermal_shear(23, 30, change_K, length_mm, *joint) == here
    more = thermal_shear(23 + 7 * factor, 23, change_K, length_mm, *joint)
    assert more.peak_shear_MPa == approx(factor * here.peak_shear_MPa, rel=1e-6)


@given(JOINTS, LENGTH_MM, st.floats(1.1, 5))
def test_thicker_or_softer_line_lowers_the_peak_and_a_longer_joint_raises_it(
    joint: Joint, length_mm: float, factor: float
) -> None:
    peak_MPa = heated(joint, length_mm).peak_shear_MPa
    thicker = joint._replace(bond_line_mm=factor * joint.bond_line_mm)
    softer = joint._replace(adhesive_shear_modulus_MPa=joint.adhesive_shear_modulus_MPa / factor)
    assert heated(thicker, length_mm).peak_shear_MPa < peak_MPa
    assert heated(softer, length_mm).peak_shear_MPa == approx(heated(thicker, length_mm).peak_shear_MPa)
    assert heated(joint, factor * length_mm).peak_shear_MPa >= peak_MPa * (1 - 1e-12)


def test_like_parts_or_an_even_temperature_give_no_shear() -> None:
    assert thermal_shear(30, 30, 50, 500, *SOFT).peak_shear_MPa == 0
    assert heated(SOFT, change_K=0).peak_shear_MPa == 0
    assert heated(SOFT, change_K=0).peak_to_mean_ratio == heated(SOFT).peak_to_mean_ratio


@given(st.floats(0.01, 20), st.floats(1, 200))
def test_bond_line_for_a_movement_is_strained_as_allowed(movement_mm: float, strain_percent: float) -> None:
    line_mm = bond_line_for_movement_mm(movement_mm, strain_percent)
    if 0.05 <= line_mm <= 50:
        assert bond_line_shear_strain_percent(movement_mm, line_mm) == approx(strain_percent)


def test_free_movement_is_that_of_free_parts() -> None:
    # Definition of the coefficient of thermal expansion, computed.
    assert heated(SOFT).free_movement_mm == thermal_movement_mm(30, 23, 50, 500) == approx(0.0875)


def test_out_of_range_says_the_range() -> None:
    with pytest.raises(OutOfRange, match="`length_mm` is 0 mm, must be between 1 and 100000 mm"):
        heated(SOFT, 0)
