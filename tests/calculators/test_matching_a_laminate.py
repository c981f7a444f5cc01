"""An old and a new laminate side by side, and build-ups that match both targets with the fewest repeats."""

from collections.abc import Mapping
from itertools import chain
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from advisor.calculators import MissingProperty, OutOfRange
from advisor.calculators.layers import LaidLaminate
from advisor.calculators.micromechanics import Architecture
from advisor.calculators.schedule import build_schedule
from advisor.calculators.schedule_match import LaminateMatch, match_build_up, match_by_repeats
from advisor.calculators.stiffness_match import bending_stiffness_Nmm, compare_laminates, laid_laminate

MADE_OF = (2560, 1200, 72000, 3300, 0.22, 0.35)
# Invented examples of the usual kinds.
KINDS: Mapping[str, Mapping[str, Any]] = {
    "mat": {"architecture": "mat", "areal_mass_g_m2": 450, "glass_fraction": 0.30, "glass_density_kg_m3": 2560},
    "roving": {
        "architecture": "woven", "areal_mass_g_m2": 600, "glass_fraction": 0.48, "glass_density_kg_m3": 2560,
        "woven": True,
    },
    "stitched": {
        "architecture": "biaxial", "areal_mass_g_m2": 400, "glass_fraction": 0.50, "glass_density_kg_m3": 2560,
        "woven": True, "angle_degrees": 45,
    },
    "one_way": {
        "architecture": "unidirectional", "areal_mass_g_m2": 300, "glass_fraction": 0.55, "glass_density_kg_m3": 2560,
        "woven": True,
    },
    "tissue": {"architecture": "mat", "areal_mass_g_m2": 30, "glass_fraction": 0.12, "glass_density_kg_m3": 2560},
}
IDS = st.sampled_from(sorted(KINDS))
FEW = st.lists(IDS, max_size=2)
REPEATED = st.lists(IDS.filter(lambda one: one != "tissue"), min_size=1, max_size=3)


def laid(*ids: str) -> LaidLaminate:
    return laid_laminate(
        [KINDS[one]["architecture"] for one in ids],
        [KINDS[one]["areal_mass_g_m2"] for one in ids],
        [KINDS[one]["glass_fraction"] for one in ids],
        [KINDS[one].get("angle_degrees", 0) for one in ids],
        *MADE_OF,
    )


def matched(thickness_mm: float, bending: float, first: list[str], repeat: list[str], last: list[str]) -> LaminateMatch:
    return match_build_up(thickness_mm, bending, bending, first, repeat, last, KINDS, *MADE_OF)


def test_mat_alone_is_a_solid_sheet() -> None:
    found = laid("mat", "mat", "mat")
    assert found.thickness_mm == approx(3 * 1.0508, abs=0.003)  # ISO 12215-5 ply thickness, recomputed
    assert found.mass_kg_m2 == approx(4.5)
    assert found.modulus_x_MPa == approx(6400) and found.bending_modulus_y_MPa == approx(6400)
    assert found.bending_stiffness_x_Nmm == approx(bending_stiffness_Nmm(found.thickness_mm, 6400))
    assert (found.woven_fraction, found.coupling_ratio) == (0, 0)


@pytest.mark.parametrize(("kind", "fraction", "unit_modulus"), [("mat", 0.30, 14000), ("woven", 0.45, 16000)])
def test_pull_per_glass_within_a_tenth_of_bs_4994_1987_unit_modulus(
    kind: Architecture, fraction: float, unit_modulus: float
) -> None:
    """N/mm for each kg/m2 of glass, as read on a worked design sheet."""
    found = laid_laminate([kind], [1000], [fraction], [0], *MADE_OF)
    assert found.in_plane_stiffness_x_N_mm == approx(unit_modulus, rel=0.10)


@settings(max_examples=40)
@given(st.lists(IDS, min_size=1, max_size=6))
def test_sums_are_those_of_the_schedule(ids: list[str]) -> None:
    found = laid(*ids)
    schedule = build_schedule(0.1, ids, ["mat"], [], KINDS, 1200, 1)
    assert found.thickness_mm == approx(schedule.thickness_mm)
    assert found.glass_mass_kg_m2 == approx(schedule.glass_mass_kg_m2)
    assert found.resin_mass_kg_m2 == approx(schedule.resin_mass_kg_m2)
    assert found.woven_fraction == approx(schedule.woven_fraction)


def test_woven_share_is_by_glass_mass() -> None:
    assert laid("mat", "roving").woven_fraction == approx(600 / 1050)


def test_mat_under_roving_is_not_balanced_and_a_sandwich_of_it_is() -> None:
    assert laid("mat", "roving").coupling_ratio > 0.1
    assert laid("mat", "roving", "mat").coupling_ratio < 1e-9


def test_stitched_cloth_at_45_degrees_is_soft_along_x_and_stiff_in_shear() -> None:
    turned = laid("stitched")
    along = laid_laminate(["biaxial"], [400], [0.5], [0], *MADE_OF)
    assert turned.modulus_x_MPa < 0.6 * along.modulus_x_MPa
    assert turned.thickness_mm == along.thickness_mm


def test_same_glass_with_less_resin_is_thinner_and_bends_more_easily() -> None:
    found = compare_laminates(["mat"] * 3, [450], [0.25], [0], ["mat"] * 3, [450], [0.33], [0], *MADE_OF)
    assert found.thickness_ratio < 1 and found.mass_ratio == approx(0.25 / 0.33)
    assert found.in_plane_x_ratio > 1 > found.bending_x_ratio


def test_comparison_is_new_over_old() -> None:
    old, new = laid("mat", "mat"), laid("mat", "mat", "mat", "mat")
    found = compare_laminates(["mat"] * 2, [450], [0.3], [0], ["mat"] * 4, [450], [0.3], [0], *MADE_OF)
    assert (found.old, found.new) == (old, new)
    assert [found.thickness_ratio, found.in_plane_y_ratio] == approx([2, 2])
    assert [found.bending_x_ratio, found.bending_y_ratio] == approx([8, 8])


def test_errors_say_which_laminate_is_meant() -> None:
    with pytest.raises(OutOfRange, match="`new_glass_fractions`"):
        compare_laminates(["mat"], [450], [0.3], [0], ["mat"], [450], [0.95], [0], *MADE_OF)


def test_new_laminate_with_more_glass_is_stiff_before_it_is_thick() -> None:
    """So a repair matched in stiffness alone would leave a hollow, and thickness decides."""
    old = laid("mat", "mat", "mat", "mat")
    found = matched(old.thickness_mm, old.bending_stiffness_x_Nmm, [], ["roving"], [])
    assert found.repeats_for_bending_count < found.repeats_for_thickness_count == found.repeat_count


def test_bending_decides_when_the_old_laminate_was_stiffer() -> None:
    old = laid("one_way", "one_way", "one_way", "one_way")
    found = match_build_up(old.thickness_mm, old.bending_stiffness_x_Nmm, 0, [], ["mat"], [], KINDS, *MADE_OF)
    assert found.repeats_for_thickness_count < found.repeats_for_bending_count == found.repeat_count
    assert found.thickness_over_percent > 0


@settings(max_examples=60)
@given(st.floats(0.5, 8), st.floats(0, 400000), FEW, REPEATED, FEW)
def test_no_smaller_number_of_repeats_meets_the_targets(
    thickness_mm: float, bending: float, first: list[str], repeat: list[str], last: list[str]
) -> None:
    found = matched(thickness_mm, bending, first, repeat, last)

    def meets(repeats: int) -> bool:
        ids = [*first, *repeat * repeats, *last]
        if not ids:
            return False
        laminate = laid(*ids)
        bends = min(laminate.bending_stiffness_x_Nmm, laminate.bending_stiffness_y_Nmm)
        return laminate.thickness_mm >= thickness_mm * (1 - 1e-9) and bends >= bending * (1 - 1e-9)

    assert meets(found.repeat_count) and not any(meets(fewer) for fewer in range(found.repeat_count))
    assert found.repeat_count >= max(found.repeats_for_thickness_count, found.repeats_for_bending_count)
    named = list(chain(first, repeat, last))
    order = [named[number - 1] for number in found.layer_numbers]
    assert order == [*first, *repeat * found.repeat_count, *last]
    assert (found.layer_count, found.laminate) == (len(order), laid(*order))


@settings(max_examples=40)
@given(st.floats(1, 8), st.floats(0, 200000))
def test_the_matched_thickness_gives_the_same_plies_in_the_schedule(thickness_mm: float, bending: float) -> None:
    found = matched(thickness_mm, bending, ["mat"], ["roving", "mat"], ["tissue"])
    schedule = build_schedule(found.laminate.thickness_mm, ["mat"], ["roving", "mat"], ["tissue"], KINDS, 1200, 1)
    named = ["mat", "roving", "mat", "tissue"]
    assert [ply.reinforcement for ply in schedule.plies] == [named[number - 1] for number in found.layer_numbers]


def test_target_that_is_met_exactly_costs_no_extra_repeat() -> None:
    for repeats in range(1, 8):
        old = laid(*["mat"] * repeats)
        assert matched(old.thickness_mm, old.bending_stiffness_x_Nmm, [], ["mat"], []).repeat_count == repeats


def test_first_and_last_alone_may_be_enough() -> None:
    assert matched(1.5, 0, ["mat"], ["roving"], ["mat"]).repeat_count == 0


def test_target_out_of_reach_is_named_with_what_was_reached() -> None:
    with pytest.raises(OutOfRange, match="`target_bending_stiffness_x_Nmm` is 1e\\+12 N mm"):
        matched(2, 1e12, [], ["mat"], [])


def test_nothing_left_to_repeat_is_refused() -> None:
    with pytest.raises(OutOfRange, match="`last_count` is 1, must be between 0 and 0"):
        match_by_repeats(3, 0, 0, 1, 1, ["mat", "mat"], [450], [0.3], [0], *MADE_OF)


def test_missing_reinforcement_and_property_are_named() -> None:
    with pytest.raises(MissingProperty, match="`cloth`"):
        matched(3, 0, [], ["cloth"], [])
    with pytest.raises(MissingProperty, match="`architecture`"):
        match_build_up(3, 0, 0, [], ["mat"], [], {"mat": {"areal_mass_g_m2": 450, "glass_fraction": 0.3}}, *MADE_OF)
