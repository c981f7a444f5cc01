"""Vapours in the air: what is given off, what a room holds of it, and how that compares with limits."""

from math import exp, inf

import numpy as np
import pint
import pytest
from chemicals import EQ101, LFL, MW, ppmv_to_mgm3
from chemicals.vapor_pressure import Psat_data_Perrys2_8
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx
from scipy.integrate import solve_ivp

from advisor.calculators.air import air_flow_needed_m3_h, clearing_time_h, room_air
from advisor.calculators.air_limits import (
    explosive_limit_share_percent,
    mass_concentration_mg_m3,
    mixed_explosive_limit_share_percent,
    mixed_vapours,
    shift_mean_ppm,
    volume_concentration_ppm,
)
from advisor.calculators.emission import (
    pool_evaporation_g_h,
    saturated_vapour_ppm,
    solvent_released_g,
    styrene_per_resin_by_process_g_kg,
    styrene_per_resin_by_second_rule_g_kg,
)
from advisor.calculators.exposure import styrene_released_g
from advisor.calculators.ranges import OutOfRange

UNITS: "pint.UnitRegistry[float]" = pint.UnitRegistry()
STYRENE, ACETONE, MEK, MMA, TOLUENE = "100-42-5", "67-64-1", "78-93-3", "80-62-6", "108-88-3"


@pytest.mark.parametrize(("percent", "process", "released_g_kg"), [
    (35, "hand", 45.6), (30, "hand", 32.1), (40, "hand", 61.8),
    (28, "sprayed", 45.2), (30, "sprayed", 53.5),
    (33, "gel_coat", 155.6), (48, "gel_coat", 291.4), (40, "gel_coat", 214.7),
    (35, "bagged", 35.8),
])
def test_styrene_by_process(percent: float, process: str, released_g_kg: float) -> None:
    # US EPA, 40 CFR Part 63 Subpart VVVV, Table 3 (kg for each Mg of resin is g/kg).
    found = styrene_per_resin_by_process_g_kg(percent, process)  # type: ignore[arg-type]
    assert found == approx(released_g_kg, abs=0.1)


@given(st.floats(20, 60))
def test_by_hand_is_the_formula_already_there(percent: float) -> None:
    assert styrene_per_resin_by_process_g_kg(percent, "hand") == approx(styrene_released_g(1, percent))


def test_paired_contents_meet_the_limits_of_two_states() -> None:
    # 25 Pa. Code 129.74 Table I pairs 35 % by hand with 28 % sprayed; COMAR 26.11.19.26-1: 46 kg/Mg, tooling 54.
    assert styrene_per_resin_by_process_g_kg(35, "hand") == approx(46, abs=1)
    assert styrene_per_resin_by_process_g_kg(28, "sprayed") == approx(46, abs=1)
    assert styrene_per_resin_by_process_g_kg(30, "sprayed") == approx(54, abs=1)


@pytest.mark.parametrize(("percent", "pounds_a_ton"), [(40, 123.0), (45.9, 156.7), (33.6, 86.4), (35, 94.4)])
def test_second_rule(percent: float, pounds_a_ton: float) -> None:
    # 40 CFR Part 63 Subpart WWWW, Table 1: memory; 123, 157 and 87 lb/ton are the limits of its Table 3.
    released = UNITS.Quantity(styrene_per_resin_by_second_rule_g_kg(percent), "g/kg").to("lb/short_ton").magnitude
    assert released == approx(pounds_a_ton, abs=0.1)


def test_the_two_rules_agree_at_the_usual_content() -> None:
    first = styrene_per_resin_by_process_g_kg(35, "hand")
    assert styrene_per_resin_by_second_rule_g_kg(35) == approx(first, rel=0.05)
    # EPA/600/SR-97/018 (1997): measured 1.6 to 2.5 times AP-42, whose 5 to 10 % of the monomer is from memory.
    assert 1.6 < first / (0.075 * 350) < 2.5


def test_unknown_process_is_refused_with_those_that_are_known() -> None:
    with pytest.raises(ValueError, match="`process` is `foam`, must be one of hand, sprayed, gel_coat, bagged"):
        styrene_per_resin_by_process_g_kg(35, "foam")  # type: ignore[arg-type]


def test_wiping_gives_off_what_was_put_on() -> None:
    assert solvent_released_g(3, 50, 1) == 150 and solvent_released_g(3, 50, 0.4) == approx(60)


def saturated_pressure_kPa(cas: str, temperature_C: float = 20) -> float:
    """By the equation and coefficients of Perry's Chemical Engineers' Handbook, 8th edition, Table 2-8."""
    row = Psat_data_Perrys2_8.loc[cas]
    coefficients = [float(row[f"C{place}"]) for place in range(1, 6)]
    return float(EQ101(temperature_C + 273.15, *coefficients)) / 1000  # type: ignore[no-untyped-call]


@pytest.mark.parametrize(("cas", "of_mercury_mm"), [
    (STYRENE, 4.56), (ACETONE, 185), (MEK, 71), (MMA, 28.3), (TOLUENE, 21.9)])
def test_saturated_vapour(cas: str, of_mercury_mm: float) -> None:
    # thermo 0.6.1 at 20 °C; NIOSH Pocket Guide 2005: styrene 5 mmHg, rounded.
    pressure_kPa = UNITS.Quantity(of_mercury_mm, "mmHg").to("kPa").magnitude
    assert saturated_vapour_ppm(saturated_pressure_kPa(cas)) == approx(saturated_vapour_ppm(pressure_kPa), rel=0.025)


def test_over_styrene_it_is_too_lean_to_burn_at_room_temperature_but_not_over_acetone() -> None:
    styrene, acetone = (saturated_vapour_ppm(saturated_pressure_kPa(cas)) for cas in (STYRENE, ACETONE))
    assert styrene == approx(6005, rel=0.02) and acetone == approx(243_000, rel=0.005)
    # NIOSH Pocket Guide 2005: styrene 0.9 %; acetone 2.5 % from memory.
    assert explosive_limit_share_percent(styrene, 0.9) < 100 < explosive_limit_share_percent(acetone, 2.5)


def test_open_tank_of_toluene() -> None:
    # Crowl and Louvar, Chemical Process Safety, Example 3-8: 5 ft across, 77 °F, 3000 cfm; answer from memory.
    area_m2 = UNITS.Quantity(3.14159265 / 4 * 25, "ft^2").to("m^2").magnitude
    pressure_kPa = UNITS.Quantity(28.2, "mmHg").to("kPa").magnitude
    rate_g_h = pool_evaporation_g_h(area_m2, 92.13, pressure_kPa, 25)
    assert UNITS.Quantity(rate_g_h, "g/h").to("lb/min").magnitude == approx(0.162, abs=0.0015)
    flow_m3_h = UNITS.Quantity(3000, "ft^3/min").to("m^3/h").magnitude
    mean_ppm = volume_concentration_ppm(1000 * rate_g_h / flow_m3_h, 92.13, 25)
    assert mean_ppm == approx(230, abs=3)


@pytest.mark.parametrize(("cas", "ppm", "mg_m3"), [
    (STYRENE, 50, 215), (STYRENE, 100, 425), (ACETONE, 1000, 2400), (ACETONE, 250, 590), (MEK, 200, 590),
    (MEK, 300, 885), (MMA, 100, 410)])
def test_concentrations_of_the_pocket_guide(cas: str, ppm: float, mg_m3: float) -> None:
    # NIOSH Pocket Guide 2005 prints both, rounded to about 5.
    assert mass_concentration_mg_m3(ppm, MW(cas), 25) == approx(mg_m3, rel=0.012)


def test_isocyanate_limits_that_a_guide_prints_only_once() -> None:
    # Hexamethylene diisocyanate 0.005 ppm: memory; 0.0344 mg/m3 computed. MDI 0.02 ppm is 0.2 mg/m3 (OSHA).
    assert mass_concentration_mg_m3(0.005, 168.19, 25) == approx(0.0344, abs=0.0001)
    assert mass_concentration_mg_m3(0.02, 250.25, 25) == approx(0.2, rel=0.03)
    # MEK peroxide 0.2 ppm is 1.5 mg/m3: NIOSH comments on OSHA's proposal of 1988, for a molar mass near 176.
    assert mass_concentration_mg_m3(0.2, 176.2, 25) == approx(1.5, rel=0.06)


@given(st.floats(0.001, 1e5), st.floats(16, 400), st.floats(-10, 50))
def test_concentration_against_chemicals_and_back(ppm: float, molar_mass: float, temperature_C: float) -> None:
    mg_m3 = mass_concentration_mg_m3(ppm, molar_mass, temperature_C)
    expected = ppmv_to_mgm3(ppm, molar_mass, T=temperature_C + 273.15, P=101325)  # type: ignore[no-untyped-call]
    assert mg_m3 == approx(expected, rel=1e-6)
    assert volume_concentration_ppm(mg_m3, molar_mass, temperature_C) == approx(ppm)


def test_shift_of_the_regulation() -> None:
    # 29 CFR 1910.1000(d)(1): 2 h at 150, 2 h at 75, 4 h at 50 ppm is 81.25 ppm.
    assert shift_mean_ppm([150, 75, 50], [2, 2, 4]) == 81.25


def test_mixture_of_crowl_and_louvar() -> None:
    # Chemical Process Safety, Example 3-2: 5/10, 20/50, 10/20 ppm; 1.4 and 25 ppm from memory.
    mixed = mixed_vapours([5, 20, 10], [10, 50, 20])
    assert mixed.sum_of_shares_ratio == approx(1.4)
    assert mixed.mixture_limit_ppm == approx(25) and mixed.total_ppm == 35


VAPOURS = st.lists(st.tuples(st.floats(0.1, 1000), st.floats(1, 1000)), min_size=1, max_size=6)


@given(VAPOURS)
def test_mixture_is_over_its_limit_exactly_when_the_sum_is_over_one(vapours: list[tuple[float, float]]) -> None:
    ppm, limits = map(list, zip(*vapours, strict=True))
    mixed = mixed_vapours(ppm, limits)
    assert mixed.total_ppm / mixed.mixture_limit_ppm == approx(mixed.sum_of_shares_ratio)
    assert min(limits) * (1 - 1e-9) <= mixed.mixture_limit_ppm <= max(limits) * (1 + 1e-9)
    assert mixed_vapours(ppm[::-1], limits[::-1]).sum_of_shares_ratio == approx(mixed.sum_of_shares_ratio)


def test_air_without_vapour_has_the_strictest_limit() -> None:
    assert mixed_vapours([0, 0], [100, 20]).mixture_limit_ppm == 20


@pytest.mark.parametrize(("ppm", "percent", "share"), [
    (900, 0.9, 10), (1700, 1.7, 10), (2500, 2.5, 10), (9000, 0.9, 100)])
def test_tenth_of_the_lower_explosive_limit(ppm: float, percent: float, share: float) -> None:
    # NIOSH, documentation of IDLH values: styrene 900 ppm, methyl methacrylate 1700, acetone 2500 (the last: memory).
    assert explosive_limit_share_percent(ppm, percent) == approx(share)
    assert mixed_explosive_limit_share_percent([ppm, 0], [percent, 5]) == approx(share)


def test_explosive_limits_of_two_tables_agree_roughly() -> None:
    # IEC 60079-20-1 by the chemicals package against NIOSH: styrene 1.0 and 0.9 %, methyl methacrylate 1.7 both.
    assert 100 * LFL(CASRN=STYRENE) == approx(0.9, rel=0.15)
    assert 100 * LFL(CASRN=MMA) == approx(1.7, rel=0.01)


@given(VAPOURS)
def test_explosive_shares_add_up(vapours: list[tuple[float, float]]) -> None:
    ppm, limits = [one for one, _ in vapours], [0.5 + other / 100 for _, other in vapours]
    alone = [explosive_limit_share_percent(one, limit) for one, limit in zip(ppm, limits, strict=True)]
    assert mixed_explosive_limit_share_percent(ppm, limits) == approx(sum(alone))


def test_lists_of_different_length_are_refused() -> None:
    for call in (lambda: mixed_vapours([1, 2], [3]), lambda: shift_mean_ppm([1], [1, 2]),
                 lambda: mixed_explosive_limit_share_percent([1, 2], [3])):
        with pytest.raises(OutOfRange, match="_count"):
            call()


def test_dilution_of_the_handbook() -> None:
    # ACGIH Industrial Ventilation: SG 1.32, 1.5 pint/h, 133.4 g/mol, 350 ppm, K 5 needs 1425 cfm (memory; 1424 by
    # the formula on a university page).
    released_g_h = UNITS.Quantity(1.5, "pint").to("mL").magnitude * 1.32
    limit_mg_m3 = mass_concentration_mg_m3(350, 133.4, (70 - 32) / 1.8)
    flow = UNITS.Quantity(air_flow_needed_m3_h(released_g_h, limit_mg_m3, 1 / 5), "m^3/h").to("ft^3/min").magnitude
    assert flow == approx(1424, abs=5)
    assert flow == approx(403e6 * 1.32 * (1.5 / 60) * 5 / (133.4 * 350), rel=0.003)


@given(st.floats(1, 1e4), st.floats(1, 2000), st.floats(0.1, 1))
def test_dilution_by_mass_agrees_with_the_pound_form(released_g_h: float, limit_ppm: float, mixing: float) -> None:
    # The mass form of the same handbook: q = 387 lb/(MW min d), Q = q K 1e6/C; 387 ft3 for each lb-mol at 70 °F.
    limit_mg_m3 = mass_concentration_mg_m3(limit_ppm, 104.15, (70 - 32) / 1.8)
    pounds_min = UNITS.Quantity(released_g_h, "g/h").to("lb/min").magnitude
    expected = UNITS.Quantity(387 * pounds_min / 104.15 / mixing * 1e6 / limit_ppm, "ft^3/min").to("m^3/h").magnitude
    assert air_flow_needed_m3_h(released_g_h, limit_mg_m3, mixing) == approx(expected, rel=0.003)


@given(st.floats(1, 1000), st.floats(1, 1000), st.floats(0.1, 1), st.floats(5, 500))
def test_flow_needed_holds_a_room_at_the_limit(rate_g_h: float, limit: float, mixing: float, volume_m3: float) -> None:
    changes = air_flow_needed_m3_h(rate_g_h, limit, mixing) / volume_m3
    if 0.01 <= changes <= 200:
        assert room_air(rate_g_h * 8, 8, volume_m3, changes, mixing).steady_mg_m3 == approx(limit)


ROOMS = st.tuples(st.floats(1, 5000), st.floats(0.05, 20), st.floats(5, 1000), st.floats(0.5, 50), st.floats(0.1, 1))


@pytest.mark.parametrize("room", [(91.2, 2, 60, 3, 0.5), (500, 0.1, 30, 0.2, 1), (50, 10, 200, 8, 0.3),
                                  (20, 0.5, 15, 40, 0.6)])
def test_room_against_a_numerical_solution(room: tuple[float, float, float, float, float]) -> None:
    released_g, release_h, volume_m3, changes, mixing = room
    hours = np.linspace(0, 24, 24 * 200 + 1)

    def slope(t: float, c: list[float]) -> list[float]:
        given_off = 1000 * released_g / release_h / volume_m3 if t < release_h else 0.0
        return [given_off - changes * mixing * c[0]]

    rise = solve_ivp(slope, (0, release_h), [0.0], rtol=1e-10, atol=1e-9, dense_output=True)
    peak = float(rise.y[0, -1])
    fall = solve_ivp(slope, (release_h, 24), [peak], rtol=1e-10, atol=1e-9, dense_output=True)
    level = np.where(hours < release_h, rise.sol(np.minimum(hours, release_h))[0],
                     fall.sol(np.maximum(hours, release_h))[0])
    summed = np.concatenate(([0.0], np.cumsum((level[1:] + level[:-1]) / 2) / 200))
    found = room_air(*room)
    assert found.peak_mg_m3 == approx(peak, rel=1e-6)
    assert found.mean_8_hours_mg_m3 == approx(float((summed[1600:] - summed[:-1600]).max()) / 8, rel=2e-3)
    assert found.mean_15_minutes_mg_m3 == approx(float((summed[50:] - summed[:-50]).max()) / 0.25, rel=2e-3)


@given(ROOMS)
def test_means_are_in_order(room: tuple[float, float, float, float, float]) -> None:
    found = room_air(*room)
    ordered = (found.mean_8_hours_mg_m3, found.mean_15_minutes_mg_m3, found.peak_mg_m3)
    assert all(one <= other * (1 + 1e-6) for one, other in zip(ordered, ordered[1:], strict=False))
    assert found.peak_mg_m3 <= min(found.steady_mg_m3, found.unchanged_air_mg_m3) * (1 + 1e-9)
    assert found.mean_8_hours_mg_m3 * 8 * found.effective_air_flow_m3_h <= 1000 * room[0] * (1 + 1e-6)


@given(ROOMS, st.floats(1.1, 3))
def test_more_air_less_vapour_and_twice_the_resin_twice_the_vapour(
        room: tuple[float, float, float, float, float], times: float) -> None:
    released_g, release_h, volume_m3, changes, mixing = room
    plain = room_air(*room)
    assert room_air(released_g, release_h, volume_m3, changes * times, mixing).peak_mg_m3 < plain.peak_mg_m3
    more = room_air(released_g * times, release_h, volume_m3, changes, mixing)
    assert more.mean_8_hours_mg_m3 == approx(plain.mean_8_hours_mg_m3 * times, rel=1e-6)
    same = room_air(released_g, release_h, volume_m3, changes * mixing, 1)
    assert same.mean_15_minutes_mg_m3 == approx(plain.mean_15_minutes_mg_m3, rel=1e-6)


def test_a_closed_room_keeps_everything_and_a_storm_does_not_overflow() -> None:
    closed = room_air(10.7, 0.01, 50, 0.01, 0.05)
    assert closed.peak_mg_m3 == approx(closed.unchanged_air_mg_m3, rel=1e-4) == approx(214, rel=1e-3)
    assert closed.mean_8_hours_mg_m3 == approx(214, rel=0.01)
    storm = room_air(1000, 48, 100, 200, 1)
    assert storm.peak_mg_m3 == approx(storm.steady_mg_m3) == approx(storm.mean_8_hours_mg_m3)
    assert storm.mean_8_hours_mg_m3 < inf


@given(st.floats(1, 1e5), st.floats(0.1, 1e4), st.floats(0.1, 50), st.floats(0.1, 1))
def test_after_the_clearing_time_it_is_at_the_limit(start: float, limit: float, changes: float, mixing: float) -> None:
    wait_h = clearing_time_h(start, limit, changes, mixing)
    assert start * exp(-changes * mixing * wait_h) == approx(min(start, limit))
