"""Every factor equals that of pint, a units library written by others."""

from __future__ import annotations

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.units import DIMENSIONS, convert, parse_quantity, same_dimension

REGISTRY: pint.UnitRegistry[float] = pint.UnitRegistry()
IN_PINT = {
    "mm": "mm", "um": "um", "cm": "cm", "m": "m", "km": "km", "in": "inch", "ft": "foot", "yd": "yard",
    "mil": "thou", "mm2": "mm**2", "cm2": "cm**2", "m2": "m**2", "in2": "inch**2", "ft2": "foot**2",
    "yd2": "yard**2", "mL": "mL", "L": "L", "cm3": "cm**3", "m3": "m**3", "fl oz": "fluid_ounce",
    "pt": "pint", "qt": "quart", "gal": "gallon", "in3": "inch**3", "ft3": "foot**3",
    "imp fl oz": "imperial_fluid_ounce", "imp pt": "imperial_pint", "imp qt": "imperial_quart",
    "imp gal": "imperial_gallon", "g": "g", "mg": "mg", "kg": "kg", "oz": "ounce", "lb": "pound",
    "m2/L": "m**2/L", "ft2/gal": "foot**2/gallon",
    "g/m2": "g/m**2", "kg/m2": "kg/m**2", "oz/ft2": "ounce/foot**2", "oz/yd2": "ounce/yard**2",
    "C": "degC", "F": "degF", "kelvin": "kelvin", "K": "kelvin", "delta_C": "delta_degC",
    "delta_F": "delta_degF", "min": "minute", "s": "second", "h": "hour", "d": "day", "week": "week",
    "N": "newton", "kN": "kN", "kgf": "kilogram_force", "lbf": "pound_force", "N/mm": "N/mm", "N/m": "N/m",
    "kN/m": "kN/m", "lbf/in": "pound_force/inch", "MPa": "MPa", "kPa": "kPa", "GPa": "GPa", "psi": "psi",
    "ksi": "ksi", "kg/m3": "kg/m**3", "g/cm3": "g/cm**3", "g/mL": "g/mL", "kg/L": "kg/L",
    "lb/ft3": "pound/foot**3", "lb/gal": "pound/gallon", "fraction": "dimensionless", "percent": "percent",
    "g/kg": "g/kg", "lb/short ton": "pound/short_ton", "kg/min": "kg/minute", "g/min": "g/minute",
    "lb/min": "pound/minute", "m/min": "m/minute", "m/s": "m/s", "ft/min": "foot/minute",
    "um/m/K": "um/m/kelvin", "1/K": "1/kelvin", "1e-6/F": "1e-6/delta_degF", "1/F": "1/delta_degF",
    "kJ/mol": "kJ/mol", "J/mol": "J/mol", "kcal/mol": "kcal/mol", "1/mL": "1/mL", "count": "dimensionless",
    "m3/h": "m**3/hour", "L/s": "L/s", "cfm": "foot**3/minute",
    "Pa": "Pa", "mg/m3": "mg/m**3", "g/m3": "g/m**3", "ppm": "ppm", "g/mol": "g/mol", "1/h": "1/hour", "g/h": "g/hour",
    "J": "J", "kJ": "kJ", "kJ/kg": "kJ/kg", "J/g": "J/g", "kJ/m2": "kJ/m**2", "J/m2": "J/m**2",
    "J/kg/K": "J/kg/kelvin", "W/m/K": "W/m/kelvin", "W/m2/K": "W/m**2/kelvin", "W/m2": "W/m**2", "mm4": "mm**4",
    "1/mm": "1/mm", "1/m": "1/m", "degrees": "degree",
}
PAIRS = [(one.symbol, other.symbol)
         for dimension in DIMENSIONS for one in dimension.units for other in dimension.units]


def by_pint(value: float, one: str, other: str) -> float:
    if one in ("C", "F", "kelvin"):
        return float(REGISTRY.Quantity(value, IN_PINT[one]).to(IN_PINT[other]).magnitude)
    return value * float((REGISTRY(IN_PINT[one]) / REGISTRY(IN_PINT[other])).to("dimensionless").magnitude)


def test_the_comparison_covers_every_unit() -> None:
    assert set(IN_PINT) == {unit.symbol for dimension in DIMENSIONS for unit in dimension.units}


@given(value=st.floats(-1e6, 1e6), pair=st.sampled_from(PAIRS))
def test_conversion_agrees(value: float, pair: tuple[str, str]) -> None:
    assert convert(value, *pair) == pytest.approx(by_pint(value, *pair), rel=1e-9, abs=1e-9)


@pytest.mark.parametrize(("one", "other"), PAIRS)
def test_conversion_of_one_agrees_and_comes_back(one: str, other: str) -> None:
    assert convert(1.0, one, other) == pytest.approx(by_pint(1.0, one, other), rel=1e-12)
    assert convert(convert(7.5, one, other), other, one) == pytest.approx(7.5, rel=1e-12)
    assert same_dimension(one, other)


@given(sixteenths=st.integers(0, 16 * 100))
def test_typed_fractions_of_an_inch_are_exact(sixteenths: int) -> None:
    assert parse_quantity(f"{sixteenths}/16 in", "mm").value == sixteenths * 127 / 80
