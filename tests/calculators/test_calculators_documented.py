"""Every computation says its unit, range, formula and source, and the ranges it says are the real ones."""

import ast
import dataclasses
import inspect
import math
import pickle
import re
import typing
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import pytest

import advisor.calculators
from advisor.calculators import CALCULATORS, OutOfRange, formula_of, source_of, unit_of
from advisor.calculators.patches import CutList, Patch
from advisor.calculators.schedule import build_schedule
from tests.calculators.valid_joint_calls import JOINT_CALLS

MAT: Mapping[str, float] = {
    "areal_mass_g_m2": 450,
    "glass_fraction": 0.30,
    "glass_density_kg_m3": 2560,
    "roll_width_mm": 1000,
    "resin_to_glass_low": 2.3,
    "resin_to_glass_likely": 2.5,
    "resin_to_glass_high": 2.6,
}
KINDS = {"mat": MAT}
SCHEDULE = build_schedule(3, ["mat"], ["mat"], [], KINDS, 1200, 1)
CUT_LIST = CutList((Patch(1, "mat", 500, 500, 0.25),), 0.25, 500, 500)

GLASS_AND_RESIN = {
    "glass_density_kg_m3": 2560,
    "resin_density_kg_m3": 1200,
    "fibre_modulus_MPa": 72000,
    "resin_modulus_MPa": 3300,
    "fibre_poisson_ratio": 0.22,
    "resin_poisson_ratio": 0.35,
}
PLIES = {
    "ply_thicknesses_mm": [1.0],
    "moduli_1_MPa": [39000],
    "moduli_2_MPa": [8600],
    "shear_moduli_MPa": [3800],
    "poisson_ratios": [0.28],
    "angles_degrees": [0, 90],
}
LAYERS = {
    "architectures": ["mat", "woven"],
    "areal_masses_g_m2": [450, 600],
    "glass_fractions": [0.3, 0.48],
    "angles_degrees": [0],
}

CURING = {
    "resin_by_mass_fraction": 0.7,
    "heat_of_reaction_kJ_kg": 350,
    "gel_time_min": 15,
    "reference_temperature_C": 20,
    "activation_energy_kJ_mol": 51,
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
    "duration_h": 1,
}

# One valid call of every computation (invented values).
VALID: Mapping[str, Mapping[str, Any]] = {
    **JOINT_CALLS,
    "ply_thickness_mm": {
        "areal_mass_g_m2": 450,
        "glass_fraction": 0.3,
        "glass_density_kg_m3": 2560,
        "resin_density_kg_m3": 1200,
    },
    "fibre_volume_fraction": {
        "glass_fraction": 0.3,
        "glass_density_kg_m3": 2560,
        "resin_density_kg_m3": 1200,
    },
    "laminate_density_kg_m3": {
        "glass_fraction": 0.3,
        "glass_density_kg_m3": 2560,
        "resin_density_kg_m3": 1200,
    },
    "resin_to_glass_ratio": {"glass_fraction": 0.3},
    "build_schedule": {
        "target_thickness_mm": 3,
        "first": ["mat"],
        "repeat": ["mat"],
        "last": [],
        "reinforcements": KINDS,
        "resin_density_kg_m3": 1200,
        "enough_fraction": 0.9,
    },
    "thickness_for_bending_mm": {"bending_stiffness_Nmm": 14400, "bending_modulus_MPa": 6400},
    "schedule_laminate": {
        "schedule": SCHEDULE,
        "reinforcements": {"mat": {**MAT, "architecture": "mat"}},
        **GLASS_AND_RESIN,
    },
    "schedule_warp": {
        "schedule": SCHEDULE,
        "reinforcements": {"mat": {**MAT, "architecture": "mat"}},
        **GLASS_AND_RESIN,
        "resin_shrinkage_percent": 0.6,
        "span_mm": 100,
    },
    "taper_length_mm": {"thickness_mm": 3, "taper_ratio": 12},
    "patch_cut_list": {
        "schedule": SCHEDULE,
        "opening_length_mm": 100,
        "opening_width_mm": 50,
        "taper_length_mm": 40,
        "edge_overlap_mm": 25,
        "largest_first": True,
    },
    "strip_cut_list": {
        "schedule": SCHEDULE,
        "joint_length_mm": 800,
        "first_half_width_mm": 50,
        "step_mm": 20,
        "room_mm": 60,
    },
    "product": {"one_value": 2.5, "other_value": 0.4},
    "sessions_of_schedule": {
        "schedule": SCHEDULE,
        "cut_list": CUT_LIST,
        "reinforcements": KINDS,
        "limit_mm": 2,
        "first_ply_alone": True,
    },
    "one_size_cut_list": {"schedule": SCHEDULE, "length_mm": 900, "width_mm": 400},
    "glass_needed": {
        "cut_list": CUT_LIST,
        "reinforcements": KINDS,
        "waste_fraction": 0.1,
        "joint_overlap_mm": 50,
    },
    "resin_needed_kg": {"glass_kg": 1, "resin_to_glass": 2.5, "waste_fraction": 0.1},
    "resin_for_cut_list": {"cut_list": CUT_LIST, "reinforcements": KINDS, "waste_fraction": 0.1},
    "coat_mass_kg": {"area_m2": 1, "film_thickness_mm": 0.3, "density_kg_m3": 1200},
    "mass_of_volume_kg": {"volume_mL": 250, "density_kg_m3": 1150},
    "mix_parts": {"total_mass_kg": 0.6, "resin_parts": 2, "hardener_parts": 1},
    "catalyst_mass_g": {"resin_mass_kg": 2.1, "dose_percent": 1.5},
    "catalyst_volume_mL": {"catalyst_mass_g": 31.5, "catalyst_density_kg_m3": 1110},
    "catalyst_drops": {"catalyst_volume_mL": 1, "drops_per_mL": 30},
    "working_time_min": {
        "reference_time_min": 20,
        "reference_temperature_C": 20,
        "temperature_C": 25,
        "activation_energy_kJ_mol": 51,
    },
    "activation_energy_for_doubling_kJ_mol": {"lower_temperature_C": 20, "upper_temperature_C": 30},
    "dose_adjusted_time_min": {"time_min": 20, "dose_percent": 1.5, "reference_dose_percent": 1.5},
    "plan_batches": {
        "total_mass_kg": 2,
        "placing_rate_kg_min": 0.1,
        "working_time_min": 20,
        "usable_fraction": 0.6,
        "cup_limit_kg": 1,
        "mixing_time_min": 2,
        "least_batch_kg": 0.05,
    },
    "layers_per_session": {"ply_thicknesses_mm": [1.0, 1.0], "limit_mm": 3},
    "bead_volume_mL": {"length_mm": 2000, "width_mm": 25, "thickness_mm": 3},
    "triangular_bead_volume_mL": {"length_mm": 1000, "base_mm": 10, "height_mm": 12},
    "bead_height_for_bond_line_mm": {
        "bond_width_mm": 25,
        "bond_line_mm": 2,
        "squeeze_out_fraction": 0.2,
        "bead_base_mm": 10,
    },
    "adhesive_needed_mL": {
        "net_volume_mL": 150,
        "squeeze_out_fraction": 0.2,
        "nozzle_loss_mL": 10,
        "nozzle_count": 2,
        "purge_mL": 5,
    },
    "application_time_min": {"bead_length_mm": 4000, "dispensing_rate_m_min": 1, "closing_time_min": 5},
    "time_for_area_min": {"area_m2": 0.2, "square_metre_min": 120, "slowness_ratio": 2.5, "set_up_min": 5},
    "time_for_length_min": {"length_mm": 1200, "metre_min": 10, "slowness_ratio": 1.6, "set_up_min": 10},
    "open_time_needed_min": {"application_time_min": 9, "usable_fraction": 0.6},
    "choose_open_time_class": {
        "bead_length_mm": 4000,
        "dispensing_rate_m_min": 1,
        "closing_time_min": 5,
        "usable_fraction": 0.6,
        "available_classes_min": [5, 20, 90],
        "reference_temperature_C": 23,
        "temperature_C": 23,
        "activation_energy_kJ_mol": 51,
    },
    "nozzles_needed": {"cartridge_count": 2, "application_time_min": 50, "open_time_min": 20},
    "overall_pace_m_min": {
        "length_mm": 3000,
        "hand_pace_m_min": 0.5,
        "laying_time_min": 5,
        "fastener_count": 10,
        "fastener_time_min": 0.7,
    },
    "least_waste_packs": {"amount": 7, "pack_sizes": [1, 5, 20]},
    "packs_of_one_size": {"amount": 7, "pack_sizes": [1, 5, 8], "allowed_waste_percent": 15},
    "few_packs": {"amount": 7, "pack_sizes": [1, 5, 8], "allowed_waste_percent": 15},
    "dew_point_C": {"air_temperature_C": 20, "relative_humidity_percent": 50},
    "dew_point_margin_K": {"surface_temperature_C": 13, "dew_point_C": 10.75},
    "thermal_movement_mm": {
        "expansion_a_um_m_K": 30,
        "expansion_b_um_m_K": 23,
        "temperature_change_K": 50,
        "length_mm": 500,
    },
    "bond_line_shear_strain_percent": {"movement_mm": 0.1, "bond_line_mm": 3},
    "styrene_released_g": {"resin_mass_kg": 1, "styrene_percent": 35},
    "ratio": {"numerator": 3, "denominator": 4},
    "difference": {"minuend": 5, "subtrahend": 3},
    "total": {"one_value": 2.5, "other_value": 5},
    "pieces_along_count": {"length_mm": 1200, "spacing_mm": 150},
    "rectangle_area_m2": {"length_mm": 1200, "width_mm": 500},
    "mean": {"one_value": 2, "other_value": 5},
    "same_value": {"one_value": 2},
    "kept_within": {"one_value": 2.5, "least": 1, "most": 2},
    "ply_stiffness": {"architecture": "mat", "glass_fraction": 0.3, **GLASS_AND_RESIN},
    "krenchel_modulus_MPa": {
        "architecture": "mat",
        "fibre_volume_fraction": 0.17,
        "fibre_modulus_MPa": 72000,
        "resin_modulus_MPa": 3300,
    },
    "halpin_tsai_stiffness": {
        "fibre_volume_fraction": 0.17,
        "fibre_modulus_MPa": 72000,
        "resin_modulus_MPa": 3300,
        "fibre_poisson_ratio": 0.22,
        "resin_poisson_ratio": 0.35,
    },
    "ply_strength": {"architecture": "mat", "glass_fraction": 0.3},
    "laminate_design_factor_ratio": {
        "method_ratio": 1.5,
        "surroundings_ratio": 1.3,
        "softening_temperature_C": 200,
        "service_temperature_C": 40,
        "load_cycles_count": 3650,
        "cure_ratio": 1.5,
    },
    "laminate_stiffness": PLIES,
    "laminate_response": {
        **PLIES,
        "force_x_N_mm": 10,
        "force_y_N_mm": 0,
        "shear_force_xy_N_mm": 0,
        "moment_x_N": 5,
        "moment_y_N": 0,
        "twisting_moment_xy_N": 0,
    },
    "laminate_warp": {
        **PLIES,
        "expansions_1_um_m_K": [9],
        "expansions_2_um_m_K": [22],
        "shrinkages_1_percent": [0, 0.1],
        "shrinkages_2_percent": [0, 0.1],
        "temperature_change_K": -40,
        "span_mm": 300,
    },
    "bending_stiffness_Nmm": {"thickness_mm": 3, "bending_modulus_MPa": 6400},
    "laid_laminate": {**LAYERS, **GLASS_AND_RESIN},
    "compare_laminates": {
        **{f"old_{name}": values for name, values in LAYERS.items()},
        **{f"new_{name}": values for name, values in LAYERS.items()},
        **GLASS_AND_RESIN,
    },
    "match_by_repeats": {
        "target_thickness_mm": 4,
        "target_bending_stiffness_x_Nmm": 30000,
        "target_bending_stiffness_y_Nmm": 0,
        "first_count": 1,
        "last_count": 0,
        **LAYERS,
        **GLASS_AND_RESIN,
    },
    "match_build_up": {
        "target_thickness_mm": 4,
        "target_bending_stiffness_x_Nmm": 30000,
        "target_bending_stiffness_y_Nmm": 0,
        "first": ["mat"],
        "repeat": ["mat"],
        "last": [],
        "reinforcements": {"mat": {**MAT, "architecture": "mat"}},
        **GLASS_AND_RESIN,
    },
    "equivalent_age_h": {
        "times_h": [8, 12],
        "temperatures_C": [15, 22],
        "reference_temperature_C": 20,
        "activation_energy_kJ_mol": 51,
    },
    "cure_through_day": {
        "times_h": [8, 12],
        "temperatures_C": [15, 22],
        "start_h": 9,
        "needed_h": 1,
        "reference_temperature_C": 20,
        "activation_energy_kJ_mol": 51,
        "lowest_temperature_C": 12,
    },
    "adiabatic_rise_K": {"heat_of_reaction_kJ_kg": 350, "resin_by_mass_fraction": 1, "heat_capacity_J_kg_K": 1900},
    "cure_peak": {"layer_thickness_mm": 5, **CURING},
    "layers_below_peak": {"ply_thickness_mm": 1, "peak_limit_C": 80, **CURING},
    "sol_air_temperature_C": {
        "air_temperature_C": 35,
        "irradiance_W_m2": 900,
        "absorbed_fraction": 0.9,
        "surface_transfer_W_m2_K": 17,
        "sky_loss_K": 3.9,
    },
    "softening_margin_K": {"service_temperature_C": 60, "softening_temperature_C": 65},
    "styrene_per_resin_by_process_g_kg": {"styrene_percent": 35, "process": "hand"},
    "styrene_per_resin_by_second_rule_g_kg": {"styrene_percent": 35},
    "solvent_released_g": {"wiped_area_m2": 2, "applied_g_m2": 40, "evaporated_fraction": 1},
    "saturated_vapour_ppm": {"vapour_pressure_kPa": 0.6},
    "pool_evaporation_g_h": {
        "pool_area_m2": 0.1,
        "molar_mass_g_mol": 92,
        "vapour_pressure_kPa": 3.8,
        "temperature_C": 25,
    },
    "room_air": {
        "released_g": 90,
        "release_time_h": 2,
        "room_volume_m3": 60,
        "air_changes_per_h": 3,
        "mixing_fraction": 0.5,
    },
    "air_flow_needed_m3_h": {"release_rate_g_h": 45, "limit_mg_m3": 215, "mixing_fraction": 0.5},
    "clearing_time_h": {
        "start_mg_m3": 480,
        "limit_mg_m3": 85,
        "air_changes_per_h": 3,
        "mixing_fraction": 0.5,
    },
    "mass_concentration_mg_m3": {"concentration_ppm": 50, "molar_mass_g_mol": 104, "temperature_C": 25},
    "volume_concentration_ppm": {"concentration_mg_m3": 215, "molar_mass_g_mol": 104, "temperature_C": 25},
    "shift_mean_ppm": {"concentrations_ppm": [50], "spells_h": [4]},
    "explosive_limit_share_percent": {"concentration_ppm": 900, "lower_explosive_limit_percent": 0.9},
    "mixed_explosive_limit_share_percent": {
        "concentrations_ppm": [450],
        "lower_explosive_limits_percent": [0.9],
    },
    "mixed_vapours": {"concentrations_ppm": [5], "limits_ppm": [10]},
}

DIMENSIONLESS = re.compile(r"_fractions?$|_ratios?$|_count$|^resin_to_glass|_parts$|^taper_ratio$|_order$")
ANY_UNIT = {
    "amount",
    "numerator",
    "denominator",
    "minuend",
    "subtrahend",
    "one_value",
    "other_value",
    "total",
}
ANY_UNIT |= {"left_over", "ratio", "difference", "mean", "same_value", "kept_within", "least", "most", "pack_sizes"}
RANGE = re.compile(r"(-?\d[\d.]*) to (-?\d[\d.]*\d|\d)")
EVERY_NAME = sorted(CALCULATORS)


def argument_lines(function: Callable[..., object]) -> dict[str, str]:
    """Return argument name to its description, continuation lines joined."""
    section = (inspect.getdoc(function) or "").partition("Args:\n")[2].partition("Returns:\n")[0]
    joined = re.sub(r"\n {8,}", " ", section)
    return dict(re.findall(r"^ +(\w+): (.+)$", joined, re.MULTILINE))


def ranged_arguments() -> list[tuple[str, str, float, float]]:
    found = []
    for name in EVERY_NAME:
        for argument, text in argument_lines(CALCULATORS[name]).items():
            match = RANGE.search(text)
            if match and not isinstance(VALID[name][argument], Mapping):
                found.append((name, argument, float(match[1]), float(match[2])))
    return found


def is_number(hint: object) -> bool:
    return hint in (float, int)


def result_records(hint: object) -> list[type]:
    """Return the dataclasses that a result consists of, those in its tuples included."""
    if isinstance(hint, type) and dataclasses.is_dataclass(hint):
        inner = typing.get_type_hints(hint).values()
        return [hint, *(record for field in inner for record in result_records(field))]
    return [record for part in typing.get_args(hint) for record in result_records(part)]


def test_a_valid_call_is_known_for_every_computation() -> None:
    assert sorted(VALID) == EVERY_NAME


@pytest.mark.parametrize("name", EVERY_NAME)
def test_docstring_says_formula_source_arguments_result_errors_and_example(name: str) -> None:
    function = CALCULATORS[name]
    text = inspect.getdoc(function) or ""
    assert list(argument_lines(function)) == list(inspect.signature(function).parameters)
    assert formula_of(name) and source_of(name)
    assert all(part in text for part in ("Returns:\n", "Raises:\n", "OutOfRange: ", "Example:\n", ">>> "))
    assert text.splitlines()[0].endswith(".")


@pytest.mark.parametrize("name", EVERY_NAME)
def test_every_numeric_argument_carries_its_unit_in_name_and_text(name: str) -> None:
    hints = typing.get_type_hints(CALCULATORS[name])
    for argument, text in argument_lines(CALCULATORS[name]).items():
        numeric = is_number(hints[argument]) or float in typing.get_args(hints[argument])
        if not numeric or argument in ANY_UNIT:
            continue
        assert RANGE.search(text), f"{argument}: no range"
        unit = unit_of(argument)
        assert (unit or "dimensionless" in text or "count" in text) and unit in text, argument
        assert unit or DIMENSIONLESS.search(argument), argument


@pytest.mark.parametrize("name", EVERY_NAME)
def test_result_carries_its_unit(name: str) -> None:
    hint = typing.get_type_hints(CALCULATORS[name])["return"]
    returned = (inspect.getdoc(CALCULATORS[name]) or "").partition("Returns:\n")[2].partition("Raises:")[0]
    if hint is float and name not in ANY_UNIT:
        assert unit_of(name) in returned
        assert unit_of(name) or "dimensionless" in returned
    elif hint is int:
        assert "count" in returned
    for record in result_records(hint):
        fields = typing.get_type_hints(record)
        unitless = [
            field
            for field, kind in fields.items()
            if kind in (float, tuple[float, ...])
            and not unit_of(field)
            and not DIMENSIONLESS.search(field)
            and field not in ANY_UNIT
        ]
        assert unitless == []


@pytest.mark.parametrize("name", EVERY_NAME)
def test_records_are_frozen_and_made_of_tuples(name: str) -> None:
    for record in result_records(typing.get_type_hints(CALCULATORS[name])["return"]):
        parameters: Any = record.__dict__["__dataclass_params__"]
        assert parameters.frozen and "__slots__" in record.__dict__
        assert not [kind for kind in typing.get_type_hints(record).values() if typing.get_origin(kind) is list]


@pytest.mark.parametrize("name", EVERY_NAME)
def test_no_trade_number_hides_in_a_default(name: str) -> None:
    parameters = inspect.signature(CALCULATORS[name]).parameters.values()
    assert all(parameter.default is inspect.Parameter.empty for parameter in parameters)


@pytest.mark.parametrize("name", EVERY_NAME)
def test_valid_call_is_accepted(name: str) -> None:
    assert CALCULATORS[name](**VALID[name]) is not None


@pytest.mark.parametrize(("name", "argument", "low", "high"), ranged_arguments())
def test_documented_range_is_the_one_that_is_held(name: str, argument: str, low: float, high: float) -> None:
    listed = isinstance(VALID[name][argument], list)
    if listed and isinstance(VALID[name][argument][0], str):
        assert_length_is_held(name, argument, low, high)
        return
    for outside in (math.nextafter(low, -math.inf), math.nextafter(high, math.inf), math.nan, math.inf):
        with pytest.raises(OutOfRange) as caught:
            CALCULATORS[name](**{**VALID[name], argument: [outside] if listed else outside})
        assert (caught.value.argument, caught.value.low, caught.value.high) == (argument, low, high)
        assert f"`{argument}` is " in str(caught.value) and "must be between" in str(caught.value)


def assert_length_is_held(name: str, argument: str, low: float, high: float) -> None:
    for count in (int(low) - 1, int(high) + 1):
        with pytest.raises(OutOfRange, match=f"`{argument}` is {count} entries"):
            CALCULATORS[name](**{**VALID[name], argument: ["mat"] * count})


def test_message_gives_value_and_range_as_a_reader_would_write_them() -> None:
    with pytest.raises(OutOfRange) as caught:
        CALCULATORS["resin_to_glass_ratio"](glass_fraction=0.95)
    assert str(caught.value) == "`glass_fraction` is 0.95, must be between 0.10 and 0.80"


def test_message_gives_the_unit() -> None:
    with pytest.raises(OutOfRange) as caught:
        CALCULATORS["dew_point_C"](air_temperature_C=99, relative_humidity_percent=50)
    assert str(caught.value) == "`air_temperature_C` is 99 °C, must be between -30 and 60 °C"
    assert caught.value.unit == "°C"


def test_error_survives_a_worker_process() -> None:
    error = OutOfRange("dose_percent", 7, 0.1, 5, "%")
    assert str(pickle.loads(pickle.dumps(error))) == str(error)


def test_computations_import_nothing_of_the_project_but_each_other() -> None:
    for module in Path(next(iter(advisor.calculators.__path__))).glob("*.py"):
        tree = ast.parse(module.read_text(encoding="utf-8"))
        for node in ast.walk(tree):
            names = [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
            names += [node.module or ""] if isinstance(node, ast.ImportFrom) else []
            assert not [n for n in names if n.startswith("advisor") and not n.startswith("advisor.calculators")]


def test_unknown_computation_is_a_key_error() -> None:
    with pytest.raises(KeyError):
        formula_of("no_such_computation")


def test_formula_and_source_come_whole_where_they_run_over_two_lines() -> None:
    assert formula_of("choose_open_time_class").endswith("t(T) as in working_time_min")
    assert source_of("styrene_released_g").startswith("US EPA, 40 CFR Part 63 Subpart VVVV, Table 3")
    assert source_of("styrene_released_g").endswith("(from-memory)")
