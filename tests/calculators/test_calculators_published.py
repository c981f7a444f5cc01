"""Computations against numbers from outside, each beside where it comes from.

`memory` marks a value recalled and not looked up; `computed` one that follows from arithmetic alone.
"""

import math

import CoolProp.CoolProp
import pint
import psychrolib
import pytest
from pytest import approx

from advisor.calculators.adhesive import adhesive_needed_mL, bead_volume_mL
from advisor.calculators.catalyst import catalyst_drops, catalyst_mass_g, catalyst_volume_mL
from advisor.calculators.climate import dew_point_C, dew_point_margin_K
from advisor.calculators.cure import activation_energy_for_doubling_kJ_mol, working_time_min
from advisor.calculators.exposure import styrene_released_g
from advisor.calculators.laminate import (
    fibre_volume_fraction,
    laminate_density_kg_m3,
    ply_thickness_mm,
    resin_to_glass_ratio,
)
from advisor.calculators.movement import bond_line_shear_strain_percent, thermal_movement_mm
from advisor.calculators.packs import least_waste_packs
from advisor.calculators.patches import taper_length_mm
from advisor.calculators.resin import coat_mass_kg, resin_needed_kg

GLASS_KG_M3, RESIN_KG_M3 = 2560, 1200
UNIT: pint.UnitRegistry[float] = pint.UnitRegistry()

# ISO 12215-5 ply thickness formula, annex on laminate properties: memory, and equal to the rule of mixtures.
ISO_12215_5_PLIES = [(450, 0.30, 1.0508), (600, 0.30, 1.401), (600, 0.48, 0.7760)]


@pytest.mark.parametrize(("areal_mass_g_m2", "glass_fraction", "thickness_mm"), ISO_12215_5_PLIES)
def test_ply_thickness_of_iso_12215_5(areal_mass_g_m2: float, glass_fraction: float, thickness_mm: float) -> None:
    ply_mm = ply_thickness_mm(areal_mass_g_m2, glass_fraction, GLASS_KG_M3, RESIN_KG_M3)
    assert ply_mm == approx(thickness_mm, abs=0.001)
    assert ply_mm == approx(areal_mass_g_m2 / 1000 / 3.072 * (2.56 / glass_fraction - 1.36), rel=1e-12)


def test_layer_thickness_of_bs_4994() -> None:
    # BS 4994:1987, as quoted in a worked design sheet: mm per kg/m2 of mat at 33 % and of roving
    # at 45 % glass.
    assert ply_thickness_mm(1000, 0.33, GLASS_KG_M3, RESIN_KG_M3) == approx(2.24, rel=0.13)
    assert ply_thickness_mm(1000, 0.45, GLASS_KG_M3, RESIN_KG_M3) == approx(1.25, rel=0.13)
    assert ply_thickness_mm(450, 0.33, GLASS_KG_M3, RESIN_KG_M3) == approx(1.01, rel=0.10)


@pytest.mark.parametrize(
    ("glass_fraction", "density_kg_m3"), [(0.30, 1427.5), (0.48, 1610.7), (0.50, 1634), (0.55, 1695)]
)
def test_laminate_density(glass_fraction: float, density_kg_m3: float) -> None:
    # computed, rule of mixtures
    density = laminate_density_kg_m3(glass_fraction, GLASS_KG_M3, RESIN_KG_M3)
    assert density == approx(density_kg_m3, abs=1)


def test_laminate_density_of_a_materials_database() -> None:
    # Chopped-glass polyester laminate 1.4 g/cm3: a materials database page, abstracted from Rapra
    # plastics data.
    assert laminate_density_kg_m3(0.30, GLASS_KG_M3, RESIN_KG_M3) == approx(1400, rel=0.03)


@pytest.mark.parametrize(
    ("glass_fraction", "by_volume"), [(0.30, 0.1673), (0.45, 0.2772), (0.48, 0.3020), (0.50, 0.3191)]
)
def test_fibre_volume_fraction(glass_fraction: float, by_volume: float) -> None:
    # memory, reproduced by arithmetic
    assert fibre_volume_fraction(glass_fraction, GLASS_KG_M3, RESIN_KG_M3) == approx(by_volume, abs=0.0005)


def test_worked_example_of_kaw() -> None:
    # Kaw, Mechanics of Composite Materials, 2nd ed. 2006, Example 3.1: memory. Vf 0.7 gives Wf
    # 0.8294, 2110 kg/m3.
    assert fibre_volume_fraction(0.8294, 2500, 1200) == approx(0.7, abs=0.0005)
    assert laminate_density_kg_m3(0.8294, 2500, 1200) == approx(2110, abs=1)


def test_resin_to_glass_ratio() -> None:
    # "30 % glass" mat is 2.5:1 and "45 % glass" roving 1.25:1 in Practical Action, Fibreglass boat building.
    assert 2.3 <= resin_to_glass_ratio(0.30) <= 2.6
    assert 1.0 <= resin_to_glass_ratio(0.45) <= 1.3
    # BS 4994:1987 design sheet: mat 33 %, roving 45 %.
    assert resin_to_glass_ratio(0.33) == approx(2.03, abs=0.01)
    assert resin_to_glass_ratio(0.45) == approx(1.22, abs=0.01)


def test_cloth_patch_takes_its_own_weight_of_resin() -> None:
    # FAA AC 43.13-1B (1998), paragraph 3-3a(2): resin of the weight of the patch gives 50 %.
    assert resin_needed_kg(0.20, resin_to_glass_ratio(0.50), 0) == approx(0.20, rel=0.01)


def test_areal_masses_sold_by_the_ounce_give_thickness() -> None:
    # pint converts independently: "1.5 oz" mat is nine times as heavy, and as thick, as "1.5 oz" cloth.
    mat = UNIT.Quantity(1.5, "oz/ft**2").to("g/m**2").magnitude
    cloth = UNIT.Quantity(1.5, "oz/yard**2").to("g/m**2").magnitude
    thickness_mm = [ply_thickness_mm(areal, 0.40, GLASS_KG_M3, RESIN_KG_M3) for areal in (mat, cloth)]
    assert thickness_mm[0] / thickness_mm[1] == approx(9, abs=1e-9)


def test_units_of_thickness_by_dimensional_analysis() -> None:
    areal, glass, resin = (
        UNIT.Quantity(450, "g/m**2"),
        UNIT.Quantity(2560, "kg/m**3"),
        UNIT.Quantity(1200, "kg/m**3"),
    )
    thickness = (areal / glass + areal * (1 / 0.3 - 1) / resin).to("mm").magnitude
    assert ply_thickness_mm(450, 0.3, 2560, 1200) == approx(thickness, rel=1e-12)


def test_gel_coat_film() -> None:
    # 12 mil where fully removed: ACMA, Composites Manufacturing, July 2015, repair best practices.
    # 0.30 L on 1 m2.
    film_mm = UNIT.Quantity(12, "thou").to("mm").magnitude
    litres = coat_mass_kg(1.0, film_mm, 1000)
    assert litres == approx(0.30, abs=0.01)


def test_cartridges() -> None:
    # computed: 150 mL and 15 % more is 0.431 of a 400 mL cartridge.
    needed_mL = adhesive_needed_mL(bead_volume_mL(2000, 25, 3), 0.15, 0, 0, 0)
    assert needed_mL / 400 == approx(0.431, abs=0.001)
    assert least_waste_packs(needed_mL, [400]).counts == ((400, 1),)


def test_catalyst() -> None:
    # computed; density 1.10 to 1.17 g/mL: memory
    mass_g = catalyst_mass_g(2.10, 1.5)
    assert mass_g == approx(31.5)
    assert catalyst_volume_mL(111, 1110) == approx(100)
    assert catalyst_volume_mL(mass_g, 1110) == approx(28.4, abs=0.1)
    assert catalyst_volume_mL(mass_g, 1170) == approx(26.9, abs=0.1)


def test_four_drops_are_one_percent_of_an_ounce() -> None:
    # A do-it-yourself page: "four drops = 1 % of 1 ounce", which implies drops of 0.064 to 0.07 mL.
    volume_mL = catalyst_volume_mL(catalyst_mass_g(0.02835, 1.0), 1110)
    assert {catalyst_drops(volume_mL, 1 / drop_mL) for drop_mL in (0.064, 0.07)} == {4}


def test_doubling_for_ten_degrees() -> None:
    # computed; that the rate doubles in 10 K is common-practice.
    energy = activation_energy_for_doubling_kJ_mol(20, 30)
    assert energy == approx(51.2, abs=0.05)
    assert working_time_min(20, 30, 20, energy) == approx(40, rel=1e-9)


def test_doubling_is_not_the_same_at_every_temperature() -> None:
    # With the energy of 20 to 30 °C the time at 10 °C is 2.10 times that at 20 °C; exactly 2 needs
    # its own energy.
    assert working_time_min(20, 20, 10, activation_energy_for_doubling_kJ_mol(20, 30)) == approx(42.0, abs=0.1)
    assert working_time_min(20, 20, 10, activation_energy_for_doubling_kJ_mol(10, 20)) == approx(40, rel=1e-9)


@pytest.mark.parametrize(("styrene_percent", "released_g"), [(35, 45.6), (30, 32.1), (40, 61.8)])
def test_styrene_of_40_cfr_63_vvvv(styrene_percent: float, released_g: float) -> None:
    # 40 CFR Part 63 Subpart VVVV, Table 3: production resin, non-atomised, kg HAP per Mg of resin.
    assert styrene_released_g(1.0, styrene_percent) == approx(released_g, abs=0.1)


def test_styrene_agrees_with_40_cfr_63_wwww() -> None:
    # Subpart WWWW, Table 1, manual application: memory. 2000 lb/ton is 1000 g/kg.
    other_g = (0.286 * 0.35 - 0.0529) * 1000
    assert styrene_released_g(1.0, 35) == approx(other_g, rel=0.05)
    # COMAR 26.11.19.26-1 limit for filled production resin, 46 kg/Mg, pairs with 35 % styrene.
    assert styrene_released_g(1.0, 35) == approx(46, abs=1)


@pytest.mark.parametrize(
    ("air_C", "humidity_percent", "dew_C"),
    [(20, 50, 9.272), (16, 71, 10.75), (25, 60, 16.70), (15, 85, 12.50), (30, 80, 26.17), (10, 90, 8.44)],
)
def test_dew_point_of_two_other_programs(air_C: float, humidity_percent: float, dew_C: float) -> None:
    psychrolib.SetUnitSystem(psychrolib.SI)
    assert dew_point_C(air_C, humidity_percent) == approx(dew_C, abs=0.05)
    assert psychrolib.GetTDewPointFromRelHum(air_C, humidity_percent / 100) == approx(dew_C, abs=0.01)
    kelvin = CoolProp.CoolProp.HAPropsSI("D", "T", air_C + 273.15, "P", 101325, "R", humidity_percent / 100)
    assert kelvin - 273.15 == approx(dew_point_C(air_C, humidity_percent), abs=0.05)


def test_dew_point_keeps_its_stated_accuracy_above_freezing() -> None:
    psychrolib.SetUnitSystem(psychrolib.SI)
    for air_C in range(0, 41, 4):
        for humidity_percent in range(1, 101, 3):
            dew_C = dew_point_C(air_C, humidity_percent)
            if dew_C > 0.1:
                other_C = psychrolib.GetTDewPointFromRelHum(air_C, humidity_percent / 100)
                assert dew_C == approx(other_C, abs=0.05)


def test_surface_of_the_paint_example_is_too_cold() -> None:
    # A worked example on ambient application conditions: 16 °C, 71 %, surface 13 °C; its chart reads 11 °C.
    dew_C = dew_point_C(16, 71)
    assert round(dew_C) == 11
    assert dew_point_margin_K(13, dew_C) == approx(2.25, abs=0.03)


def test_tapers() -> None:
    # computed: 3 mm at 1:12 and 1:20; FAA AC 43.13-1B paragraph 3-3a(1): about 50 times a 1 mm face ply.
    assert taper_length_mm(3, 12) == approx(36)
    assert taper_length_mm(3, 20) == approx(60)
    assert taper_length_mm(1, 50) == approx(50)


def test_movement_on_aluminium() -> None:
    # computed: difference 7e-6/K, 50 K, 500 mm, soft bond line 3 mm gives a strain of 0.0292.
    movement_mm = thermal_movement_mm(30, 23, 50, 500)
    assert bond_line_shear_strain_percent(movement_mm, 3) == approx(2.92, abs=0.01)


def test_long_soft_joint_against_shear_lag_theory() -> None:
    # computed: a layer of G = 1 MPa between 7000 MPa x 3 mm and 70000 MPa x 2 mm peaks at 0.02154
    # MPa, L = 500.
    # Taking the parts as rigid must be the upper bound, because real parts give way.
    stiffness = 1 / (7000 * 3) + 1 / (70000 * 2)
    decay_per_mm = math.sqrt(1 / 3 * stiffness)
    peak_MPa = 7e-6 * 50 / 3 / decay_per_mm * math.tanh(decay_per_mm * 250)
    assert peak_MPa == approx(0.02154, abs=1e-5)
    assert bond_line_shear_strain_percent(thermal_movement_mm(30, 23, 50, 500), 3) / 100 > peak_MPa
