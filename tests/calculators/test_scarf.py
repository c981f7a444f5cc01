"""Stress on a taper against the rotation of a stress tensor, and what a repair gives back."""

import re
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from advisor.calculators.patches import taper_length_mm
from advisor.calculators.ranges import OutOfRange
from advisor.calculators.scarf import compare_scarfs, scarf_efficiency, scarf_for_load, scarf_stress

TAPER = st.floats(1, 200)
STRENGTH_MPA = st.floats(1, 500)


@pytest.mark.parametrize(
    ("taper_ratio", "shear", "normal"),
    [
        (4, 0.23529, 0.05882),
        (8, 0.12308, 0.01538),
        (12, 0.08276, 0.006897),
        (20, 0.04988, 0.002494),
        (50, 0.01999, 0.00040),
    ],
)
def test_stress_on_the_usual_tapers(taper_ratio: float, shear: float, normal: float) -> None:
    # Rotation of plane stress, the method of DSTO-RR-0317, 2006: memory, recomputed.
    result = scarf_stress(300, 3, taper_ratio)
    assert result.shear_to_laminate_ratio == approx(shear, abs=1e-5)
    assert result.normal_to_laminate_ratio == approx(normal, abs=1e-5)
    assert result.shear_MPa == approx(100 * shear, abs=1e-3)


@given(TAPER, st.floats(0, 1000), st.floats(0.5, 50))
def test_stress_is_that_of_a_rotated_tensor(taper_ratio: float, line_load_N_mm: float, thickness_mm: float) -> None:
    result = scarf_stress(line_load_N_mm, thickness_mm, taper_ratio)
    angle = np.arctan2(1, taper_ratio)
    across = np.array([-np.sin(angle), np.cos(angle)])
    along = np.array([np.cos(angle), np.sin(angle)])
    traction = np.array([[line_load_N_mm / thickness_mm, 0], [0, 0]]) @ across
    assert result.normal_MPa == approx(float(across @ traction), abs=1e-9)
    assert result.shear_MPa == approx(abs(float(along @ traction)), abs=1e-9)


@given(TAPER, st.floats(1, 1000), st.floats(0.5, 50))
def test_stress_on_the_slope_carries_the_whole_load(
    taper_ratio: float, line_load_N_mm: float, thickness_mm: float
) -> None:
    result = scarf_stress(line_load_N_mm, thickness_mm, taper_ratio)
    carried = result.sloping_length_mm * np.hypot(result.shear_MPa, result.normal_MPa)
    assert carried == approx(line_load_N_mm)
    assert result.taper_length_mm == taper_length_mm(thickness_mm, taper_ratio)


@pytest.mark.parametrize(
    ("thickness_mm", "taper_ratio", "length_mm"), [(3, 12, 36), (3, 20, 60), (1, 50, 50)]
)
def test_length_of_the_taper(thickness_mm: float, taper_ratio: float, length_mm: float) -> None:
    # Computed; 50 times the face ply is FAA AC 43.13-1B (1998), paragraph 3-3.
    assert scarf_stress(100, thickness_mm, taper_ratio).taper_length_mm == length_mm


@given(st.floats(1, 1000), st.floats(0.5, 50), st.floats(0.1, 50), st.floats(0.01, 50))
def test_taper_for_a_load_just_keeps_the_allowances(
    line_load_N_mm: float, thickness_mm: float, shear_MPa: float, normal_MPa: float
) -> None:
    needed = scarf_for_load(line_load_N_mm, thickness_mm, shear_MPa, normal_MPa)
    if needed.taper_ratio > 200:
        return
    result = scarf_stress(line_load_N_mm, thickness_mm, needed.taper_ratio)
    assert result.shear_MPa <= shear_MPa * (1 + 1e-6) and result.normal_MPa <= normal_MPa * (1 + 1e-6)
    reached = {"shear": result.shear_MPa / shear_MPa, "tension": result.normal_MPa / normal_MPa, "neither": 1}
    assert reached[needed.governed_by] == approx(1, rel=1e-6)
    assert needed.taper_length_mm == approx(needed.taper_ratio * thickness_mm)


def test_light_load_needs_no_taper_by_strength() -> None:
    assert scarf_for_load(10, 10, 7, 7).governed_by == "neither"
    assert scarf_for_load(0, 3, 7, 7).taper_ratio == 1


def test_order_of_tested_glass_repairs() -> None:
    # Tests on glass laminates with 6, 12 and 20 to 1 (Rothbarth and Pinto 2019, abstract): 6 the worst, 12 near the
    # sound laminate, 20 no better. Strengths here: 85 MPa of mat (class-society formula, memory) and 7 MPa
    # interlaminar (BS 4994:1987, worked sheet).
    six, twelve, twenty = compare_scarfs([6, 12, 20], 3, 85, 85, 7, 7).tapers
    assert six.efficiency_fraction < 0.6
    assert twelve.efficiency_fraction > 0.95
    assert twenty.efficiency_fraction == approx(twelve.efficiency_fraction, abs=0.05)


@given(TAPER, TAPER, STRENGTH_MPA, STRENGTH_MPA, st.floats(0.5, 50), st.floats(0.5, 50))
def test_longer_taper_never_gives_less_back(
    one: float, other: float, laminate_MPa: float, repair_MPa: float, shear_MPa: float, normal_MPa: float
) -> None:
    short, long = sorted((one, other))
    table = compare_scarfs([short, long], 3, laminate_MPa, repair_MPa, shear_MPa, normal_MPa).tapers
    assert table[0].efficiency_fraction <= table[1].efficiency_fraction * (1 + 1e-12)
    assert all(0 < taper.efficiency_fraction <= 1 for taper in table)
    assert all(taper.efficiency_fraction <= repair_MPa / laminate_MPa * (1 + 1e-12) for taper in table)


@given(TAPER, STRENGTH_MPA, st.floats(0.5, 50), st.floats(0.5, 50))
def test_repair_pulled_to_its_efficiency_just_reaches_the_allowance(
    taper_ratio: float, laminate_MPa: float, shear_MPa: float, normal_MPa: float
) -> None:
    repair = scarf_efficiency(taper_ratio, 3, laminate_MPa, laminate_MPa, shear_MPa, normal_MPa)
    result = scarf_stress(3 * laminate_MPa * repair.efficiency_fraction, 3, taper_ratio)
    assert result.shear_MPa <= shear_MPa * (1 + 1e-9) and result.normal_MPa <= normal_MPa * (1 + 1e-9)
    if repair.governed_by == "shear":
        assert result.shear_MPa == approx(shear_MPa)


def test_weak_repair_laminate_governs_on_a_long_taper() -> None:
    repair = scarf_efficiency(50, 3, 180, 85, 7, 7)
    assert repair.governed_by == "repair" and repair.efficiency_fraction == approx(85 / 180)


def test_empty_list_and_steep_taper_are_refused() -> None:
    with pytest.raises(OutOfRange, match="`each_taper_ratio` is 0 entries"):
        compare_scarfs([], 3, 85, 85, 7, 7)
    with pytest.raises(OutOfRange, match="`taper_ratio` is 0.50, must be between 1 and 200"):
        scarf_stress(100, 3, 0.5)


PAGE = Path(__file__).parents[2] / "docs" / "computations" / "scarf.md"
ROW = re.compile(r"^\| (\d+) : 1 \| (\S+) mm \| (\S+) MPa \| (\S+) MPa \| (\S+) \| (\S+) \|$", re.MULTILINE)


def test_table_of_the_page_holds_the_numbers_of_the_functions() -> None:
    # Mat of 85 MPa and woven roving of 183 MPa (class-society and ISO 12215-5 formulas, memory), 7 MPa on the bond.
    rows = ROW.findall(PAGE.read_text(encoding="utf-8"))
    assert [row[0] for row in rows] == ["8", "12", "20", "30", "50"]
    ratios = [float(row[0]) for row in rows]
    mat, woven = (compare_scarfs(ratios, 3, strength, strength, 7, 7).tapers for strength in (85, 183))
    for row, one, other in zip(rows, mat, woven, strict=True):
        numbers = (one.taper_length_mm, one.shear_needed_MPa, one.normal_needed_MPa, one.efficiency_fraction,
                   other.efficiency_fraction)
        assert list(row[1:]) == [f"{number:.4g}" for number in numbers]
