"""Heat of a cure: the bound, the march against an independent solver, its grid and its energy balance."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx
from scipy.integrate import quad, solve_ivp

from advisor.calculators.cure_heat import adiabatic_rise_K, cure_peak, layers_below_peak
from advisor.calculators.curing_layer import Kinetics, Slab, Surroundings, march
from advisor.calculators.ranges import OutOfRange

# A polyester mat laminate on a laminate; orders, conversion at gel and heat are invented within published ranges.
CASE: dict[str, float] = {
    "layer_thickness_mm": 5,
    "resin_by_mass_fraction": 0.7,
    "heat_of_reaction_kJ_kg": 350,
    "gel_time_min": 15,
    "reference_temperature_C": 20,
    "activation_energy_kJ_mol": 51.2,
    "gel_conversion_fraction": 0.05,
    "reaction_order": 1.5,
    "acceleration_order": 0.5,
    "layer_density_kg_m3": 1430,
    "layer_heat_capacity_J_kg_K": 1500,
    "layer_conductivity_W_m_K": 0.2,
    "backing_thickness_mm": 3,
    "backing_density_kg_m3": 1430,
    "backing_heat_capacity_J_kg_K": 1200,
    "backing_conductivity_W_m_K": 0.2,
    "air_temperature_C": 20,
    "start_temperature_C": 20,
    "top_transfer_W_m2_K": 10,
    "back_transfer_W_m2_K": 5,
    "duration_h": 4,
}
ALUMINIUM = {"backing_density_kg_m3": 2700, "backing_heat_capacity_J_kg_K": 900, "backing_conductivity_W_m_K": 200}
FOAM = {"backing_density_kg_m3": 80, "backing_heat_capacity_J_kg_K": 1400, "backing_conductivity_W_m_K": 0.035,
        "backing_thickness_mm": 20}
CASES: list[dict[str, float]] = [
    {},
    {"acceleration_order": 0, "reaction_order": 1},
    {"layer_thickness_mm": 12, "start_temperature_C": 28},
    {"layer_thickness_mm": 30, "gel_time_min": 40, "back_transfer_W_m2_K": 0},
    {**FOAM, "layer_thickness_mm": 2},
    {**ALUMINIUM, "air_temperature_C": 12},
]


def test_adiabatic_rise_of_neat_resin() -> None:
    # computed: 350 J/g over 1.9 J/(g K) is 184 K; heat of polyester 300 to 450 J/g from memory.
    assert adiabatic_rise_K(350, 1, 1900) == approx(184, abs=1)


def test_bound_holds_the_peaks_that_were_measured() -> None:
    # Two polyester systems in Polymers 2024, 16(17), 2391: peaks of 162 °C and 126 °C in bulk, from about 25 °C.
    assert 25 + adiabatic_rise_K(350, 1, 1900) > 162
    for gel_time_min, measured_C in ((13, 162), (60, 126)):
        bulk = {**CASE, "resin_by_mass_fraction": 1, "layer_heat_capacity_J_kg_K": 1900, "layer_density_kg_m3": 1120,
                "gel_time_min": gel_time_min, "reference_temperature_C": 25, "start_temperature_C": 25,
                "air_temperature_C": 25, "layer_thickness_mm": 50}
        found = cure_peak(**bulk)
        assert measured_C < found.no_loss_peak_C and measured_C < found.peak_C and found.runs_away


def test_heat_of_styrene_bounds_that_of_resin() -> None:
    # Lucas, Borrajo and Williams, Polymer 34 (1993) 3216: 66 kJ for each mol of double bonds; styrene 104.15 g/mol.
    of_styrene_kJ_kg = 66 / 0.10415
    assert of_styrene_kJ_kg == approx(634, abs=1)
    assert adiabatic_rise_K(450, 1, 1900) < adiabatic_rise_K(of_styrene_kJ_kg, 1, 1900)


def solved_by_lines(case: dict[str, float]) -> tuple[float, float, float]:
    """Peak, its time and the peak at the joint, by scipy's stiff solver on a grid of its own; conversion as a state."""
    c = {**CASE, **case}
    layer_cells, backing_cells = 40, 20
    widths = np.concatenate((np.full(layer_cells, c["layer_thickness_mm"] / layer_cells),
                             np.full(backing_cells, c["backing_thickness_mm"] / backing_cells))) / 1000
    layer = np.arange(len(widths)) < layer_cells
    conductivity = np.where(layer, c["layer_conductivity_W_m_K"], c["backing_conductivity_W_m_K"])
    heat = np.where(layer, c["layer_density_kg_m3"] * c["layer_heat_capacity_J_kg_K"],
                    c["backing_density_kg_m3"] * c["backing_heat_capacity_J_kg_K"]) * widths
    rise_K = 1000 * c["heat_of_reaction_kJ_kg"] * c["resin_by_mass_fraction"] / c["layer_heat_capacity_J_kg_K"]
    m, n = c["acceleration_order"], c["reaction_order"]
    scale = 1 / (1 - m)  # conversion = y ** scale has a finite slope at the start
    per_gel = quad(lambda y: (1 - y**scale) ** -n * scale, 0, c["gel_conversion_fraction"] ** (1 - m))[0]
    per_s = per_gel / (c["gel_time_min"] * 60)
    half = widths / 2 / conductivity
    between = 1 / (half[:-1] + half[1:])
    top = 1 / (1 / c["top_transfer_W_m2_K"] + half[0])
    back = 1 / (1 / c["back_transfer_W_m2_K"] + half[-1]) if c["back_transfer_W_m2_K"] else 0.0
    energy_K = c["activation_energy_kJ_mol"] * 1000 / 8.314462618

    def slope(_: float, state: Any) -> Any:
        T, y = state[: len(widths)], np.clip(state[len(widths):], 0, 1)
        faster = np.exp(energy_K * (1 / (c["reference_temperature_C"] + 273.15) - 1 / (T[:layer_cells] + 273.15)))
        dy = per_s * faster * np.maximum(1 - y**scale, 0) ** n / scale
        dT = np.zeros(len(widths))
        flow = between * (T[:-1] - T[1:])
        dT[:-1] -= flow
        dT[1:] += flow
        dT[0] -= top * (T[0] - c["air_temperature_C"])
        dT[-1] -= back * (T[-1] - c["air_temperature_C"])
        dT /= heat
        dT[:layer_cells] += rise_K * scale * y ** (scale - 1) * dy
        return np.concatenate((dT, dy))

    start = np.where(layer, c["start_temperature_C"], c["air_temperature_C"])
    solved = solve_ivp(slope, (0, c["duration_h"] * 3600), np.concatenate((start, np.zeros(layer_cells))),
                       method="LSODA", rtol=1e-6, atol=1e-6, max_step=120)
    T = solved.y[: len(widths)]
    hottest = T[:layer_cells].max(axis=0)
    a, b = 1 / half[layer_cells - 1], 1 / half[layer_cells]
    joint = (a * T[layer_cells - 1] + b * T[layer_cells]) / (a + b)
    return float(hottest.max()), float(solved.t[hottest.argmax()]) / 60, float(joint[1:].max())


@pytest.mark.parametrize("case", CASES)
def test_march_agrees_with_an_independent_solver(case: dict[str, float]) -> None:
    peak_C, time_min, joint_C = solved_by_lines(case)
    found = cure_peak(**{**CASE, **case})
    assert found.peak_C == approx(peak_C, abs=0.6)
    assert found.peak_time_min == approx(time_min, rel=0.04, abs=0.5)
    assert found.interface_peak_C == approx(joint_C, abs=0.6)


@pytest.mark.parametrize("case", CASES)
def test_grid_and_steps_have_converged(case: dict[str, float]) -> None:
    c = {**CASE, **case}
    rise_K = adiabatic_rise_K(c["heat_of_reaction_kJ_kg"], c["resin_by_mass_fraction"], c["layer_heat_capacity_J_kg_K"])
    layer, backing = (
        Slab(c[f"{name}_thickness_mm"] / 1000, c[f"{name}_density_kg_m3"], c[f"{name}_heat_capacity_J_kg_K"],
             c[f"{name}_conductivity_W_m_K"]) for name in ("layer", "backing"))
    kinetics = Kinetics(c["gel_time_min"] * 60, c["reference_temperature_C"], c["activation_energy_kJ_mol"],
                        c["gel_conversion_fraction"], c["reaction_order"], c["acceleration_order"], rise_K)
    around = Surroundings(c["air_temperature_C"], c["start_temperature_C"], c["top_transfer_W_m2_K"],
                          c["back_transfer_W_m2_K"])
    coarse, fine = (march(layer, backing, kinetics, around, 6 * 3600, fineness) for fineness in (1, 3))
    assert coarse.peak_C == approx(fine.peak_C, abs=0.8)
    assert coarse.interface_peak_C == approx(fine.interface_peak_C, abs=0.8)
    assert coarse.conversion == approx(fine.conversion, abs=0.002)
    assert fine.energy_error < 1e-6


def test_without_loss_all_the_heat_stays() -> None:
    still = {**CASE, "top_transfer_W_m2_K": 0, "back_transfer_W_m2_K": 0, "backing_thickness_mm": 0.1,
             "backing_density_kg_m3": 10, "layer_thickness_mm": 50, "duration_h": 12}
    found = cure_peak(**still)
    assert found.peak_C == approx(found.no_loss_peak_C, abs=0.1)
    assert found.conversion_fraction == approx(1, abs=1e-3)


def test_even_cure_at_the_reference_temperature_reaches_gel_at_the_gel_time() -> None:
    # So thin and so well cooled that it keeps the temperature of the air: a quarter of an hour is the gel time.
    cooled = {**CASE, "layer_thickness_mm": 0.2, "top_transfer_W_m2_K": 500, "back_transfer_W_m2_K": 500,
              "duration_h": 0.25, "heat_of_reaction_kJ_kg": 10}
    assert cure_peak(**cooled).conversion_fraction == approx(CASE["gel_conversion_fraction"], rel=0.01)


def test_first_order_follows_its_exponential() -> None:
    first = {**CASE, "layer_thickness_mm": 0.2, "top_transfer_W_m2_K": 500, "back_transfer_W_m2_K": 500,
             "heat_of_reaction_kJ_kg": 10, "acceleration_order": 0, "reaction_order": 1, "gel_conversion_fraction": 0.3,
             "duration_h": 1}
    assert cure_peak(**first).conversion_fraction == approx(1 - 0.7**4, rel=0.003)


@settings(max_examples=15)
@given(st.floats(1, 40), st.floats(5, 60), st.floats(5, 35), st.floats(1, 2), st.floats(0, 0.7),
       st.floats(2, 30), st.floats(0, 20), st.sampled_from([{}, ALUMINIUM, FOAM]))
def test_energy_balances(thickness_mm: float, gel_min: float, air_C: float, order: float,
                         acceleration: float, top: float, back: float,
                         backing: dict[str, float]) -> None:
    found = cure_peak(**{**CASE, **backing, "layer_thickness_mm": thickness_mm, "gel_time_min": gel_min,
                         "air_temperature_C": air_C, "start_temperature_C": air_C, "reaction_order": order,
                         "acceleration_order": acceleration, "top_transfer_W_m2_K": top,
                         "back_transfer_W_m2_K": back})
    assert found.energy_balance_error_fraction < 1e-6
    assert air_C <= found.interface_peak_C <= found.peak_C + 0.01
    assert 0 < found.conversion_fraction <= 1 and 0 < found.peak_depth_mm < thickness_mm


@settings(max_examples=8)
@given(st.floats(1, 6), st.floats(1.1, 2), st.sampled_from([{}, ALUMINIUM, FOAM]))
def test_thicker_quicker_and_warmer_is_hotter(thickness_mm: float, times: float, backing: dict[str, float]) -> None:
    def peak_C(**changed: float) -> float:
        return cure_peak(**{**CASE, **backing, "layer_thickness_mm": thickness_mm, **changed}).peak_C

    plain = peak_C()
    assert peak_C(layer_thickness_mm=thickness_mm * times) > plain
    assert peak_C(gel_time_min=15 / times) > plain
    assert peak_C(air_temperature_C=25, start_temperature_C=25) > plain
    assert peak_C(top_transfer_W_m2_K=10 * times) < plain


def test_not_yet_passed_is_said() -> None:
    assert not cure_peak(**{**CASE, "duration_h": 0.3}).peak_passed
    assert cure_peak(**CASE).peak_passed


LAYERS = {name: value for name, value in CASE.items() if name != "layer_thickness_mm"}


@pytest.mark.parametrize("limit_C", [45, 80])
def test_layers_are_the_most_that_stay_below(limit_C: float) -> None:
    found = layers_below_peak(ply_thickness_mm=0.9, peak_limit_C=limit_C, **LAYERS)
    peaks = [cure_peak(**{**CASE, "layer_thickness_mm": 0.9 * count}).peak_C for count in range(1, 21)]
    assert found.layer_count == sum(peak <= limit_C for peak in peaks)
    assert found.peak_C == approx(peaks[found.layer_count - 1]) and found.peak_C <= limit_C
    assert found.peak_with_one_more_C == approx(peaks[found.layer_count]) and found.peak_with_one_more_C > limit_C


def test_no_layer_where_even_one_is_too_hot() -> None:
    found = layers_below_peak(ply_thickness_mm=9, peak_limit_C=60, **LAYERS)
    assert (found.layer_count, found.thickness_mm, found.peak_C) == (0, 0, 20) and found.peak_with_one_more_C > 60


def test_never_more_than_twenty_layers() -> None:
    found = layers_below_peak(ply_thickness_mm=0.1, peak_limit_C=200, **LAYERS)
    assert found.layer_count == 20 and found.peak_with_one_more_C < 200


def test_start_above_the_limit_allows_no_layer() -> None:
    with pytest.raises(OutOfRange):
        layers_below_peak(ply_thickness_mm=1, peak_limit_C=10, **LAYERS)
    assert layers_below_peak(ply_thickness_mm=1, peak_limit_C=21, **{**LAYERS, "start_temperature_C": 30}
                             ).layer_count == 0
