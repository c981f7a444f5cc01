"""The lever of a bracket, against worked examples from outside and against equilibrium."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from advisor.calculators.bracket import bracket_edge_stress_MPa, bracket_top_pull_N
from advisor.calculators.ranges import OutOfRange

HEIGHTS = st.lists(st.floats(10, 2000), min_size=1, max_size=5)


def test_a_wall_bracket_with_two_rows_of_a_textbook() -> None:
    # Memory: a bracket of four bolts in textbooks of machine design, 30 kN at 500 mm, rows 80 and 250 mm above the
    # tilting edge: 27.2 kN on each upper bolt.
    assert bracket_top_pull_N(30_000, 500, [80, 250], 2) == approx(27_200, rel=0.002)


def test_a_bracket_with_four_rows_of_a_published_sheet() -> None:
    # A published sheet on the anchors of a steel bracket, elastic theory: moment 1009.22 kN m, rows of three at 1075,
    # 875, 675 and 125 mm; 151.1 kN on the outermost, with less than 1 % from forces along and across.
    assert bracket_top_pull_N(1_009_220 / 2, 2000, [1075, 875, 675, 125], 3) == approx(151_100, rel=0.01)


def test_a_shelf_on_two_screws_is_held_by_load_times_reach_over_their_distance() -> None:
    # Statics of a shelf on an upper and a lower screw, as worked on a public board: W L = f (distance of the screws).
    assert bracket_top_pull_N(300, 250, [150], 1) == approx(300 * 250 / 150)


@given(load_N=st.floats(0, 50_000), reach_mm=st.floats(0, 3000), heights=HEIGHTS, count=st.integers(1, 20))
def test_the_pulls_balance_the_load(load_N: float, reach_mm: float, heights: list[float], count: int) -> None:
    top_N = bracket_top_pull_N(load_N, reach_mm, heights, count)
    pulls_N = [top_N * height_mm / max(heights) for height_mm in heights]
    moment = sum(count * pull_N * height_mm for pull_N, height_mm in zip(pulls_N, heights, strict=True))
    assert moment == approx(load_N * reach_mm)


@given(load_N=st.floats(1, 50_000), reach_mm=st.floats(1, 3000), height_mm=st.floats(20, 500),
       width_mm=st.floats(20, 500))
def test_the_glue_of_the_foot_balances_the_load(
    load_N: float, reach_mm: float, height_mm: float, width_mm: float
) -> None:
    edge_MPa = bracket_edge_stress_MPa(load_N, reach_mm, height_mm, height_mm * width_mm)
    slices = [height_mm * step / 200 for step in range(201)]
    moment = 0.0
    for lower, upper in pairwise(slices):
        from_middle = (lower + upper) / 2 - height_mm / 2
        moment += edge_MPa * from_middle / (height_mm / 2) * width_mm * (upper - lower) * from_middle
    assert moment == approx(load_N * reach_mm, rel=1e-3)


def test_a_longer_reach_and_a_lower_foot_pull_harder() -> None:
    assert bracket_edge_stress_MPa(1000, 400, 50, 30_000) == approx(2 * bracket_edge_stress_MPa(1000, 200, 50, 30_000))
    assert bracket_top_pull_N(1000, 200, [50], 1) == approx(2 * bracket_top_pull_N(1000, 200, [100], 1))


def test_a_foot_without_a_row_of_fasteners_is_refused() -> None:
    with pytest.raises(OutOfRange):
        bracket_top_pull_N(1000, 200, [], 1)
