"""Times, batches, sessions and open-time classes hold on a cold and on a hot day."""

from collections.abc import Iterator

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from pytest import approx

from advisor.calculators.adhesive import (
    adhesive_needed_mL,
    bead_height_for_bond_line_mm,
    bead_volume_mL,
    triangular_bead_volume_mL,
)
from advisor.calculators.batches import layers_per_session, plan_batches
from advisor.calculators.cure import (
    activation_energy_for_doubling_kJ_mol,
    dose_adjusted_time_min,
    working_time_min,
)
from advisor.calculators.open_time import OpenTimeChoice, choose_open_time_class, nozzles_needed
from advisor.calculators.ranges import OutOfRange
from advisor.calculators.work_time import time_for_area_min, time_for_length_min

TEMPERATURES = st.floats(-10, 60)
ENERGIES = st.floats(10, 120)
TIMES = st.floats(1, 500)


@given(TIMES, TEMPERATURES, TEMPERATURES, ENERGIES)
def test_warmer_is_quicker(time_min: float, one_C: float, other_C: float, energy: float) -> None:
    assume(abs(one_C - other_C) > 0.01)
    shorter = working_time_min(time_min, 20, max(one_C, other_C), energy)
    assert shorter < working_time_min(time_min, 20, min(one_C, other_C), energy)


@given(TIMES, TEMPERATURES, TEMPERATURES, ENERGIES)
def test_there_and_back(time_min: float, one_C: float, other_C: float, energy: float) -> None:
    there = working_time_min(time_min, one_C, other_C, energy)
    assume(0.1 <= there <= 100_000)
    assert working_time_min(there, other_C, one_C, energy) == approx(time_min)


@given(st.floats(-10, 90), st.floats(1, 10))
def test_energy_for_doubling_doubles(lower_C: float, step_K: float) -> None:
    energy = activation_energy_for_doubling_kJ_mol(lower_C, lower_C + step_K)
    assume(energy <= 200)
    assert working_time_min(10, lower_C + step_K, lower_C, energy) == approx(20)


def test_equal_temperatures_have_no_rate_to_double() -> None:
    with pytest.raises(OutOfRange, match="`upper_temperature_C` is 20 °C, must be between 21 and 100 °C"):
        activation_energy_for_doubling_kJ_mol(20, 20)


def test_dose_is_taken_no_further_than_half_or_twice() -> None:
    assert dose_adjusted_time_min(20, 1.0, 2.0) == approx(40)
    assert dose_adjusted_time_min(20, 2.0, 1.0) == approx(10)
    with pytest.raises(OutOfRange, match="`dose_percent` is 2.1 %, must be between 0.50 and 2 %"):
        dose_adjusted_time_min(20, 2.1, 1.0)


@given(
    st.floats(0.01, 50),
    st.floats(0.02, 2),
    st.floats(5, 200),
    st.floats(0.2, 1),
    st.floats(0.1, 10),
    st.floats(0, 3),
)
def test_batches_add_up_and_each_fits_cup_and_time(
    total_kg: float, rate: float, working_min: float, usable: float, cup_kg: float, mixing_min: float
) -> None:
    assume(usable * working_min > mixing_min + 0.2)
    assume(total_kg / min(cup_kg, rate * (usable * working_min - mixing_min)) < 900)
    plan = plan_batches(total_kg, rate, working_min, usable, cup_kg, mixing_min, 0.001)
    assert [batch.number for batch in plan.batches] == list(range(1, plan.batch_count + 1))
    assert plan.batches[0].start_min == 0
    assert sum(batch.mass_kg for batch in plan.batches) == approx(total_kg)
    assert plan.batch_mass_kg <= cup_kg * (1 + 1e-6)
    assert mixing_min + plan.placing_time_min <= plan.place_within_min * (1 + 1e-6)
    assert plan.place_within_min == approx(usable * working_min) and plan.stop_at_min == working_min
    gaps = [after.start_min - before.start_min for before, after in zip(plan.batches, plan.batches[1:], strict=False)]
    assert gaps == approx([mixing_min + plan.placing_time_min] * (plan.batch_count - 1))
    if plan.batch_count > 1:  # one batch fewer would break a limit
        larger_kg = total_kg / (plan.batch_count - 1)
        assert larger_kg > min(cup_kg, rate * (usable * working_min - mixing_min)) * (1 - 1e-6)


@pytest.mark.parametrize(
    ("total_kg", "cup_kg", "limit"), [(0.4, 1.0, "whole job in one"), (4.0, 0.5, "cup"), (4.0, 5.0, "time")]
)
def test_batches_say_what_limits_them(total_kg: float, cup_kg: float, limit: str) -> None:
    assert plan_batches(total_kg, 0.1, 20, 0.6, cup_kg, 2, 0.05).limited_by == limit


def test_no_batch_when_mixing_alone_takes_the_time() -> None:
    with pytest.raises(OutOfRange) as caught:
        plan_batches(1, 0.1, 5, 0.5, 1, 3, 0.05)
    assert str(caught.value) == "`working_time_min` is 5 min, must be between 6 and 100000 min"


def test_thousands_of_batches_are_refused() -> None:
    with pytest.raises(OutOfRange, match="`total_mass_kg` is 2000 kg, must be between 0.001 and 500 kg"):
        plan_batches(2000, 0.1, 20, 0.6, 0.5, 2, 0.05)


@given(st.lists(st.floats(0.1, 8), min_size=1, max_size=30), st.floats(1, 10))
def test_sessions_keep_the_limit_and_lay_every_ply(thicknesses_mm: list[float], limit_mm: float) -> None:
    plan = layers_per_session(thicknesses_mm, limit_mm)
    assert sum(plan.plies_in_session) == len(thicknesses_mm)
    assert sum(plan.session_thicknesses_mm) == approx(sum(thicknesses_mm))
    assert plan.session_count == len(plan.plies_in_session) == len(plan.session_thicknesses_mm)
    over = [
        plies
        for plies, thickness in zip(plan.plies_in_session, plan.session_thicknesses_mm, strict=True)
        if thickness > limit_mm * (1 + 1e-8)
    ]
    assert over == [1] * len(over) and plan.over_limit_count >= len(over)


def splits(plies: list[float], limit_mm: float) -> Iterator[tuple[float, ...]]:
    """Every way to lay plies in order without passing the limit, as the thicknesses of the sessions."""
    if not plies:
        yield ()
    for count in range(1, len(plies) + 1):
        if (built := sum(plies[:count])) <= limit_mm:
            yield from ((built, *rest) for rest in splits(plies[count:], limit_mm))


@given(st.lists(st.sampled_from([0.25, 0.5, 1.0, 1.25, 2.0]), min_size=1, max_size=9),
       st.sampled_from([2.0, 2.25, 3.0, 4.0]))
def test_sessions_are_the_fewest_and_then_the_most_even_of_all_splits(plies: list[float], limit_mm: float) -> None:
    plan = layers_per_session(plies, limit_mm)
    assert (plan.session_count, max(plan.session_thicknesses_mm)) == min(
        (len(built), max(built)) for built in splits(plies, limit_mm))


def test_a_last_thin_ply_is_not_left_to_a_session_of_its_own() -> None:
    assert layers_per_session([1, 1, 1, 1, 0.25], 4).plies_in_session == (2, 3)


def test_thick_ply_is_a_session_of_its_own_and_is_reported() -> None:
    plan = layers_per_session([1, 4, 1, 1], 3)
    assert plan.plies_in_session == (1, 1, 2)
    assert plan.over_limit_count == 1


def test_session_holds_a_sum_that_meets_the_limit_exactly() -> None:
    assert layers_per_session([0.1] * 30, 3).session_count == 1


def choose(length_mm: float, temperature_C: float) -> OpenTimeChoice:
    return choose_open_time_class(length_mm, 1.0, 5, 0.60, [90, 5, 20], 23, temperature_C, 51.2)


def test_smallest_class_that_covers_the_job_is_taken() -> None:
    choice = choose(4000, 23)  # 9 min in 60 % needs 15 min
    assert (choice.class_min, choice.fits, choice.section_count) == (20, True, 1)
    assert choice.spare_fraction == approx(0.25)
    assert choice.longest_section_mm == 4000


def test_class_that_is_needed_to_the_minute_fits() -> None:
    choice = choose_open_time_class(4000, 1.0, 5, 0.60, [15, 20], 23, 23, 51.2)
    assert (choice.class_min, choice.fits) == (15, True)


def test_heat_calls_for_a_longer_class() -> None:
    assert choose(4000, 35).class_min == 90


def test_job_too_long_for_every_class_is_split() -> None:
    choice = choose(120_000, 23)  # 90 min x 60 % - 5 min closing leaves 49 m
    assert (choice.class_min, choice.fits, choice.section_count) == (90, False, 3)
    assert choice.longest_section_mm == approx(49_000)
    assert choice.spare_fraction < 0


@given(st.floats(100, 500_000), st.floats(5, 40))
def test_section_that_is_promised_does_fit(length_mm: float, temperature_C: float) -> None:
    choice = choose(length_mm, temperature_C)
    assert choose(choice.longest_section_mm * (1 - 1e-6), temperature_C).fits
    assert choice.section_count * choice.longest_section_mm >= length_mm * (1 - 1e-6)
    assert (choice.section_count == 1) == choice.fits or choice.section_count > 1


def test_no_section_fits_when_closing_alone_takes_the_time() -> None:
    choice = choose_open_time_class(1000, 1.0, 30, 0.60, [5, 20], 23, 23, 51.2)
    assert (choice.class_min, choice.fits, choice.section_count, choice.longest_section_mm) == (
        20,
        False,
        0,
        0,
    )


def test_classes_must_be_given() -> None:
    with pytest.raises(OutOfRange, match="`available_classes_min` is 0 entries"):
        choose_open_time_class(1000, 1.0, 5, 0.60, [], 23, 23, 51.2)
    with pytest.raises(OutOfRange, match="`available_classes_min` is 51 entries"):
        choose_open_time_class(1000, 1.0, 5, 0.60, [20] * 51, 23, 23, 51.2)
    assert choose_open_time_class(1000, 1.0, 5, 0.60, [20] * 50, 23, 23, 51.2).fits


def test_section_shorter_than_a_millimetre_is_no_section() -> None:
    assert choose_open_time_class(5000, 0.01, 11.95, 0.60, [20], 23, 23, 51.2).section_count == 0
    assert choose_open_time_class(5000, 0.01, 11.85, 0.60, [20], 23, 23, 51.2).section_count == 3334


@pytest.mark.parametrize(
    ("cartridges", "minutes", "nozzles"), [(0, 0, 0), (1, 5, 1), (1, 20, 1), (1, 21, 2), (3, 21, 3)]
)
def test_nozzles(cartridges: int, minutes: float, nozzles: int) -> None:
    assert nozzles_needed(cartridges, minutes, 20) == nozzles


@given(st.floats(5, 200), st.floats(0.1, 10), st.floats(0, 1), st.floats(0.05, 1))
def test_bead_holds_what_the_bond_takes(width_mm: float, line_mm: float, squeeze: float, base_share: float) -> None:
    base_mm = max(1, width_mm * base_share)
    height_mm = bead_height_for_bond_line_mm(width_mm, line_mm, squeeze, base_mm)
    assume(height_mm <= 1000)
    assert height_mm >= 2 * line_mm * (1 - 1e-9)
    needed_mL = adhesive_needed_mL(bead_volume_mL(1000, width_mm, line_mm), squeeze, 0, 0, 0)
    assert triangular_bead_volume_mL(1000, base_mm, height_mm) == approx(needed_mL)


def test_bead_wider_than_the_bond_is_refused() -> None:
    with pytest.raises(OutOfRange, match="`bead_base_mm` is 30 mm, must be between 1 and 25 mm"):
        bead_height_for_bond_line_mm(25, 2, 0.2, 30)


@given(st.floats(0, 100), st.floats(0, 500), st.floats(0.1, 10), st.floats(0, 60))
def test_work_takes_its_setting_up_and_then_as_long_as_there_is_work(
    amount: float, pace: float, longer: float, set_up: float
) -> None:
    one, two = (time_for_area_min(times * amount, pace, longer, set_up) for times in (1, 2))
    assert time_for_area_min(0, pace, longer, set_up) == set_up
    assert two - set_up == approx(2 * (one - set_up), abs=1e-6)
    assert time_for_length_min(1000 * amount, pace, longer, set_up) == approx(one)


def test_area_of_work_below_nothing_is_refused() -> None:
    with pytest.raises(OutOfRange, match="area"):
        time_for_area_min(-1, 60, 1, 5)
