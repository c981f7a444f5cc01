"""Cure through a day agrees with the Arrhenius equation summed by another program, and with common sense."""

from math import exp

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from pytest import approx
from scipy.integrate import quad
from scipy.optimize import brentq

from advisor.calculators.cure import activation_energy_for_doubling_kJ_mol, working_time_min
from advisor.calculators.cure_day import CureThroughDay, cure_through_day, equivalent_age_h
from advisor.calculators.ranges import OutOfRange

DOUBLING_KJ_MOL: float = activation_energy_for_doubling_kJ_mol(20, 30)
Readings = list[tuple[float, float]]
TEMPERATURES = st.floats(-5, 45)
ENERGIES = st.floats(20, 120)


@st.composite
def days(draw: st.DrawFn) -> Readings:
    gaps = draw(st.lists(st.floats(0.2, 6), min_size=1, max_size=6))
    hours = [6.0]
    for gap in gaps:
        hours.append(hours[-1] + gap)
    return [(hour, draw(TEMPERATURES)) for hour in hours]


def through(day: Readings, start_h: float, needed_h: float, lowest_C: float = -10, energy: float = 51.2,
            reference_C: float = 20) -> CureThroughDay:
    hours, temperatures = map(list, zip(*day, strict=True))
    return cure_through_day(hours, temperatures, start_h, needed_h, reference_C, energy, lowest_C)


def age(day: Readings, energy: float = 51.2, reference_C: float = 20) -> float:
    hours, temperatures = map(list, zip(*day, strict=True))
    return equivalent_age_h(hours, temperatures, reference_C, energy)


def temperature(day: Readings, hour: float) -> float:
    for (start_h, start_C), (end_h, end_C) in zip(day, day[1:], strict=False):
        if start_h <= hour <= end_h:
            return start_C + (end_C - start_C) * (hour - start_h) / (end_h - start_h)
    raise AssertionError(hour)


def summed_age_h(day: Readings, start_h: float, end_h: float, energy: float) -> float:
    """The same integral by scipy's adaptive quadrature."""
    corners = [start_h, *(hour for hour, _ in day if start_h < hour < end_h), end_h]

    def rate(hour: float) -> float:
        return exp(energy * 1000 / 8.314462618 * (1 / 293.15 - 1 / (temperature(day, hour) + 273.15)))

    return sum(float(quad(rate, one, other, epsabs=1e-12, epsrel=1e-12)[0])
               for one, other in zip(corners, corners[1:], strict=False))


@given(days(), ENERGIES)
def test_age_of_a_day_is_the_integral(day: Readings, energy: float) -> None:
    assert age(day, energy) == approx(summed_age_h(day, day[0][0], day[-1][0], energy), rel=1e-7)


@given(days(), ENERGIES, st.floats(0.1, 0.9), st.floats(0, 0.9))
def test_stage_is_reached_where_the_integral_says(day: Readings, energy: float, share: float, start: float) -> None:
    start_h = day[0][0] + start * (day[-1][0] - day[0][0])
    whole_h = summed_age_h(day, start_h, day[-1][0], energy)
    assume(0.02 < share * whole_h < 1000)
    expected_h = brentq(lambda hour: summed_age_h(day, start_h, hour, energy) - share * whole_h, start_h, day[-1][0])
    found = through(day, start_h, share * whole_h, energy=energy)
    assert found.reached and found.reached_at_h == approx(expected_h, abs=1e-5)
    assert found.available_to_needed_ratio == approx(1 / share, rel=1e-6)


@given(st.floats(5, 40), st.floats(0.1, 3), ENERGIES)
def test_an_even_day_is_the_working_time_at_that_temperature(level_C: float, needed_h: float, energy: float) -> None:
    expected_h = working_time_min(needed_h * 60, 20, level_C, energy) / 60
    assume(expected_h < 15)
    found = through([(8, level_C), (24, level_C)], 8, needed_h, energy=energy)
    assert found.elapsed_h == approx(expected_h, rel=1e-6)
    assert not found.falling and found.coldest_C == found.warmest_C == level_C


def test_ten_degrees_colder_takes_twice_as_long() -> None:
    # common-practice: the rate doubles for 10 °C; computed: 51.2 kJ/mol between 20 and 30 °C.
    assert abs(DOUBLING_KJ_MOL - 51.2) < 0.05
    warm = through([(8, 30), (24, 30)], 8, 2, energy=DOUBLING_KJ_MOL)
    mild = through([(8, 20), (24, 20)], 8, 2, energy=DOUBLING_KJ_MOL)
    assert mild.elapsed_h == approx(2) and warm.elapsed_h == approx(1)


def test_not_released_before_two_days_at_or_below_eighteen_degrees() -> None:
    # A classification society's procedure for workmanship, 3.2.7: 48 h or more at 18 °C air or more after laminating.
    at_limit = through([(0, 18), (200, 18)], 8, 48, reference_C=18)
    colder = through([(0, 16), (200, 16)], 8, 48, reference_C=18)
    assert at_limit.elapsed_h == approx(48, abs=1e-6)
    assert colder.elapsed_h is not None and colder.elapsed_h > 48


def test_gelled_in_the_warm_but_not_ready_to_sand_before_the_cold() -> None:
    day: Readings = [(8, 12), (14, 24), (20, 10), (32, 4)]
    gel, sand = through(day, 13, 0.5, 12), through(day, 13, 12, 12)
    assert gel.reached and not sand.reached
    assert gel.too_cold_at_h == sand.too_cold_at_h == approx(14 + 6 * 12 / 14)
    assert sand.reached_at_h is sand.elapsed_h is sand.latest_start_h is None
    assert sand.falling and sand.end_temperature_C == approx(12) and sand.warmest_C == 24
    assert sand.available_to_needed_ratio < 1 < gel.available_to_needed_ratio


def test_rising_and_falling_days_are_told_apart() -> None:
    assert not through([(6, 5), (12, 25)], 6, 1).falling
    assert through([(12, 25), (18, 5)], 12, 1).falling


def test_too_cold_from_the_start_cures_nothing() -> None:
    cold = through([(6, 5), (12, 25)], 7, 1, 12)
    assert (cold.reached, cold.too_cold_at_h, cold.available_age_h, cold.latest_start_h) == (False, 7, 0, None)


def test_start_may_have_to_be_earlier_in_the_same_warm_spell() -> None:
    day: Readings = [(6, 8), (10, 16), (14, 22), (20, 8)]
    late = through(day, 16, 3, 12)
    assert not late.reached and late.latest_start_h is not None and late.latest_start_h < 16
    in_time = through(day, late.latest_start_h - 1e-6, 3, 12)
    assert in_time.reached_at_h == approx(late.too_cold_at_h, abs=1e-3)
    assert not through(day, late.latest_start_h + 0.01, 3, 12).reached


@given(days(), st.floats(0.5, 10))
def test_a_warmer_day_is_never_later(day: Readings, warmer_K: float) -> None:
    cool, warm = through(day, 6, 1), through([(hour, level + warmer_K) for hour, level in day], 6, 1)
    if cool.reached_at_h is not None:
        assert warm.reached_at_h is not None and warm.reached_at_h < cool.reached_at_h
    assert warm.available_age_h > cool.available_age_h


@given(days(), st.floats(0.1, 100))
def test_the_clock_does_not_matter(day: Readings, later_h: float) -> None:
    moved = [(hour + later_h, level) for hour, level in day]
    assert age(moved) == approx(age(day), rel=1e-6)


@given(days(), st.floats(0.05, 0.95))
def test_ages_add_up(day: Readings, share: float) -> None:
    cut_h = day[0][0] + share * (day[-1][0] - day[0][0])
    level = temperature(day, cut_h)
    before = [reading for reading in day if reading[0] < cut_h - 1e-3] + [(cut_h, level)]
    after = [(cut_h, level)] + [reading for reading in day if reading[0] > cut_h + 1e-3]
    assume(len(before) > 1 and len(after) > 1)
    assert age(before) + age(after) == approx(age(day), rel=1e-4)  # a reading right at the cut is left out


@pytest.mark.parametrize(("hours", "temperatures", "argument"), [
    ([8, 8], [20, 20], "times_h"),
    ([8, 7], [20, 20], "times_h"),
    ([8], [20], "times_h_count"),
    ([8, 9], [20], "temperatures_C_count"),
])
def test_lists_that_do_not_fit_are_refused(hours: list[float], temperatures: list[float], argument: str) -> None:
    with pytest.raises(OutOfRange) as caught:
        equivalent_age_h(hours, temperatures, 20, 51.2)
    assert caught.value.argument == argument


def test_start_outside_the_readings_is_refused() -> None:
    with pytest.raises(OutOfRange, match="`start_h` is 5 h, must be between 6 and 12 h"):
        through([(6, 15), (12, 20)], 5, 1)
