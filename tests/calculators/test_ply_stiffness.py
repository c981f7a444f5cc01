"""Moduli and strengths of a ply against standards, handbooks and the bounds of mechanics."""

from typing import Any, cast

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from advisor.calculators import OutOfRange
from advisor.calculators.laminate_theory import laminate_stiffness
from advisor.calculators.micromechanics import (
    Architecture,
    UnknownArchitecture,
    halpin_tsai_stiffness,
    krenchel_modulus_MPa,
)
from advisor.calculators.ply_stiffness import PlyStiffness, ply_stiffness
from advisor.calculators.ply_strength import laminate_design_factor_ratio, ply_strength

ARCHITECTURES = st.sampled_from(["mat", "woven", "biaxial", "unidirectional"])
VOLUMES = st.floats(0.0, 0.8)
FIBRE_MODULI = st.floats(20000, 200000)
RESIN_MODULI = st.floats(200, 9000)


def ply(architecture: str, glass_fraction: float, **changed: float) -> PlyStiffness:
    usual: dict[str, Any] = {
        "glass_density_kg_m3": 2560,
        "resin_density_kg_m3": 1200,
        "fibre_modulus_MPa": 72000,
        "resin_modulus_MPa": 3300,
        "fibre_poisson_ratio": 0.22,
        "resin_poisson_ratio": 0.35,
    }
    return ply_stiffness(cast(Architecture, architecture), glass_fraction, **{**usual, **changed})


@pytest.mark.parametrize(
    ("architecture", "glass_fraction", "modulus_MPa"),
    [("mat", 0.30, 6400), ("woven", 0.48, 13240), ("woven", 0.5, 14000)],
)
def test_modulus_of_iso_12215_5_2008_annex_c_from_memory(
    architecture: str, glass_fraction: float, modulus_MPa: float
) -> None:
    found = ply(architecture, glass_fraction)
    assert [found.modulus_1_MPa, found.modulus_2_MPa] == approx([modulus_MPa, modulus_MPa])


def test_modulus_agrees_with_a_class_society_alternative_from_memory() -> None:
    """E = (37 psi - 4.75) GPa, within 1 %."""
    assert ply("mat", 0.30).modulus_1_MPa == approx(37000 * 0.30 - 4750, rel=0.01)


def test_shear_modulus_of_woven_is_the_standards_from_memory() -> None:
    assert ply("woven", 0.48).shear_modulus_MPa == approx(3056)


def test_mat_is_the_same_in_every_direction() -> None:
    found = ply("mat", 0.33)
    assert found.shear_modulus_MPa == approx(found.modulus_1_MPa / (2 * (1 + found.poisson_ratio)))
    assert found.poisson_ratio == 0.30  # BS 4994:1987, worked design sheet


@pytest.mark.parametrize(("architecture", "fraction", "modulus_MPa"), [("mat", 0.30, 6250), ("woven", 0.45, 12800)])
def test_modulus_within_a_tenth_of_bs_4994_1987_worked_sheet(
    architecture: str, fraction: float, modulus_MPa: float
) -> None:
    assert ply(architecture, fraction).modulus_1_MPa == approx(modulus_MPa, rel=0.10)


def test_rule_minimum_of_the_iranian_classification_society_frp_ships_304_1() -> None:
    """Mat and roving at about 31 % glass: tension 98, modulus 6860, bending 150 N/mm2, within 15 %."""
    assert ply("mat", 0.31).modulus_1_MPa == approx(6860, rel=0.15)
    strength = ply_strength("mat", 0.31)
    assert strength.tensile_strength_MPa == approx(98, rel=0.15)
    assert strength.flexural_strength_MPa == approx(150, rel=0.15)


def test_published_modulus_lies_between_the_standard_and_krenchel() -> None:
    """Chopped glass in polyester, 7 GPa in bending: Rapra plastics database, as abstracted in public."""
    found = ply("mat", 0.30)
    assert found.modulus_1_MPa < 7000 < found.krenchel_modulus_MPa


@pytest.mark.parametrize(
    ("architecture", "fraction", "krenchel_GPa", "above"), [("mat", 0.30, 7.265, 13.5), ("woven", 0.48, 13.18, -0.5)]
)
def test_krenchel_recomputed_from_memory(architecture: str, fraction: float, krenchel_GPa: float, above: float) -> None:
    found = ply(architecture, fraction)
    assert found.krenchel_modulus_MPa / 1000 == approx(krenchel_GPa, abs=0.01)
    assert found.krenchel_above_percent == approx(above, abs=0.1)


def test_kaw_2006_examples_3_3_to_3_8_glass_epoxy_recomputed() -> None:
    """Vf 0.7, Ef 85 GPa, Em 3.4 GPa, Gf 35.42, Gm 1.308."""
    found = halpin_tsai_stiffness(0.7, 85000, 3400, 0.2, 0.3)
    assert found.modulus_1_MPa == approx(60520, rel=1e-4)
    assert found.lowest_modulus_2_MPa == approx(10370, rel=1e-3)
    assert found.modulus_2_MPa == approx(20200, rel=1e-3)
    assert found.lowest_shear_modulus_MPa == approx(4014, rel=1e-3)
    assert found.shear_modulus_MPa == approx(6169, rel=1e-3)
    assert found.poisson_ratio == approx(0.230)


@pytest.mark.parametrize("architecture", ["biaxial", "unidirectional"])
def test_class_society_and_halpin_tsai_agree_within_a_fifth(architecture: str) -> None:
    found = ply(architecture, 0.52)
    assert abs(found.halpin_tsai_above_percent) < 20 and abs(found.krenchel_above_percent) < 20


def test_class_society_across_the_fibres_lies_between_series_and_halpin_tsai() -> None:
    found = ply("unidirectional", 0.55)
    checks = halpin_tsai_stiffness(found.fibre_volume_fraction, 72000, 3300, 0.22, 0.35)
    assert checks.lowest_modulus_2_MPa < found.modulus_2_MPa < checks.modulus_2_MPa


def test_unidirectional_of_bureau_veritas_nr_546_by_hand_from_memory() -> None:
    """Vf 0.36424: 3760.7 x 1.11277/(0.56778 + 0.01902) x 0.8; 0.9 x 1222.2 x 1.33526/0.66474; 0.9 x 0.30265."""
    found = ply("unidirectional", 0.55)
    assert found.modulus_2_MPa == approx(3760.7 * 1.11277 / (0.56778 + 0.01902) * 0.8, rel=5e-4)
    assert found.shear_modulus_MPa == approx(0.9 * 1222.2 * 1.33526 / 0.66474, rel=5e-4)
    assert found.poisson_ratio == approx(0.9 * 0.30265, rel=5e-4)


def test_biaxial_is_half_of_it_each_way() -> None:
    """Without the small Poisson terms, the mean of along and across; a laminate of 0 and 90 degrees says the same."""
    one_way, both = ply("unidirectional", 0.5), ply("biaxial", 0.5)
    mean = (one_way.modulus_1_MPa + one_way.modulus_2_MPa) / 2
    moduli = ([one_way.modulus_1_MPa], [one_way.modulus_2_MPa], [one_way.shear_modulus_MPa], [one_way.poisson_ratio])
    crossed = laminate_stiffness([1], *moduli, [0, 90, 90, 0])
    assert both.modulus_1_MPa == approx(mean, rel=0.02) and both.modulus_1_MPa == approx(crossed.modulus_x_MPa)
    assert both.poisson_ratio == approx(crossed.poisson_xy_ratio)
    assert both.shear_modulus_MPa == approx(crossed.shear_modulus_xy_MPa)


def test_veil_counts_as_bare_resin() -> None:
    assert ply("mat", 0.12).modulus_1_MPa == 3300


@given(ARCHITECTURES, st.floats(0.25, 0.59))
def test_more_glass_is_never_softer(architecture: str, glass_fraction: float) -> None:
    less, more = ply(architecture, glass_fraction), ply(architecture, glass_fraction + 0.01)
    assert more.modulus_1_MPa > less.modulus_1_MPa and more.krenchel_modulus_MPa > less.krenchel_modulus_MPa


@given(VOLUMES, FIBRE_MODULI, RESIN_MODULI, st.floats(0, 0.4), st.floats(0, 0.45))
def test_halpin_tsai_lies_between_series_and_parallel(
    volume: float, fibre: float, resin: float, fibre_poisson: float, resin_poisson: float
) -> None:
    found = halpin_tsai_stiffness(volume, fibre, resin, fibre_poisson, resin_poisson)
    slack = 1 + 1e-9
    assert found.lowest_modulus_2_MPa <= found.modulus_2_MPa * slack
    assert found.modulus_2_MPa <= found.modulus_1_MPa * slack
    assert found.lowest_shear_modulus_MPa <= found.shear_modulus_MPa * slack


@given(FIBRE_MODULI, RESIN_MODULI)
def test_without_fibres_there_is_only_resin(fibre: float, resin: float) -> None:
    found = halpin_tsai_stiffness(0, fibre, resin, 0.2, 0.35)
    assert [found.modulus_1_MPa, found.modulus_2_MPa] == approx([resin, resin])
    assert found.shear_modulus_MPa == approx(resin / 2.7)
    assert krenchel_modulus_MPa("mat", 0, fibre, resin) == approx(resin)


@given(VOLUMES, st.floats(0.5, 2.0))
def test_moduli_scale_with_those_of_fibre_and_resin(volume: float, factor: float) -> None:
    one = halpin_tsai_stiffness(volume, 72000, 3300, 0.2, 0.35)
    scaled = halpin_tsai_stiffness(volume, 72000 * factor, 3300 * factor, 0.2, 0.35)
    assert scaled.modulus_2_MPa == approx(factor * one.modulus_2_MPa)
    assert scaled.shear_modulus_MPa == approx(factor * one.shear_modulus_MPa)


@pytest.mark.parametrize(
    ("glass_fraction", "tension", "bending", "compression", "between"),
    [(0.30, 85.0, 152.0, 117, 17.25), (0.48, 182.9, 222.5, 144, 14.1)],
)
def test_strengths_of_iso_12215_5_2008_annex_c_from_memory(
    glass_fraction: float, tension: float, bending: float, compression: float, between: float
) -> None:
    found = ply_strength("woven" if glass_fraction > 0.4 else "mat", glass_fraction)
    assert found.tensile_strength_MPa == approx(tension, abs=0.05)
    assert found.flexural_strength_MPa == approx(bending, abs=0.05)
    assert found.compressive_strength_MPa == approx(compression)
    assert found.interlaminar_shear_strength_MPa == approx(between)


def test_tensile_strength_agrees_with_a_class_society_alternative_from_memory() -> None:
    assert ply_strength("mat", 0.30).tensile_strength_MPa == approx(1278 * 0.09 - 510 * 0.30 + 123, rel=0.01)


def test_design_factor_of_bs_4994_1987_worked_sheet() -> None:
    """K 11.144 with k4 rounded to 1.27; 200 and 250 N/mm per kg/m2 become 17.95 and 22.43."""
    factor = laminate_design_factor_ratio(1.5, 1.3, 100, 60, 3650, 1.5)
    assert factor == approx(11.144, rel=2e-3)
    assert [200 / factor, 250 / factor] == approx([17.95, 22.43], rel=2e-3)


def test_design_factor_is_never_below_eight_and_grows_with_heat() -> None:
    assert laminate_design_factor_ratio(1, 1, 120, 20, 1, 1) == 8
    cool, warm = (laminate_design_factor_ratio(1.5, 1.3, 80, hot, 1000, 1.5) for hot in (40, 60))
    assert warm == approx(1.25 * cool)


def test_service_within_twenty_kelvin_of_softening_is_refused() -> None:
    with pytest.raises(OutOfRange, match="`service_temperature_C` is 50 °C, must be between -40 and 45 °C"):
        laminate_design_factor_ratio(1.5, 1.3, 65, 50, 1000, 1.5)


def test_an_architecture_without_a_formula_is_refused_by_name() -> None:
    with pytest.raises(UnknownArchitecture, match="`felt`, must be one of mat, woven, biaxial, unidirectional"):
        ply("felt", 0.3)
    with pytest.raises(UnknownArchitecture, match="`biaxial`, must be one of mat, woven$"):
        ply_strength(cast(Any, "biaxial"), 0.5)
