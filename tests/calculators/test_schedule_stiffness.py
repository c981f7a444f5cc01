"""A schedule of named plies as a laminate, the thickness that bending needs, and the arch of a free strip."""

from collections.abc import Mapping
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from advisor.calculators import MissingProperty
from advisor.calculators.schedule import Schedule, build_schedule
from advisor.calculators.schedule_stiffness import (
    ScheduleWarp,
    schedule_laminate,
    schedule_warp,
    thickness_for_bending_mm,
)
from advisor.calculators.stiffness_match import bending_stiffness_Nmm, laid_laminate

MADE_OF = (2560, 1200, 72000, 3300, 0.22, 0.35)
# Invented examples of the usual kinds.
KINDS: Mapping[str, Mapping[str, Any]] = {
    "mat": {"architecture": "mat", "areal_mass_g_m2": 450, "glass_fraction": 0.30, "glass_density_kg_m3": 2560},
    "cloth": {"architecture": "woven", "areal_mass_g_m2": 200, "glass_fraction": 0.48, "glass_density_kg_m3": 2560},
    "tissue": {"architecture": "mat", "areal_mass_g_m2": 30, "glass_fraction": 0.12, "glass_density_kg_m3": 2560},
    "stitched": {
        "architecture": "biaxial", "areal_mass_g_m2": 400, "glass_fraction": 0.50, "glass_density_kg_m3": 2560,
        "angle_degrees": 45,
    },
    "one_way": {
        "architecture": "unidirectional", "areal_mass_g_m2": 300, "glass_fraction": 0.55,
        "glass_density_kg_m3": 2560,
    },
}
IDS = st.lists(st.sampled_from(sorted(KINDS)), min_size=1, max_size=8)


def laid(*ids: str) -> Schedule:
    return build_schedule(0.1, ids, ["mat"], [], KINDS, 1200, 1)


def warped(*ids: str, shrinkage: float = 0.6, span_mm: float = 100) -> ScheduleWarp:
    return schedule_warp(laid(*ids), KINDS, *MADE_OF, shrinkage, span_mm)


@settings(max_examples=40)
@given(IDS)
def test_named_plies_are_the_laminate_of_their_layers(ids: list[str]) -> None:
    layers = [KINDS[name] for name in ids]
    expected = laid_laminate(
        [layer["architecture"] for layer in layers],
        [layer["areal_mass_g_m2"] for layer in layers],
        [layer["glass_fraction"] for layer in layers],
        [layer.get("angle_degrees", 0) for layer in layers],
        *MADE_OF,
    )
    found = schedule_laminate(laid(*ids), KINDS, *MADE_OF)
    assert found.bending_stiffness_x_Nmm == approx(expected.bending_stiffness_x_Nmm)
    assert found.thickness_mm == approx(laid(*ids).thickness_mm)
    assert found.mass_kg_m2 == approx(expected.mass_kg_m2)


@given(st.floats(0.2, 50), st.floats(3000, 200000))
def test_thickness_for_bending_undoes_bending_stiffness(thickness: float, modulus: float) -> None:
    assert thickness_for_bending_mm(bending_stiffness_Nmm(thickness, modulus), modulus) == approx(thickness)


@settings(max_examples=40)
@given(IDS)
def test_a_symmetric_schedule_stays_flat(ids: list[str]) -> None:
    assert warped(*ids, *reversed(ids)).rise_mm == approx(0, abs=1e-9)


@settings(max_examples=40)
@given(IDS)
def test_turned_over_it_stands_off_on_the_other_side(ids: list[str]) -> None:
    one, other = warped(*ids), warped(*reversed(ids))
    assert one.rise_mm == approx(other.rise_mm, abs=1e-9)
    if one.rise_mm > 1e-6:
        assert {one.stands_off, other.stands_off} == {"first_ply", "last_ply"}


def test_mat_and_cloth_arch_like_a_strip_of_two_layers() -> None:
    """Timoshenko's strip of two layers, Journal of the Optical Society of America 11 (1925) 233 (from memory)."""
    found = warped("mat", "cloth")
    mat, cloth = (schedule_laminate(laid(name), KINDS, *MADE_OF) for name in ("mat", "cloth"))
    shrunk = [
        0.006 * (1 - volume) * 3300 / laminate.modulus_x_MPa
        for volume, laminate in ((0.1673, mat), (0.3020, cloth))
    ]
    m, n = cloth.thickness_mm / mat.thickness_mm, cloth.modulus_x_MPa / mat.modulus_x_MPa
    curvature = (
        6 * (shrunk[0] - shrunk[1]) * (1 + m) ** 2
        / ((mat.thickness_mm + cloth.thickness_mm) * (3 * (1 + m) ** 2 + (1 + m * n) * (m * m + 1 / (m * n))))
    )
    assert found.rise_mm == approx(curvature * 100**2 / 8, rel=0.01)
    assert found.stands_off == "last_ply"  # the mat shrinks more, so its side is the hollow one


def test_a_resin_rich_face_pulls_itself_hollow() -> None:
    assert warped("mat", "tissue").stands_off == "first_ply"


def test_rise_grows_with_the_shrinkage_and_the_square_of_the_span() -> None:
    one = warped("mat", "cloth")
    assert warped("mat", "cloth", shrinkage=1.2).rise_mm == approx(2 * one.rise_mm)
    assert warped("mat", "cloth", span_mm=200).rise_mm == approx(4 * one.rise_mm)
    assert warped("mat", "cloth", shrinkage=0).stands_off == "neither"


@pytest.mark.parametrize("missing", ["architecture", "areal_mass_g_m2", "glass_fraction"])
def test_a_property_that_is_missing_is_named(missing: str) -> None:
    kinds = {"mat": {name: value for name, value in KINDS["mat"].items() if name != missing}}
    with pytest.raises(MissingProperty, match=missing):
        schedule_laminate(laid("mat"), kinds, *MADE_OF)
    with pytest.raises(MissingProperty, match="no properties"):
        schedule_laminate(laid("mat"), {}, *MADE_OF)
