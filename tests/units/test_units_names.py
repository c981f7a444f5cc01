"""Units named in the vocabulary and at the end of argument names."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from advisor.errors import InputError
from advisor.units import DIMENSIONS, convert, known_unit, parse_quantity, same_dimension, unit_of_name
from advisor.units.spelling import keys_of

ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize(("argument", "unit"), [
    ("thickness_mm", "mm"), ("areal_mass_g_m2", "g/m2"), ("areal_mass_kg_m2", "kg/m2"),
    ("activation_energy_kJ_mol", "kJ/mol"), ("expansion_um_m_K", "um/m/K"),
    ("relative_humidity_percent", "percent"), ("glass_fraction", "fraction"), ("drops_per_mL", "1/mL"),
    ("rate_kg_min", "kg/min"), ("rate_m_min", "m/min"), ("density_kg_m3", "kg/m3"), ("area_m2", "m2"),
    ("area_mm2", "mm2"), ("volume_mL", "mL"), ("volume_L", "L"), ("air_C", "C"), ("rise_K", "K"),
    ("gel_time_min", "min"), ("cure_h", "h"), ("modulus_MPa", "MPa"), ("load_N", "N"),
    ("line_load_N_mm", "N/mm"), ("flow_m3_h", "m3/h"), ("ply_count", "count"), ("title", None), ("mm", None),
    ("", None), ("name_mpa", None), ("comm", None), ("air_c", None),
])
def test_unit_of_a_name(argument: str, unit: str | None) -> None:
    assert unit_of_name(argument) == unit


@pytest.mark.parametrize(("text", "symbol"), [
    ("mm", "mm"), ("inches", "in"), ("gsm", "g/m2"), ("oz/sq yd", "oz/yd2"), ("C", "C"), ("K", "K"),
    ("°F", "F"), ("m", "m"), ("parsec", None), ("", None), ("12", None), ("?", None), ("x" * 10000, None),
])
def test_known_units(text: str, symbol: str | None) -> None:
    assert known_unit(text) == symbol


@pytest.mark.parametrize("symbol", [unit.symbol for dimension in DIMENSIONS for unit in dimension.units])
def test_every_symbol_is_known_as_itself(symbol: str) -> None:
    assert known_unit(symbol) == symbol


def test_no_symbol_is_used_twice_and_no_spelling_means_two_units_of_a_dimension() -> None:
    symbols = [unit.symbol for dimension in DIMENSIONS for unit in dimension.units]
    assert len(symbols) == len(set(symbols))
    for dimension in DIMENSIONS:
        spelled = [key for unit in dimension.units for key in unit.keys]
        assert len(spelled) == len(set(spelled))
        assert "?" not in "".join(keys_of(dimension))


@pytest.mark.parametrize("dimension", DIMENSIONS, ids=lambda dimension: dimension.name)
def test_the_examples_offered_are_understood(dimension: object) -> None:
    found = next(one for one in DIMENSIONS if one is dimension)
    for example in found.examples:
        assert parse_quantity(example, found.units[0].symbol).value > 0


def test_same_dimension() -> None:
    assert same_dimension("mm", "ft")
    assert same_dimension("fraction", "percent")
    assert not same_dimension("g/m2", "g")
    assert not same_dimension("C", "K")


def test_converting_between_kinds_is_refused() -> None:
    with pytest.raises(InputError, match="`kg` measures a mass, `mm` a length"):
        convert(1, "kg", "mm")


def test_nothing_outside_the_standard_library_is_imported() -> None:
    code = f"import sys; sys.path.insert(0, {str(ROOT)!r}); import advisor.units, advisor.errors"
    subprocess.run([sys.executable, "-I", "-S", "-c", code], check=True, timeout=30)
