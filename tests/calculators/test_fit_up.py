"""Closing forces against a beam solver and bent-beam theory; what stays in the joint against its equations."""

from math import sqrt
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from indeterminatebeam import Beam, PointLoadV, Support
from pytest import approx
from scipy.integrate import solve_bvp

from advisor.calculators.fit_up import ClosingForce, EdgeCondition, closing_force, closing_force_from_pull
from advisor.calculators.ranges import OutOfRange
from advisor.calculators.residual_load import ResidualTension, edge_load_glued_flat, residual_tension

CONDITIONS: list[EdgeCondition] = ["free", "guided", "both_supported", "both_held"]
THICKNESS_MM = st.floats(0.5, 20)
MODULUS_MPA = st.floats(1000, 200_000)
LENGTH_MM = st.floats(50, 3000)
GAP_MM = st.floats(0.1, 100)


def strip(condition: EdgeCondition, gap_mm: float = 5, thickness_mm: float = 3, length_mm: float = 400) -> ClosingForce:
    return closing_force(thickness_mm, 7000, length_mm, condition, gap_mm, 50, 50)


@pytest.mark.parametrize(
    ("condition", "force_N"), [("free", 0.18457), ("guided", 0.73828), ("both_supported", 2.9531)]
)
def test_strip_of_a_handbook(condition: EdgeCondition, force_N: float) -> None:
    # Roark's Formulas for Stress and Strain, beam tables: memory, recomputed. 7000 MPa, 50 x 3 mm, 400 mm, 5 mm.
    assert strip(condition).total_force_N == approx(force_N, rel=1e-3)


def test_bending_stress_of_the_cantilever_strip() -> None:
    # Roark's Formulas for Stress and Strain, beam tables: memory, recomputed. 0.984 MPa.
    assert strip("free").bending_stress_MPa == approx(0.984, abs=0.001)


def test_cantilever_of_two_beam_solvers() -> None:
    # 5 N at the tip of that strip: 0.1354498 m by one open beam solver, 0.1354497 m by another.
    assert strip("free", gap_mm=135.4498).total_force_N == approx(5, rel=1e-5)


def solved_by_beam_package(condition: EdgeCondition, force_N: float) -> tuple[float, float]:
    """Return deflection (mm) and largest moment (N mm) of a 400 mm strip of 7000 MPa, 50 x 3 mm."""
    beam = Beam(0.4, E=7e9, I=112.5e-12, A=150e-6)
    ends: list[tuple[float, tuple[int, int, int]]] = {
        "free": [(0.0, (1, 1, 1))],
        "guided": [(0.0, (1, 1, 1)), (0.4, (0, 0, 1))],
        "both_supported": [(0.0, (1, 1, 0)), (0.4, (0, 1, 0))],
        "both_held": [(0.0, (1, 1, 1)), (0.4, (0, 1, 1))],
    }[condition]
    beam.add_supports(*(Support(place, fixed) for place, fixed in ends))
    loaded = 0.2 if condition.startswith("both") else 0.4
    beam.add_loads(PointLoadV(-force_N, loaded))
    beam.analyse()
    moments = [abs(float(beam.get_bending_moment(place))) for place in (1e-6, 0.2, 0.4 - 1e-6)]
    return abs(float(beam.get_deflection(loaded))) * 1000, max(moments) * 1000


@pytest.mark.parametrize("condition", CONDITIONS)
def test_force_and_stress_agree_with_a_beam_solver(condition: EdgeCondition) -> None:
    result = strip(condition)
    deflection_mm, moment_N_mm = solved_by_beam_package(condition, result.total_force_N)
    assert deflection_mm == approx(5, rel=1e-4)
    assert result.bending_stress_MPa == approx(moment_N_mm * 1.5 / 112.5, rel=1e-3)


@pytest.mark.parametrize("condition", CONDITIONS)
def test_stored_energy_is_that_of_bending_along_the_strip(condition: EdgeCondition) -> None:
    # Clapeyron: force x gap/2 equals the integral of M²/(2EI), moments linear between hold and joint.
    result = strip(condition)
    half = 0.5 if condition.startswith("both") else 1
    load_N = result.joint_edge_load_N_mm * 50
    at_joint = {"free": 0.0, "both_supported": load_N * 200}.get(condition, load_N * 400 * half / 2)
    moments = at_joint - load_N * np.linspace(0, 400 * half, 20_001)
    energy_N_mm = np.trapezoid(moments**2, dx=400 * half / 20_000) / (2 * 7000 * 112.5) / half
    assert result.stored_energy_J == approx(energy_N_mm / 1000, rel=1e-6)
    assert result.joint_edge_moment_N * 50 == approx(at_joint)


def bent_far(gap_to_length: float) -> float:
    """Return force L²/(EI) of a cantilever bent to a gap, by the equation of the elastica."""
    # z' = theta, theta' = kappa, kappa' = -P cos(theta), y' = sin(theta)
    def slopes(_: Any, y: Any, p: Any) -> Any:
        return np.vstack([y[1], -p[0] * np.cos(y[0]), np.sin(y[0])])

    def ends(a: Any, b: Any, _: Any) -> Any:
        return np.array([a[0], a[2], b[1], b[2] - gap_to_length])

    along = np.linspace(0, 1, 50)
    guess = np.vstack([gap_to_length * along * 1.5, gap_to_length * (1 - along) * 3, gap_to_length * along**2])
    solution = solve_bvp(slopes, ends, along, guess, p=[3 * gap_to_length], tol=1e-8)
    assert solution.success
    return float(solution.p[0])


def test_small_deflection_of_a_free_edge_costs_one_percent() -> None:
    assert strip("free", gap_mm=40).small_deflection and not strip("free", gap_mm=40.1).small_deflection
    assert bent_far(0.1) / 0.3 == approx(1.010, abs=0.001)
    assert bent_far(0.4) > 3 * 0.4 * 1.05  # further on the formula is too low


def stretched_too(condition: str, gap_to_thickness: float) -> float:
    """Return the force of a strip whose ends cannot draw in, to that by bending alone."""
    # Half a strip of length 1, thickness 1, E I = 1, A = 12: w'''' = N w'', N = 12 x mean of w'²/2.
    def slopes(_: Any, y: Any, p: Any) -> Any:
        return np.vstack([y[1], y[2], y[3], p[0] * y[2], y[1] ** 2])

    def ends(a: Any, b: Any, p: Any) -> Any:
        hold = a[1] if condition == "both_held" else a[2]
        return np.array([a[0], hold, a[4], b[0] - gap_to_thickness, b[1], p[0] - 12 * b[4]])

    along = np.linspace(0, 0.5, 60)
    guess = np.vstack([gap_to_thickness * along * 2, 0 * along + gap_to_thickness, 0 * along, 0 * along, along])
    solution = solve_bvp(slopes, ends, along, guess, p=[1.0], tol=1e-6)
    assert solution.success
    force = 2 * abs(solution.y[3][-1])
    bending = 192 if condition == "both_held" else 48
    return float(force / (bending * gap_to_thickness))


@pytest.mark.parametrize(("condition", "limit"), [("both_supported", 1 / 6), ("both_held", 1 / 3)])
def test_small_deflection_between_holds_costs_eight_percent(condition: EdgeCondition, limit: float) -> None:
    gap_mm = 6 * limit
    assert strip(condition, gap_mm=gap_mm - 1e-9, thickness_mm=6).small_deflection
    assert not strip(condition, gap_mm=gap_mm + 1e-9, thickness_mm=6).small_deflection
    assert stretched_too(condition, limit) == approx(1.08, abs=0.01)


@given(THICKNESS_MM, MODULUS_MPA, LENGTH_MM, GAP_MM, st.sampled_from(CONDITIONS))
def test_force_follows_gap_modulus_thickness_cubed_and_length(
    thickness_mm: float, modulus_MPa: float, length_mm: float, gap_mm: float, condition: EdgeCondition
) -> None:
    base = closing_force(thickness_mm, modulus_MPa, length_mm, condition, gap_mm, 800, 100).force_per_length_N_mm
    assert closing_force(2 * thickness_mm, modulus_MPa, length_mm, condition, gap_mm, 800, 100).total_force_N == approx(
        8 * 800 * base
    )
    assert closing_force(
        thickness_mm, modulus_MPa / 2, 2 * length_mm, condition, 2 * gap_mm, 800, 100
    ).force_per_clamp_N == approx(100 * base / 8)


@given(THICKNESS_MM, LENGTH_MM, GAP_MM)
def test_the_less_an_edge_may_tilt_the_more_force(thickness_mm: float, length_mm: float, gap_mm: float) -> None:
    forces = [strip(condition, gap_mm, thickness_mm, length_mm).total_force_N for condition in CONDITIONS]
    assert forces == sorted(forces)


@pytest.mark.parametrize("condition", CONDITIONS)
def test_no_gap_no_force(condition: EdgeCondition) -> None:
    result = strip(condition, gap_mm=0)
    assert result.total_force_N == result.stored_energy_J == result.bending_stress_MPa == 0
    assert result.small_deflection


def test_unknown_edge_condition_names_the_known_ones() -> None:
    unknown: Any = "welded"
    with pytest.raises(ValueError, match="`edge_condition` is `welded`, must be one of free, guided, both_supported"):
        strip(unknown)


@given(st.floats(1, 500), st.floats(1, 50), st.floats(0, 100), st.floats(50, 2000))
def test_pull_on_a_flat_strip_gives_the_force_of_the_formula(
    pull_N: float, pulled_mm: float, gap_mm: float, moved_mm: float
) -> None:
    result = closing_force_from_pull(pull_N, pulled_mm, gap_mm, moved_mm, 1000, 150)
    assert result.force_at_gap_N == approx(pull_N * gap_mm / pulled_mm)
    assert result.total_force_N == approx(result.force_at_gap_N * 1000 / moved_mm)
    assert result.force_per_clamp_N == approx(result.total_force_N * 0.15)
    assert result.stored_energy_J == approx(result.total_force_N * gap_mm / 2000)
    formula = strip("free", gap_mm=10)
    measured = closing_force_from_pull(strip("free", gap_mm=4).total_force_N, 4, 10, 50, 50, 50)
    assert measured.force_per_length_N_mm == approx(formula.force_per_length_N_mm)
    assert measured.gap_to_pulled_ratio == 2.5


# What stays in the joint.


@given(st.floats(0.5, 10), st.floats(100, 3000), st.floats(0.1, 50))
def test_panel_glued_flat_loads_the_bond_as_a_guided_edge(thickness_mm: float, length_mm: float, gap_mm: float) -> None:
    pulled = strip("free", gap_mm, thickness_mm, length_mm)
    guided = strip("guided", gap_mm, thickness_mm, length_mm)
    glued = edge_load_glued_flat(pulled.force_per_length_N_mm, length_mm)
    assert glued.joint_edge_load_N_mm == approx(guided.joint_edge_load_N_mm)
    assert glued.joint_edge_moment_N == approx(guided.joint_edge_moment_N)


def on_springs(
    load_N_mm: float, moment_N: float, width_mm: float, thickness_mm: float, modulus_MPa: float, spring_MPa_mm: float
) -> float:
    """Return the peak tension of a panel on a bed of springs, pulled up at one edge, by a boundary value solver."""
    stiffness = modulus_MPa * thickness_mm**3 / 12
    scale = sqrt(sqrt(stiffness / spring_MPa_mm))  # lengths in units of this, deflection in load/(spring scale)
    moment = moment_N / scale

    def slopes(_: Any, y: Any) -> Any:
        return np.vstack([y[1], y[2], y[3], -y[0]])

    def ends(a: Any, b: Any) -> Any:
        return np.array([a[2] - moment, a[3] - load_N_mm, b[2], b[3]])  # pulled end first, far end free

    along = np.linspace(0, width_mm / scale, 200)
    solution = solve_bvp(slopes, ends, along, np.zeros((4, 200)), tol=1e-8, max_nodes=50_000)
    assert solution.success
    return float(solution.y[0][0]) / scale


@pytest.mark.parametrize("width_mm", [5, 12, 25, 60, 150])
@pytest.mark.parametrize(("load_N_mm", "moment_N"), [(0.15, 0), (0, 30), (0.15, 30)])
def test_peak_tension_agrees_with_a_boundary_value_solver(width_mm: float, load_N_mm: float, moment_N: float) -> None:
    result = residual_tension(load_N_mm, moment_N, width_mm, 3, 7000, 1, 10)
    assert result.peak_tension_MPa == approx(on_springs(load_N_mm, moment_N, width_mm, 3, 7000, 10), rel=1e-5)


def tension(load_N_mm: float, width_mm: float, modulus_MPa: float = 7000, glue_MPa: float = 10) -> ResidualTension:
    return residual_tension(load_N_mm, 0, width_mm, 3, modulus_MPa, 1, glue_MPa)


def test_rigid_panel_pivots_and_an_endless_bond_takes_no_notice_of_width() -> None:
    # Statics of a rigid block: four times the mean at the edge, 6 m/w² by a moment. Endless beam: 2 b q
    # (Hetenyi 1946: memory).
    assert tension(1, 20, 300_000, 0.1).peak_to_mean_ratio == approx(4, rel=0.01)
    assert residual_tension(0, 100, 20, 50, 300_000, 1, 0.1).peak_tension_MPa == approx(6 * 100 / 400, rel=1e-3)
    assert tension(1, 500).peak_tension_MPa == approx(2 / tension(1, 500).transfer_length_mm, rel=1e-6)
    assert tension(1, 500).peak_tension_MPa == approx(tension(1, 1000).peak_tension_MPa, rel=1e-6)


@given(st.floats(0.1, 10), st.floats(2, 800), st.floats(0.5, 3000))
def test_softer_glue_and_wider_bond_never_raise_the_peak(load_N_mm: float, width_mm: float, glue_MPa: float) -> None:
    here = tension(load_N_mm, width_mm, glue_MPa=glue_MPa)
    assert here.mean_tension_MPa <= here.peak_tension_MPa
    assert here.peak_tension_MPa <= tension(load_N_mm, width_mm, glue_MPa=1.5 * glue_MPa).peak_tension_MPa * (1 + 1e-9)
    wider = tension(load_N_mm, 1.2 * width_mm, glue_MPa=glue_MPa)
    assert wider.peak_tension_MPa <= here.peak_tension_MPa * 1.01  # an endless beam dips 0.4 % below its limit


def test_no_load_no_tension() -> None:
    result = tension(0, 25)
    assert result.peak_tension_MPa == 0
    assert result.peak_to_mean_ratio == approx(tension(1, 25).peak_to_mean_ratio)


@settings(max_examples=30)
@given(st.floats(1, 1.02))
def test_narrow_bond_passes_smoothly_into_its_limit(factor: float) -> None:
    # The limit for narrow bonds begins at a thousandth of the transfer length.
    per_mm = 1 / residual_tension(1, 0, 1, 100, 300_000, 50, 0.5).transfer_length_mm
    narrow = residual_tension(1, 0, 1 * factor, 100, 300_000, 50, 0.5)
    assert per_mm < 1e-3
    assert narrow.peak_to_mean_ratio == approx(4, rel=1e-6)


def test_out_of_range_says_the_range() -> None:
    with pytest.raises(OutOfRange, match="`bond_width_mm` is 0.50 mm, must be between 1 and 1000 mm"):
        tension(1, 0.5)
