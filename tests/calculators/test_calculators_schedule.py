"""Schedules reach their target with the fewest plies, in the order asked for."""

from collections.abc import Mapping

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from advisor.calculators.patches import CutList, one_size_cut_list, patch_cut_list
from advisor.calculators.properties import MissingProperty
from advisor.calculators.ranges import OutOfRange
from advisor.calculators.resin import resin_for_cut_list
from advisor.calculators.schedule import Schedule, build_schedule
from advisor.calculators.sessions import SessionTable, sessions_of_schedule

# Invented examples of the usual kinds.
KINDS: Mapping[str, Mapping[str, float]] = {
    "mat": {"areal_mass_g_m2": 450, "glass_fraction": 0.30, "glass_density_kg_m3": 2560},
    "roving": {"areal_mass_g_m2": 600, "glass_fraction": 0.48, "glass_density_kg_m3": 2560, "woven": True},
    "cloth": {"areal_mass_g_m2": 200, "glass_fraction": 0.50, "glass_density_kg_m3": 2560, "woven": True},
}
RESINS = {kind: dict(zip(("resin_to_glass_low", "resin_to_glass_likely", "resin_to_glass_high"), ratios, strict=True))
          for kind, ratios in {"mat": (2.0, 2.3, 2.6), "roving": (0.9, 1.1, 1.3), "cloth": (0.8, 1.0, 1.2)}.items()}
WITH_RESIN = {kind: {**KINDS[kind], **RESINS[kind]} for kind in KINDS}
IDS = st.sampled_from(sorted(KINDS))


def schedule_of(target_mm: float, first: list[str], repeat: list[str], last: list[str]) -> Schedule:
    return build_schedule(target_mm, first, repeat, last, KINDS, 1200, 1)


def sessions_of(schedule: Schedule, limit_mm: float, alone: bool, cuts: CutList | None = None) -> SessionTable:
    """Sessions of plies all cut to one size, unless told otherwise."""
    cuts = cuts or one_size_cut_list(schedule, 500, 200)
    return sessions_of_schedule(schedule, cuts, WITH_RESIN, limit_mm, alone)


def order(schedule: Schedule) -> list[str]:
    return [ply.reinforcement for ply in schedule.plies]


def test_repeat_is_cycled_ply_by_ply_between_first_and_last() -> None:
    schedule = schedule_of(4.9, ["mat"], ["roving", "mat"], ["cloth"])
    assert order(schedule) == ["mat", "roving", "mat", "roving", "mat", "cloth"]
    assert [ply.number for ply in schedule.plies] == [1, 2, 3, 4, 5, 6]


def test_whole_number_of_plies_costs_no_extra_ply() -> None:
    one_mm = schedule_of(0.5, [], ["mat"], []).thickness_mm
    assert [len(schedule_of(count * one_mm, [], ["mat"], []).plies) for count in range(1, 40)] == list(range(1, 40))


def test_first_and_last_are_laid_even_when_the_target_is_thinner() -> None:
    schedule = schedule_of(0.5, ["mat"], ["mat"], ["cloth"])
    assert order(schedule) == ["mat", "cloth"]
    assert schedule.over_target_percent == approx(100 * (schedule.thickness_mm - 0.5) / 0.5)


def test_sums_for_one_square_metre() -> None:
    schedule = schedule_of(2, ["mat"], ["roving"], [])
    assert order(schedule) == ["mat", "roving", "roving"]
    assert schedule.glass_mass_kg_m2 == approx(1.65)
    assert schedule.resin_mass_kg_m2 == approx(0.45 * 7 / 3 + 1.2 * 52 / 48)
    assert schedule.woven_fraction == approx(1.2 / 1.65)


@given(
    st.floats(0.1, 60),
    st.lists(IDS, max_size=3),
    st.lists(IDS, min_size=1, max_size=3),
    st.lists(IDS, max_size=3),
)
def test_never_thinner_than_the_target_and_no_ply_too_many(
    target_mm: float, first: list[str], repeat: list[str], last: list[str]
) -> None:
    schedule = schedule_of(target_mm, first, repeat, last)
    laid = order(schedule)
    middle = laid[len(first) : len(laid) - len(last)]
    assert laid[: len(first)] == first and laid[len(laid) - len(last) :] == last
    assert middle == [repeat[i % len(repeat)] for i in range(len(middle))]
    assert schedule.thickness_mm >= target_mm * (1 - 1e-8)
    if middle:
        last_added = schedule.plies[len(first) + len(middle) - 1]
        assert schedule.thickness_mm - last_added.thickness_mm < target_mm
    assert schedule.over_target_percent >= 0


@given(st.floats(0.1, 60))
def test_mass_and_volume_of_the_laminate_agree(target_mm: float) -> None:
    schedule = schedule_of(target_mm, ["mat"], ["roving", "mat"], ["cloth"])
    volume_mm = schedule.glass_mass_kg_m2 / 2.560 + schedule.resin_mass_kg_m2 / 1.200
    assert schedule.thickness_mm == approx(volume_mm, rel=1e-9)


def test_missing_property_is_named() -> None:
    with pytest.raises(MissingProperty, match="`glass_fraction` is missing for reinforcement `veil`"):
        build_schedule(3, [], ["veil"], [], {"veil": {"areal_mass_g_m2": 30}}, 1200, 1)
    with pytest.raises(MissingProperty, match="reinforcement `veil` has no properties"):
        schedule_of(3, [], ["veil"], [])


def test_property_out_of_range_names_the_reinforcement() -> None:
    thick = {"thick": {**KINDS["mat"], "areal_mass_g_m2": 9000}}
    with pytest.raises(OutOfRange) as caught:
        build_schedule(3, [], ["thick"], [], thick, 1200, 1)
    assert str(caught.value) == "`thick.areal_mass_g_m2` is 9000 g/m2, must be between 10 and 5000 g/m2"


def test_more_than_500_plies_are_refused_with_what_they_reach() -> None:
    veil = {"veil": {"areal_mass_g_m2": 20, "glass_fraction": 0.30, "glass_density_kg_m3": 2560}}
    with pytest.raises(OutOfRange) as caught:
        build_schedule(100, [], ["veil"], [], veil, 1200, 1)
    assert caught.value.argument == "target_thickness_mm" and caught.value.high == approx(23.35, abs=0.01)


def test_a_bridge_has_a_session_of_its_own_and_the_rest_keep_to_the_limit() -> None:
    schedule = schedule_of(4.0, ["cloth"], ["mat"], ["cloth"])
    table = sessions_of(schedule, 2.2, alone=True)
    assert [session.plies for session in table.sessions] == ["1", "2 to 3", "4 to 5", "6"]
    cloth, mat = 0.2 * 1.2, 0.45 * 2.6  # resin of a square metre by hand, kg
    assert table.first_ply_share_fraction == approx(cloth / (2 * cloth + 4 * mat))
    assert table.largest_share_fraction == approx(2 * mat / (2 * cloth + 4 * mat))


def test_without_a_bridge_the_first_ply_joins_the_others() -> None:
    schedule = schedule_of(4.0, ["cloth"], ["mat"], ["cloth"])
    assert sessions_of(schedule, 2.4, alone=False).sessions[0].plies == "1 to 3"


def test_a_single_ply_is_one_session_either_way() -> None:
    single = schedule_of(0.5, [], ["mat"], [])
    assert [sessions_of(single, 3, alone).session_count for alone in (True, False)] == [1, 1]


@given(st.floats(0.5, 30), st.booleans(), st.floats(0.2, 8))
def test_sessions_lay_every_ply_once_in_order(target_mm: float, alone: bool, limit_mm: float) -> None:
    schedule = schedule_of(target_mm, ["cloth"], ["roving", "mat"], ["cloth"])
    table = sessions_of(schedule, limit_mm, alone)
    assert sum(session.ply_count for session in table.sessions) == len(schedule.plies)
    assert sum(session.thickness_mm for session in table.sessions) == approx(schedule.thickness_mm)
    assert sum(session.resin_percent for session in table.sessions) == approx(100)


@given(st.floats(2, 12), st.floats(1, 4), st.booleans(), st.booleans())
def test_a_session_gets_the_resin_of_its_own_patches(
    target_mm: float, limit_mm: float, alone: bool, largest_first: bool
) -> None:
    schedule = schedule_of(target_mm, ["cloth"], ["mat", "roving"], ["cloth"])
    cuts = patch_cut_list(schedule, 120, 25, 12 * target_mm, 25, largest_first)
    table = sessions_of(schedule, limit_mm, alone, cuts)
    whole, done = resin_for_cut_list(cuts, WITH_RESIN, 0.1).high_kg, 0
    for session in table.sessions:  # each session by itself, as a job of its own
        own = tuple(patch for patch in cuts.patches if done < patch.number <= done + session.ply_count)
        done += session.ply_count
        need = resin_for_cut_list(CutList(own, 1, 1, 1), WITH_RESIN, 0.1).high_kg
        assert session.resin_percent / 100 * whole == approx(need)
    assert table.largest_share_fraction == approx(max(session.resin_percent for session in table.sessions) / 100)


@given(st.floats(0.5, 30), st.floats(0.5, 1))
def test_no_ply_is_added_once_enough_is_reached(target_mm: float, enough: float) -> None:
    schedule = build_schedule(target_mm, ["cloth"], ["roving", "mat"], ["cloth"], KINDS, 1200, enough)
    last_filling = schedule.plies[-2]
    assert schedule.thickness_mm >= target_mm * enough * (1 - 1e-9)
    if len(schedule.plies) > 2:
        assert schedule.thickness_mm - last_filling.thickness_mm < target_mm * enough
    assert schedule.over_target_percent == approx(max(0, 100 * (schedule.thickness_mm / target_mm - 1)))
