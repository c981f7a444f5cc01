"""Lap joints against the differential equations they come from, solved numerically, and against published limits."""

from math import sqrt, tanh
from typing import Any, NamedTuple

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx
from scipy.integrate import solve_bvp

from advisor.calculators.lap_edges import LapEdges, lap_edges
from advisor.calculators.lap_joint import (
    LapShear,
    lap_mean_shear_MPa,
    lap_shear,
    overlap_at_part_strength_mm,
    overlap_for_mean_shear_mm,
    useful_overlap_mm,
)
from advisor.calculators.lap_peak import largest_load_by_peak_N, overlap_for_peak_shear_mm
from advisor.calculators.ranges import OutOfRange


class Parts(NamedTuple):
    """Two parts and the glue between them, in the order of the functions."""

    thickness_a_mm: float
    modulus_a_MPa: float
    thickness_b_mm: float
    modulus_b_MPa: float
    bond_line_mm: float
    adhesive_shear_modulus_MPa: float


# Worked cases, all computed: laminate with a thin stiff line, the same with a thick soft line, aluminium.
LAMINATE = Parts(3, 7000, 3, 7000, 0.3, 1000)
LAMINATE_SOFT = Parts(3, 7000, 3, 7000, 3, 1.0)
ALUMINIUM = Parts(1.6, 70_000, 1.6, 70_000, 0.2, 1700)
UNLIKE = Parts(3, 7000, 2, 70_000, 0.5, 300)

THICKNESS_MM = st.floats(0.5, 20)
MODULUS_MPA = st.floats(1000, 210_000)
PARTS = st.builds(
    Parts, THICKNESS_MM, MODULUS_MPA, THICKNESS_MM, MODULUS_MPA, st.floats(0.1, 10), st.floats(0.2, 2000)
)
LIKE = st.builds(
    lambda t, e, ta, g: Parts(t, e, t, e, ta, g), THICKNESS_MM, MODULUS_MPA, st.floats(0.1, 10), st.floats(0.2, 2000)
)
OVERLAP_MM = st.floats(5, 300)


def shear_by_solver(line_load_N_mm: float, overlap_mm: float, parts: Parts) -> tuple[float, float]:
    """Return the shear at the end where a enters and where b does, from equilibrium and stretch of each part."""
    stretch_a = 1 / (parts.modulus_a_MPa * parts.thickness_a_mm)
    stretch_b = 1 / (parts.modulus_b_MPa * parts.thickness_b_mm)
    per_mm = parts.adhesive_shear_modulus_MPa / parts.bond_line_mm

    def slopes(_: Any, y: Any) -> Any:  # pull in part a, shear
        return np.vstack([-y[1], per_mm * ((line_load_N_mm - y[0]) * stretch_b - y[0] * stretch_a)])

    def ends(a: Any, b: Any) -> Any:
        return np.array([a[0] - line_load_N_mm, b[0]])

    along = np.linspace(0, overlap_mm, 400)
    guess = np.vstack([line_load_N_mm * (1 - along / overlap_mm), 0 * along + line_load_N_mm / overlap_mm])
    solution = solve_bvp(slopes, ends, along, guess, tol=1e-8, max_nodes=100_000)
    assert solution.success
    return float(solution.y[1][0]), float(solution.y[1][-1])


@pytest.mark.parametrize(
    ("load_N", "overlap_mm", "parts", "mean_MPa", "peak_MPa"),
    [
        (2000, 25, LAMINATE, 3.200, 22.5375),
        (2000, 25, LAMINATE_SOFT, 3.200, 3.2053),
        (5000, 12.5, ALUMINIUM, 16.0, 39.562),
    ],
)
def test_volkersen_worked_cases(
    load_N: float, overlap_mm: float, parts: Parts, mean_MPa: float, peak_MPa: float
) -> None:
    # Volkersen 1938, equal parts: computed, closed form and boundary value solver agreed beforehand.
    result = lap_shear(load_N, overlap_mm, 25, *parts)
    assert result.mean_shear_MPa == approx(mean_MPa, rel=1e-4)
    assert result.peak_shear_MPa == approx(peak_MPa, rel=1e-4)


def test_transfer_lengths_and_ratios_of_the_worked_cases() -> None:
    # Computed: lambda 0.56344 and 0.38960 per mm, peak to mean 7.043 and 1.002.
    assert 1 / lap_shear(2000, 25, 25, *LAMINATE).transfer_length_mm == approx(0.56344, abs=1e-5)
    assert 1 / lap_shear(5000, 12.5, 25, *ALUMINIUM).transfer_length_mm == approx(0.38960, abs=1e-5)
    assert lap_shear(2000, 25, 25, *LAMINATE).peak_to_mean_ratio == approx(7.043, abs=1e-3)
    assert lap_shear(2000, 25, 25, *LAMINATE_SOFT).peak_to_mean_ratio == approx(1.002, abs=1e-3)


def random_parts(seed: int) -> tuple[float, Parts]:
    random = np.random.default_rng(seed)
    thick = random.uniform(0.8, 6, 2)
    stiff = 10 ** random.uniform(3.5, 5.3, 2)
    line, glue = 10 ** random.uniform(-0.7, 0.5), 10 ** random.uniform(0, 3)
    return float(random.uniform(8, 60)), Parts(*map(float, (thick[0], stiff[0], thick[1], stiff[1], line, glue)))


@pytest.mark.parametrize("seed", range(12))
def test_unlike_parts_agree_with_a_boundary_value_solver(seed: int) -> None:
    overlap_mm, parts = random_parts(seed)
    result = lap_shear(8000, overlap_mm, 100, *parts)
    where_a, where_b = shear_by_solver(80, overlap_mm, parts)
    assert result.shear_where_a_enters_MPa == approx(where_a, rel=1e-4)
    assert result.shear_where_b_enters_MPa == approx(where_b, rel=1e-4)
    assert result.peak_shear_MPa == approx(max(where_a, where_b), rel=1e-4)


@given(LIKE, OVERLAP_MM)
def test_like_parts_obey_the_coth_identity(parts: Parts, overlap_mm: float) -> None:
    # Volkersen 1938: peak/mean = (lambda L/2) coth(lambda L/2). Memory, recomputed.
    result = lap_shear(1000, overlap_mm, 100, *parts)
    half = result.overlap_to_transfer_ratio / 2
    assert result.peak_to_mean_ratio == approx(half / tanh(half), rel=1e-9)
    assert result.shear_where_a_enters_MPa == approx(result.shear_where_b_enters_MPa, rel=1e-9)


@given(PARTS, OVERLAP_MM)
def test_turning_the_joint_round_changes_the_names_only(parts: Parts, overlap_mm: float) -> None:
    turned = Parts(*parts[2:4], *parts[:2], *parts[4:])
    here, there = lap_shear(1000, overlap_mm, 100, *parts), lap_shear(1000, overlap_mm, 100, *turned)
    assert here.shear_where_a_enters_MPa == approx(there.shear_where_b_enters_MPa)
    assert here.shear_where_b_enters_MPa == approx(there.shear_where_a_enters_MPa)


@given(PARTS, OVERLAP_MM)
def test_peak_is_at_least_the_mean_and_lies_where_the_softer_part_enters(parts: Parts, overlap_mm: float) -> None:
    result = lap_shear(1000, overlap_mm, 100, *parts)
    assert result.peak_to_mean_ratio >= 1 - 1e-9
    a_softer = parts.modulus_a_MPa * parts.thickness_a_mm <= parts.modulus_b_MPa * parts.thickness_b_mm
    softer = result.shear_where_a_enters_MPa if a_softer else result.shear_where_b_enters_MPa
    assert result.peak_shear_MPa == approx(softer)


@given(PARTS)
def test_softer_glue_tends_to_the_mean_and_thicker_line_is_the_same_as_softer_glue(parts: Parts) -> None:
    soft = parts._replace(bond_line_mm=50, adhesive_shear_modulus_MPa=0.05)
    assert lap_shear(1000, 5, 100, *soft).peak_to_mean_ratio == approx(1, abs=1e-3)
    thick = parts._replace(bond_line_mm=2 * parts.bond_line_mm)
    softer = parts._replace(adhesive_shear_modulus_MPa=parts.adhesive_shear_modulus_MPa / 2)
    assert lap_shear(1000, 25, 100, *thick).peak_shear_MPa == approx(lap_shear(1000, 25, 100, *softer).peak_shear_MPa)


@given(PARTS, OVERLAP_MM, st.floats(1.01, 5))
def test_longer_overlap_never_raises_the_peak(parts: Parts, overlap_mm: float, longer: float) -> None:
    here, there = (lap_shear(1000, length, 100, *parts) for length in (overlap_mm, longer * overlap_mm))
    assert there.peak_shear_MPa <= here.peak_shear_MPa * (1 + 1e-9)
    assert there.peak_to_mean_ratio >= here.peak_to_mean_ratio * (1 - 1e-9)


@given(PARTS, OVERLAP_MM, st.floats(0, 10_000), st.floats(2, 50))
def test_stress_follows_the_load_and_zero_load_has_none(
    parts: Parts, overlap_mm: float, load_N: float, factor: float
) -> None:
    one, more = lap_shear(load_N, overlap_mm, 100, *parts), lap_shear(factor * load_N, overlap_mm, 100, *parts)
    assert more.peak_shear_MPa == approx(factor * one.peak_shear_MPa)
    assert more.peak_to_mean_ratio == one.peak_to_mean_ratio
    assert lap_shear(0, overlap_mm, 100, *parts).peak_shear_MPa == 0


@given(PARTS, OVERLAP_MM)
def test_scale_of_the_drawing_does_not_matter(parts: Parts, overlap_mm: float) -> None:
    # Twice as large with the same load per width and length: half the stress, the same ratios.
    large = parts._replace(
        thickness_a_mm=2 * parts.thickness_a_mm,
        thickness_b_mm=2 * parts.thickness_b_mm,
        bond_line_mm=2 * parts.bond_line_mm,
    )
    here, there = lap_shear(1000, overlap_mm, 100, *parts), lap_shear(1000, 2 * overlap_mm, 100, *large)
    assert there.peak_to_mean_ratio == approx(here.peak_to_mean_ratio)
    assert there.peak_shear_MPa == approx(here.peak_shear_MPa / 2)


def test_extremes_do_not_overflow() -> None:
    result: LapShear = lap_shear(1000, 2000, 100, 0.2, 10, 0.2, 10, 0.05, 5000)
    assert result.peak_to_mean_ratio == approx(result.overlap_to_transfer_ratio / 2)
    edges = lap_edges(1e6, 2000, 1, 0.2, 10, 0.5, 0.05, 5000, 20_000)
    assert edges.edge_peel_MPa > 0 and edges.edge_moment_ratio == approx(1 / (1 + 2 * sqrt(2)))


# How much overlap.


def test_doubling_beyond_six_transfer_lengths_gains_less_than_one_percent() -> None:
    # Volkersen 1938, strength of like parts goes as tanh(lambda L/2); at lambda L/2 of 3. Memory, recomputed.
    useful_mm = useful_overlap_mm(0.995, *LAMINATE)
    assert useful_mm / lap_shear(1, 25, 25, *LAMINATE).transfer_length_mm == approx(6, rel=0.01)
    once, twice = (lap_shear(2000, times * useful_mm, 25, *LAMINATE).peak_shear_MPa for times in (1, 2))
    assert once / twice < 1.01


@given(PARTS, st.floats(0.2, 0.99))
def test_useful_overlap_bears_the_share_it_says(parts: Parts, share: float) -> None:
    overlap_mm = useful_overlap_mm(share, *parts)
    if not 1 <= overlap_mm <= 2000:
        return
    peak_MPa = lap_shear(1000, overlap_mm, 100, *parts).peak_shear_MPa
    assert share * largest_load_by_peak_N(100, peak_MPa, *parts) == approx(1000, rel=1e-6)
    assert overlap_for_peak_shear_mm(1000, 100, peak_MPa, *parts) == approx(overlap_mm, rel=1e-6)


def test_no_overlap_bears_more_than_the_largest_load() -> None:
    largest_N = largest_load_by_peak_N(25, 20, *UNLIKE)
    assert overlap_for_peak_shear_mm(0.99 * largest_N, 25, 20, *UNLIKE) > useful_overlap_mm(0.98, *UNLIKE)
    with pytest.raises(OutOfRange, match="`load_N` is"):
        overlap_for_peak_shear_mm(largest_N, 25, 20, *UNLIKE)


@given(st.floats(1, 10_000), st.floats(10, 1000), st.floats(0.5, 20))
def test_overlap_for_mean_shear_gives_that_mean(load_N: float, width_mm: float, allowable_MPa: float) -> None:
    overlap_mm = overlap_for_mean_shear_mm(load_N, width_mm, allowable_MPa)
    assert load_N / overlap_mm / width_mm == approx(allowable_MPa)
    if overlap_mm >= 1:
        assert lap_mean_shear_MPa(load_N, overlap_mm, width_mm) == approx(allowable_MPa)


def test_greatest_overlap_of_a_test_piece() -> None:
    # ASTM D1002, L = Fty t/tau: memory, recomputed. 345 MPa, 1.62 mm, 25 MPa.
    assert overlap_at_part_strength_mm(345, 1.62, 25) == approx(22.4, abs=0.05)


# Bending and peel.

LAMINATE_EDGES = lap_edges(2000, 25, 25, 3, 7000, 0.33, 0.3, 1000, 2700)
ALUMINIUM_EDGES = lap_edges(5000, 12.5, 25, 1.6, 70_000, 0.33, 0.2, 1700, 4600)


def test_goland_and_reissner_worked_cases() -> None:
    # Goland and Reissner 1944 in the form of da Silva and others 2009: memory, agreed beforehand with a solver.
    assert LAMINATE_EDGES.edge_moment_ratio == approx(0.55035, abs=1e-5)
    assert LAMINATE_EDGES.edge_force_ratio == approx(0.23141, abs=1e-5)
    assert LAMINATE_EDGES.edge_shear_MPa == approx(30.953, abs=1e-3)
    assert LAMINATE_EDGES.edge_peel_MPa == approx(38.549, abs=1e-3)
    assert ALUMINIUM_EDGES.edge_moment_ratio == approx(0.65218, abs=1e-5)
    assert ALUMINIUM_EDGES.edge_shear_MPa == approx(61.773, abs=1e-3)
    assert ALUMINIUM_EDGES.edge_peel_MPa == approx(79.907, abs=1e-3)


def edges_by_solver(overlap_mm: float, thickness_mm: float, modulus_MPa: float, glue: tuple[float, float, float],
                    edges: LapEdges) -> tuple[float, float, float]:
    """Return edge shear, edge peel and total peel of two beams with glue between, from their end loads."""
    bond_line_mm, shear_MPa, tensile_MPa = glue
    half_mm, pull = overlap_mm / 2, edges.line_load_N_mm
    bending = modulus_MPa * thickness_mm**3 / 12
    moment = edges.edge_moment_ratio * pull * thickness_mm / 2
    force = edges.edge_force_ratio * pull * thickness_mm / half_mm
    spring = tensile_MPa / bond_line_mm
    per_mm2 = 8 * shear_MPa / (modulus_MPa * thickness_mm * bond_line_mm)
    # At the end one part has all the pull and the moment, the other nothing.
    strain_step = pull / (modulus_MPa * thickness_mm) + moment * thickness_mm / 2 / bending

    def slopes(_: Any, y: Any, p: Any) -> Any:  # opening and its derivatives; shear, its slope, its sum; sum of peel
        curve = per_mm2 * (y[4] - p[0])
        return np.vstack([y[1], y[2], y[3], -2 * spring * y[0] / bending, y[5], curve, y[4], spring * y[0]])

    def ends(a: Any, b: Any, _: Any) -> Any:
        middle = [a[1], a[3], a[5], a[6], a[7]]
        end = [b[2] - moment / bending, b[3] + force / bending, b[5] - shear_MPa / bond_line_mm * strain_step]
        return np.array([*middle, *end, b[6] - pull / 2])

    along = np.linspace(0, half_mm, 400)
    solution = solve_bvp(slopes, ends, along, np.zeros((8, 400)), p=[1.0], tol=1e-8, max_nodes=100_000)
    assert solution.success
    return float(solution.y[4][-1]), spring * float(solution.y[0][-1]), 2 * float(solution.y[7][-1])


@pytest.mark.parametrize(
    ("overlap_mm", "thickness_mm", "modulus_MPa", "glue", "load_N"),
    [
        (25, 3, 7000, (0.3, 1000, 2700), 2000),
        (12.5, 1.6, 70_000, (0.2, 1700, 4600), 5000),
        (25, 3, 7000, (3, 1, 3), 2000),
        (40, 4, 12_000, (1, 300, 900), 6000),
        (60, 2.5, 9000, (2, 20, 60), 500),
    ],
)
def test_edges_agree_with_a_boundary_value_solver(
    overlap_mm: float, thickness_mm: float, modulus_MPa: float, glue: tuple[float, float, float], load_N: float
) -> None:
    edges = lap_edges(load_N, overlap_mm, 25, thickness_mm, modulus_MPa, 0.33, *glue)
    shear_MPa, peel_MPa, peel_sum = edges_by_solver(overlap_mm, thickness_mm, modulus_MPa, glue, edges)
    assert edges.edge_shear_MPa == approx(shear_MPa, rel=1e-4)
    assert edges.edge_peel_MPa == approx(peel_MPa, rel=1e-4)
    # The sum of the peel is the transverse force: 4.443 and 9.012 N/mm in the first two cases (computed).
    assert peel_sum == approx(edges.edge_force_ratio * edges.line_load_N_mm * thickness_mm / (overlap_mm / 2), rel=1e-5)


def test_sum_of_the_peel_in_the_worked_cases() -> None:
    # Computed: k' p t/c is 4.443 and 9.012 N/mm.
    assert LAMINATE_EDGES.edge_force_ratio * 80 * 3 / 12.5 == approx(4.443, abs=1e-3)
    assert ALUMINIUM_EDGES.edge_force_ratio * 200 * 1.6 / 6.25 == approx(9.0121, abs=1e-3)


def test_limits_of_the_moment_factor() -> None:
    # Goland and Reissner 1944: 1 without load, 1/(1 + 2 sqrt 2) = 0.26120 for much. Memory, recomputed.
    assert lap_edges(0, 25, 25, 3, 7000, 0.33, 0.3, 1000, 2700).edge_moment_ratio == 1
    assert lap_edges(1e6, 300, 1, 3, 7000, 0.33, 0.3, 1000, 2700).edge_moment_ratio == approx(0.26120, abs=1e-4)


def test_moment_factor_lies_near_that_of_hart_smith() -> None:
    # Hart-Smith, NASA CR-112236, 1973: memory. k = (1 + ta/t)/(1 + xi c + (xi c)²/6): 0.5616, or 0.5105 without ta/t.
    rooted = sqrt(80 / (7000 * 27 / 12 / (1 - 0.33**2))) * 12.5
    hart_smith = 1.1 / (1 + rooted + rooted**2 / 6)
    assert hart_smith == approx(0.5616, abs=1e-4)
    assert LAMINATE_EDGES.edge_moment_ratio == approx(hart_smith, rel=0.08)


def test_soft_thick_line_has_far_less_peel_at_the_same_load() -> None:
    # Computed: 38.549 and 30.953 MPa stiff and thin, 0.446 and 3.214 MPa soft and thick.
    soft = lap_edges(2000, 25, 25, 3, 7000, 0.33, 3, 1, 3)
    assert soft.edge_peel_MPa == approx(0.4456, abs=1e-3)
    assert soft.edge_shear_MPa == approx(3.214, abs=1e-3)
    assert LAMINATE_EDGES.edge_peel_MPa > 10 * soft.edge_peel_MPa
    assert soft.flexible_bond_line and not LAMINATE_EDGES.flexible_bond_line


EDGE_CASES: st.SearchStrategy[dict[str, float]] = st.builds(
    dict,
    load_N=st.floats(1, 5000),
    overlap_mm=OVERLAP_MM,
    joint_width_mm=st.just(50.0),
    thickness_mm=st.floats(1, 10),
    modulus_MPa=st.floats(3000, 80_000),
    poisson_ratio=st.floats(0, 0.45),
    bond_line_mm=st.floats(0.1, 5),
    adhesive_shear_modulus_MPa=st.floats(0.5, 1500),
    adhesive_tensile_modulus_MPa=st.floats(1, 4500),
)


@given(EDGE_CASES)
def test_bending_adds_to_the_shear_lag_while_the_factor_is_above_a_third(case: dict[str, float]) -> None:
    edges = lap_edges(**case)
    assert 1 / (1 + 2 * sqrt(2)) - 1e-9 <= edges.edge_moment_ratio <= 1
    half = sqrt(2 * case["adhesive_shear_modulus_MPa"] / case["bond_line_mm"])
    half *= case["overlap_mm"] / 2 / sqrt(case["modulus_MPa"] * case["thickness_mm"])
    if edges.edge_moment_ratio >= 1 / 3:  # a joint pulled straight hands a little over in the middle by bending
        assert edges.shear_to_mean_ratio >= half / tanh(half) * (1 - 1e-9)
    assert edges.part_stress_MPa == approx(
        edges.line_load_N_mm / case["thickness_mm"] * edges.part_stress_to_direct_ratio
    )
    assert 1 < edges.part_stress_to_direct_ratio <= 4


@given(EDGE_CASES)
def test_thick_line_adds_its_own_offset_to_peel_and_part_stress(case: dict[str, float]) -> None:
    edges = lap_edges(**case)
    offset = 1 + case["bond_line_mm"] / case["thickness_mm"]
    assert edges.edge_peel_thick_line_MPa == approx(offset * edges.edge_peel_MPa)
    direct_MPa = edges.line_load_N_mm / case["thickness_mm"]
    added = edges.part_stress_thick_line_MPa - direct_MPa
    assert added == approx(offset * (edges.part_stress_MPa - direct_MPa))


@given(EDGE_CASES, st.floats(1.05, 3))
def test_more_load_more_stress_stiffer_glue_more_peel(case: dict[str, float], more: float) -> None:
    here = lap_edges(**case)
    loaded = lap_edges(**{**case, "load_N": more * case["load_N"]})
    assert loaded.edge_shear_MPa > here.edge_shear_MPa
    assert loaded.edge_moment_ratio <= here.edge_moment_ratio  # it straightens as it is pulled
    stiffer = lap_edges(**{**case, "adhesive_shear_modulus_MPa": more * case["adhesive_shear_modulus_MPa"]})
    assert stiffer.edge_shear_MPa >= here.edge_shear_MPa
    assert stiffer.edge_peel_MPa == here.edge_peel_MPa


def test_no_load_no_stress() -> None:
    edges = lap_edges(0, 25, 25, 3, 7000, 0.33, 0.3, 1000, 2700)
    assert edges.edge_shear_MPa == edges.edge_peel_MPa == edges.part_stress_MPa == 0
