"""Packs against trying everything, drops, movement and plain arithmetic."""

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from advisor.calculators.catalyst import catalyst_drops
from advisor.calculators.climate import dew_point_C
from advisor.calculators.exposure import styrene_released_g
from advisor.calculators.geometry import (
    difference,
    kept_within,
    mean,
    pieces_along_count,
    ratio,
    rectangle_area_m2,
    total,
)
from advisor.calculators.movement import bond_line_shear_strain_percent, thermal_movement_mm
from advisor.calculators.packs import few_packs, least_waste_packs, packs_of_one_size
from advisor.calculators.ranges import OutOfRange
from advisor.calculators.resin import coat_mass_kg, mass_of_volume_kg


def best_by_trying(amount: int, sizes: list[int]) -> dict[int, int]:
    """Return counts by size, from every combination that could be best."""
    ordered = sorted(sizes, reverse=True)
    choices = product(*(range(amount // size + 2) for size in ordered))
    covering = [c for c in choices if sum(n * s for n, s in zip(c, ordered, strict=True)) >= amount]
    best = min(
        covering,
        key=lambda c: (sum(n * s for n, s in zip(c, ordered, strict=True)), sum(c), tuple(-n for n in c)),
    )
    return {size: count for size, count in zip(ordered, best, strict=True) if count}


@given(st.integers(0, 60), st.lists(st.integers(3, 25), min_size=1, max_size=3, unique=True))
def test_packs_are_the_best_of_all_combinations(amount: int, sizes: list[int]) -> None:
    assert dict(least_waste_packs(amount, sizes).counts) == best_by_trying(amount, sizes)


@pytest.mark.parametrize(
    ("amount", "sizes"),
    [(25, [3, 14, 17, 20]), (33, [3, 5, 12, 19]), (34, [3, 8, 11]), (34, [4, 5, 12, 13]), (35, [4, 21, 23, 27])],
)
def test_fewest_packs_where_the_first_found_is_not_the_best(amount: int, sizes: list[int]) -> None:
    assert dict(least_waste_packs(amount, sizes).counts) == best_by_trying(amount, sizes)


@given(st.integers(0, 40), st.lists(st.integers(2, 20), min_size=1, max_size=3, unique=True))
def test_packs_of_a_quarter_of_a_unit_are_as_exact(amount: int, sizes: list[int]) -> None:
    quarters = least_waste_packs(amount / 4, [size / 4 for size in sizes])
    assert {round(4 * size): count for size, count in quarters.counts} == best_by_trying(amount, sizes)


@given(st.floats(0, 3000), st.lists(st.floats(40, 600), min_size=1, max_size=4, unique=True))
def test_packs_always_cover_the_amount(amount: float, sizes: list[float]) -> None:
    choice = least_waste_packs(amount, sizes)
    assert choice.total >= amount - 1e-6
    assert choice.total == approx(sum(size * count for size, count in choice.counts))
    assert choice.left_over == approx(choice.total - amount, abs=1e-6)
    assert choice.left_over <= min(sizes) * (1 + 1e-3)


def test_exact_multiples_of_an_awkward_size_waste_nothing() -> None:
    assert least_waste_packs(3 * 3785.41, [3785.41, 946.35, 473.18]).counts == ((3785.41, 3),)
    assert least_waste_packs(0.3, [0.1]).counts == ((0.1, 3),)


def test_tie_is_broken_by_fewest_then_by_larger_packs() -> None:
    assert least_waste_packs(20, [1, 5, 20]).counts == ((20, 1),)
    assert least_waste_packs(12, [4, 5, 6, 7, 8]).counts == ((8, 1), (4, 1))


def fewest_by_trying(amount: int, sizes: list[int], share_percent: int) -> dict[int, int]:
    """Return counts by size: fewest packs within the share, then least total, then larger; else the least total."""
    ordered = sorted(sizes, reverse=True)
    choices = list(product(*(range(amount // size + 2) for size in ordered)))
    totals = {c: sum(n * s for n, s in zip(c, ordered, strict=True)) for c in choices}
    within = [c for c in choices if 100 * amount <= 100 * totals[c] <= amount * (100 + share_percent)]
    if not within:
        return best_by_trying(amount, sizes)
    best = min(within, key=lambda c: (sum(c), totals[c], tuple(-n for n in c)))
    return {size: count for size, count in zip(ordered, best, strict=True) if count}


@given(st.integers(0, 60), st.lists(st.integers(3, 25), min_size=1, max_size=3, unique=True), st.integers(0, 60))
def test_few_packs_are_the_fewest_of_all_combinations(amount: int, sizes: list[int], share_percent: int) -> None:
    assert dict(few_packs(amount, sizes, share_percent).counts) == fewest_by_trying(amount, sizes, share_percent)


def test_a_large_pack_with_a_little_left_over_beats_many_small_ones() -> None:
    assert few_packs(0.95, [0.05, 0.2, 1.0], 15).counts == ((1.0, 1),)
    assert few_packs(279, [50, 200, 400], 15).counts == ((200, 1), (50, 2))
    assert few_packs(100, [40, 45], 15).counts == least_waste_packs(100, [40, 45]).counts


@pytest.mark.timeout(20)
@given(amount=st.integers(1, 3000), sizes=st.lists(st.integers(5, 600), min_size=1, max_size=4, unique=True),
       share_percent=st.integers(0, 60))
def test_packs_of_one_size_cover_with_no_better_size(amount: int, sizes: list[int], share_percent: int) -> None:
    choice = packs_of_one_size(amount, sizes, share_percent)
    ((size, count),) = choice.counts
    assert size * (count - 1) < amount <= size * count == choice.total
    allowed = amount * (1 + share_percent / 100)
    for other in sizes:
        packs = -(-amount // other)
        if choice.total <= allowed:
            assert packs * other > allowed or packs >= count
        else:
            assert packs * other >= choice.total


def test_cartridges_come_in_one_size() -> None:
    assert packs_of_one_size(598.2, [50, 200, 400], 15).counts == ((200, 3),)
    assert packs_of_one_size(0, [50, 200], 15).counts == ()


def test_few_packs_of_a_large_job_are_quick() -> None:
    choice = few_packs(430_010, [43, 200, 400], 15)
    assert choice.pack_count == 1076 and choice.left_over < 100


def test_number_of_sizes_is_limited() -> None:
    assert least_waste_packs(8, range(1, 9)).total == 8
    with pytest.raises(OutOfRange, match="`pack_sizes` is 9 entries, must be between 1 and 8 entries"):
        least_waste_packs(8, range(1, 10))


@pytest.mark.timeout(20)
def test_large_job_is_still_quick() -> None:
    choice = least_waste_packs(430_000, [43, 200, 400])
    assert choice.left_over == 0 and choice.counts == ((400, 1075),)


def test_too_many_packs_are_refused() -> None:
    with pytest.raises(OutOfRange, match="`amount` is 20000, must be between 0 and 10000$"):
        least_waste_packs(20_000, [1])
    with pytest.raises(OutOfRange, match="`amount` is 90000, must be between 0 and 5000$"):
        least_waste_packs(90_000, [44.361, 199.923, 310.519])


def test_less_than_a_drop_is_refused_not_rounded_away() -> None:
    assert catalyst_drops(0.05, 20) == 1
    with pytest.raises(OutOfRange, match="`catalyst_volume_mL` is 0.01 mL, must be between 0.05"):
        catalyst_drops(0.01, 20)


@given(st.floats(-30, 60), st.floats(1, 99), st.floats(0.5, 1))
def test_dew_point_rises_with_humidity_and_never_passes_the_air(air_C: float, humid: float, more: float) -> None:
    assert dew_point_C(air_C, humid) < dew_point_C(air_C, humid + more) <= air_C + 1e-9


def test_saturated_air_is_at_its_dew_point() -> None:
    assert dew_point_C(17.5, 100) == approx(17.5)


@given(st.floats(20, 59), st.floats(0.1, 1), st.floats(0.1, 100))
def test_more_styrene_in_the_resin_gives_off_more(percent: float, more: float, resin_kg: float) -> None:
    released_g = styrene_released_g(resin_kg, percent)
    assert released_g < styrene_released_g(resin_kg, percent + more)
    assert released_g < resin_kg * 1000 * percent / 100


@given(st.floats(0, 200), st.floats(0, 200), st.floats(-100, 100), st.floats(0, 10_000))
def test_movement_does_not_mind_which_part_comes_first(a: float, b: float, change_K: float, length_mm: float) -> None:
    movement_mm = thermal_movement_mm(a, b, change_K, length_mm)
    assert movement_mm == thermal_movement_mm(b, a, -change_K, length_mm) >= 0
    assert 2 * movement_mm == approx(thermal_movement_mm(a, b, change_K, 2 * length_mm))


def test_thicker_bond_line_is_strained_less() -> None:
    assert bond_line_shear_strain_percent(0.5, 2) == 2 * bond_line_shear_strain_percent(0.5, 4) == 25


def test_plain_arithmetic() -> None:
    assert (ratio(-3, 4), difference(2, 5), mean(2, 5), rectangle_area_m2(1200, 500)) == (-0.75, -3, 3.5, 0.6)
    assert [kept_within(value, 1, 2) for value in (0.5, 1.2, 3)] == [1, 1.2, 2]


def test_sum_of_two_amounts() -> None:
    assert total(2.5, -5) == -2.5


@given(st.floats(1, 10_000), st.floats(10, 500))
def test_pieces_along_a_line_are_never_further_apart_than_the_spacing(length_mm: float, spacing_mm: float) -> None:
    count = pieces_along_count(length_mm, spacing_mm)
    assert length_mm <= (count - 1) * spacing_mm * (1 + 1e-9)
    assert count < 2 or length_mm > (count - 2) * spacing_mm * (1 - 1e-9)


@pytest.mark.parametrize("denominator", [0, 0.99e-9, -0.99e-9])
def test_division_by_nothing_is_refused(denominator: float) -> None:
    with pytest.raises(OutOfRange, match="`denominator` is "):
        ratio(1, denominator)
    assert ratio(1, 1e-9) == approx(1e9)


@given(st.floats(0.01, 5), st.floats(0.1, 10), st.floats(700, 3000))
def test_a_film_weighs_what_its_volume_weighs(area_m2: float, film_mm: float, density_kg_m3: float) -> None:
    volume_mL = area_m2 * film_mm * 1000
    assert mass_of_volume_kg(volume_mL, density_kg_m3) == approx(coat_mass_kg(area_m2, film_mm, density_kg_m3))
