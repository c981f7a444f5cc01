"""Patches land on the taper, strips widen, and pieces on the roll neither overlap nor hang over."""

import math
from collections.abc import Mapping
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from advisor.calculators.glass import RollCut, glass_needed
from advisor.calculators.nesting import PlacedPiece
from advisor.calculators.patches import (
    CutList,
    Patch,
    one_size_cut_list,
    patch_cut_list,
    strip_cut_list,
)
from advisor.calculators.ranges import OutOfRange
from advisor.calculators.resin import mix_parts, resin_for_cut_list
from advisor.calculators.schedule import Schedule, build_schedule

# Invented examples of the usual kinds.
KINDS: Mapping[str, Mapping[str, float]] = {
    "mat": {
        "areal_mass_g_m2": 450,
        "glass_fraction": 0.30,
        "glass_density_kg_m3": 2560,
        "roll_width_mm": 1000,
        "resin_to_glass_low": 2.3,
        "resin_to_glass_likely": 2.5,
        "resin_to_glass_high": 2.6,
    },
    "cloth": {
        "areal_mass_g_m2": 200,
        "glass_fraction": 0.50,
        "glass_density_kg_m3": 2560,
        "roll_width_mm": 1270,
        "resin_to_glass_low": 0.9,
        "resin_to_glass_likely": 1.0,
        "resin_to_glass_high": 1.2,
    },
}
LENGTHS = st.floats(1, 3000)


def plies(target_mm: float) -> Schedule:
    return build_schedule(target_mm, [], ["mat"], ["cloth"], KINDS, 1200, 1)


def cut_list(*sizes: tuple[float, float], reinforcement: str = "mat") -> CutList:
    patches = tuple(
        Patch(number, reinforcement, length, width, length * width / 1e6)
        for number, (length, width) in enumerate(sizes, start=1)
    )
    return CutList(patches, sum(patch.area_m2 for patch in patches), 0, 0)


def test_patches_step_evenly_up_the_taper_and_the_last_one_covers_its_edge() -> None:
    cuts = patch_cut_list(plies(4), 100, 60, 40, 25, largest_first=False)
    assert [patch.length_mm for patch in cuts.patches] == [120, 140, 160, 180, 230]
    assert [patch.width_mm for patch in cuts.patches] == [80, 100, 120, 140, 190]
    assert (cuts.outer_length_mm, cuts.outer_width_mm) == (230, 190)
    assert cuts.total_area_m2 == approx(0.0096 + 0.014 + 0.0192 + 0.0252 + 0.0437)


def test_largest_first_turns_the_filling_patches_round_and_leaves_the_finishing_ply() -> None:
    up = patch_cut_list(plies(4), 100, 60, 40, 25, largest_first=False)
    down = patch_cut_list(plies(4), 100, 60, 40, 25, largest_first=True)
    assert [p.length_mm for p in down.patches] == [180, 160, 140, 120, 230]
    assert down.total_area_m2 == approx(up.total_area_m2)
    assert [p.reinforcement for p in down.patches] == [p.reinforcement for p in up.patches]


@given(st.floats(0.5, 20), LENGTHS, LENGTHS, st.floats(1, 400), st.floats(0, 100), st.booleans())
def test_every_filling_patch_lands_on_the_taper(
    target_mm: float,
    length_mm: float,
    width_mm: float,
    taper_mm: float,
    overlap_mm: float,
    largest_first: bool,
) -> None:
    cuts = patch_cut_list(plies(target_mm), length_mm, width_mm, taper_mm, overlap_mm, largest_first)
    *filling, finishing = cuts.patches
    for patch in filling:
        for cut_mm, opening_mm in ((patch.length_mm, length_mm), (patch.width_mm, width_mm)):
            reach_mm = (cut_mm - opening_mm) / 2
            assert 0 < reach_mm <= taper_mm + 2.5
    assert finishing.length_mm >= length_mm + 2 * (taper_mm + overlap_mm) - 1e-6
    assert all(p.length_mm % 5 == 0 and p.width_mm % 5 == 0 for p in cuts.patches)
    sizes = [patch.length_mm for patch in filling]
    assert sizes == sorted(sizes, reverse=largest_first)


def test_a_single_ply_is_the_finishing_ply() -> None:
    one = build_schedule(0.2, [], ["cloth"], [], KINDS, 1200, 1)
    assert [p.length_mm for p in patch_cut_list(one, 100, 60, 40, 25, largest_first=True).patches] == [230]


def test_a_crack_may_have_no_width() -> None:
    cuts = patch_cut_list(plies(2), 200, 0, 30, 10, largest_first=False)
    assert all(patch.width_mm > 0 for patch in cuts.patches)


@given(LENGTHS, st.floats(1, 300), st.floats(0, 100), st.floats(1, 1000))
def test_each_strip_reaches_at_least_as_far_as_the_one_below(
    joint_mm: float, half_mm: float, step_mm: float, room_mm: float
) -> None:
    cuts = strip_cut_list(plies(4), joint_mm, half_mm, step_mm, room_mm)
    widths = [strip.width_mm for strip in cuts.patches]
    assert widths == sorted(widths)
    halves = [half_mm + i * step_mm for i in range(len(widths))]
    wanted = [half + min(half, room_mm) for half in halves]
    pairs = zip(widths, wanted, strict=True)
    assert all(0 <= width - want < 5 + 1e-6 or width == approx(want) for width, want in pairs)
    assert {strip.length_mm for strip in cuts.patches} == {math.ceil(joint_mm / 5 - 1e-9) * 5}


def test_plain_panel() -> None:
    cuts = one_size_cut_list(plies(4), 1200, 801)
    assert {(p.length_mm, p.width_mm) for p in cuts.patches} == {(1200, 805)}
    assert cuts.total_area_m2 == approx(5 * 1.2 * 0.805)


def overlapping(one: PlacedPiece, other: PlacedPiece) -> bool:
    along = min(one.x_mm + one.length_mm, other.x_mm + other.length_mm) - max(one.x_mm, other.x_mm)
    across = min(one.y_mm + one.width_mm, other.y_mm + other.width_mm) - max(one.y_mm, other.y_mm)
    return along > 1e-6 and across > 1e-6


def assert_layout_is_possible(roll: RollCut) -> None:
    for piece in roll.pieces:
        assert piece.x_mm >= 0 and piece.y_mm >= 0
        assert piece.y_mm + piece.width_mm <= roll.roll_width_mm + 1e-6
        assert piece.x_mm + piece.length_mm <= roll.roll_length_m * 1000 + 1e-6
    assert not any(overlapping(one, other) for one, other in combinations(roll.pieces, 2))


@given(st.lists(st.tuples(LENGTHS, LENGTHS), min_size=1, max_size=12), st.floats(0, 100), st.floats(0, 1))
def test_pieces_never_overlap_nor_leave_the_roll(
    sizes: list[tuple[float, float]], overlap_mm: float, waste: float
) -> None:
    cuts = cut_list(*sizes)
    need = glass_needed(cuts, KINDS, waste, overlap_mm)
    (roll,) = need.rolls
    assert_layout_is_possible(roll)
    placed_m2 = math.fsum(piece.length_mm * piece.width_mm for piece in roll.pieces) / 1e6
    assert roll.area_with_waste_m2 == approx(placed_m2 * (1 + waste))
    assert roll.net_area_m2 == approx(cuts.total_area_m2)
    assert placed_m2 >= roll.net_area_m2 * (1 - 1e-9)
    assert roll.roll_length_m * roll.roll_width_mm / 1000 >= placed_m2 * (1 - 1e-9)
    assert need.total_glass_kg == approx(0.450 * roll.area_with_waste_m2)


@given(st.lists(st.tuples(LENGTHS, LENGTHS), min_size=1, max_size=6), st.floats(0, 100))
def test_parts_of_a_patch_cover_it_with_the_overlap(sizes: list[tuple[float, float]], overlap_mm: float) -> None:
    (roll,) = glass_needed(cut_list(*sizes), KINDS, 0, overlap_mm).rolls
    for number, size in enumerate(sizes, start=1):
        parts = [piece for piece in roll.pieces if piece.patch_number == number]
        assert sorted(part.part for part in parts) == list(range(1, parts[0].part_count + 1))
        cut_m2 = sum(part.length_mm * part.width_mm for part in parts)
        joints_m2 = (len(parts) - 1) * overlap_mm * max(size)
        assert cut_m2 == approx(size[0] * size[1] + joints_m2)
        assert len(parts) == 1 or min(size) > roll.roll_width_mm


def test_wide_patch_is_joined_in_the_fewest_strips() -> None:
    (roll,) = glass_needed(cut_list((3000, 1900)), KINDS, 0, 50).rolls
    assert [(piece.length_mm, piece.width_mm) for piece in roll.pieces] == [(3000, 975)] * 2
    (roll,) = glass_needed(cut_list((3000, 1960)), KINDS, 0, 50).rolls
    assert len(roll.pieces) == 3


def test_pieces_are_turned_and_put_side_by_side_where_that_saves_glass() -> None:
    (roll,) = glass_needed(cut_list((1000, 300), (300, 1000), (500, 300), (300, 500)), KINDS, 0, 50).rolls
    assert roll.roll_length_m == approx(0.9)


def test_the_shorter_of_the_two_ways_is_cut() -> None:
    (one,) = glass_needed(cut_list((900, 100)), KINDS, 0, 50).rolls
    (ten,) = glass_needed(cut_list(*[(900, 100)] * 10), KINDS, 0, 50).rolls
    assert [one.roll_length_m, ten.roll_length_m] == approx([0.1, 0.9])


def test_rolls_come_in_the_order_of_first_use() -> None:
    cuts = patch_cut_list(plies(4), 100, 60, 40, 25, largest_first=False)
    need = glass_needed(cuts, KINDS, 0.1, 50)
    assert [roll.reinforcement for roll in need.rolls] == ["mat", "cloth"]
    assert {piece.patch_number for piece in need.rolls[0].pieces} == {1, 2, 3, 4}
    assert need.total_glass_kg == approx(sum(roll.glass_kg for roll in need.rolls))


def test_overlap_of_half_the_roll_is_refused() -> None:
    narrow = {"mat": {**KINDS["mat"], "roll_width_mm": 100}}
    with pytest.raises(OutOfRange, match="`joint_overlap_mm` is 60 mm, must be between 0 and 50 mm"):
        glass_needed(cut_list((500, 500)), narrow, 0, 60)


def test_roll_of_less_than_50_mm_is_refused() -> None:
    tape = {"mat": {**KINDS["mat"], "roll_width_mm": 49.9}}
    with pytest.raises(OutOfRange, match="`mat.roll_width_mm` is 49.9 mm, must be between 50 and 5000 mm"):
        glass_needed(cut_list((500, 40)), tape, 0, 0)


def test_resin_follows_each_reinforcement() -> None:
    both = cut_list((1000, 1000)).patches + cut_list((1000, 1000), reinforcement="cloth").patches
    need = resin_for_cut_list(CutList(both, 2.0, 1000, 1000), KINDS, 0.10)
    assert need.low_kg == approx(1.1 * (0.45 * 2.3 + 0.2 * 0.9))
    assert need.likely_kg == approx(1.1 * (0.45 * 2.5 + 0.2 * 1.0))
    assert need.high_kg == approx(1.1 * (0.45 * 2.6 + 0.2 * 1.2))


def test_resin_ratios_that_do_not_rise_are_refused() -> None:
    falling = {"mat": {**KINDS["mat"], "resin_to_glass_likely": 2.0}}
    with pytest.raises(OutOfRange, match="`mat.resin_to_glass_likely` is 2, must be between 2.3 and 10"):
        resin_for_cut_list(cut_list((1000, 1000)), falling, 0)


@given(st.floats(0.001, 1000), st.floats(0.1, 1000), st.floats(0.1, 1000))
def test_parts_of_a_mix_add_up_and_keep_their_ratio(total_kg: float, resin: float, hardener: float) -> None:
    parts = mix_parts(total_kg, resin, hardener)
    assert parts.resin_kg + parts.hardener_kg == approx(total_kg)
    assert parts.resin_kg * hardener == approx(parts.hardener_kg * resin)
