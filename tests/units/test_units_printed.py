"""Quantities as printed, and read back."""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.units import DIMENSIONS, Systems, convert, format_quantity, format_range, parse_quantity

PRINTED: list[tuple[float, str, Systems, str]] = [
    (12, "mm", "metric", "12 mm"), (999, "mm", "metric", "999 mm"), (2400, "mm", "metric", "2.4 m"),
    (2.4, "m", "metric", "2.4 m"), (0.3, "mm", "metric", "0.3 mm"), (12.7, "mm", "us", "1/2 in"),
    (38.1, "mm", "us", "1 1/2 in"), (1.016, "mm", "us", "0.04 in"), (0.3, "mm", "us", "0.012 in"),
    (0.1, "mm", "us", "0.0039 in"), (10, "mm", "us", "3/8 in"), (1028.7, "mm", "us", "3 ft 4 1/2 in"),
    (304.8, "mm", "us", "12 in"), (304, "mm", "us", "12 in"), (609.6, "mm", "us", "2 ft"),
    (12.7, "mm", "both", "12.7 mm (1/2 in)"), (6, "mm", "both", "6 mm (1/4 in)"),
    (7, "mm", "us", "0.276 in"), (1.3, "mm", "us", "0.051 in"),
    (0, "mm", "both", "0 mm (0 in)"), (10000, "mm", "us", "32 ft 10 in"), (-38.1, "mm", "us", "-1 1/2 in"),
    (3.175, "mm", "us", "1/8 in"), (20, "C", "both", "20 °C (68 °F)"), (68, "F", "metric", "20 °C"),
    (-5, "C", "both", "-5 °C (23 °F)"), (17.77, "C", "metric", "17.8 °C"),
    (38.59375, "C", "us", "101 °F"), (-0.01, "C", "metric", "0 °C"),
    (10, "K", "both", "10 °C (18 °F)"), (450, "g", "both", "450 g"), (2.9, "g", "us", "2.9 g"),
    (1.4, "mL", "us", "1.4 mL"),
    (1500, "g", "both", "1.5 kg (3.31 lb)"), (0.45, "kg", "metric", "450 g"),
    (12345, "g", "metric", "12.3 kg"), (12345678, "g", "metric", "12300 kg"), (1200, "mL", "metric", "1.2 L"),
    (310.52, "mL", "us", "10.5 US fl oz"), (3785.411784, "mL", "us", "1 US gal"),
    (1000, "mL", "us", "1.06 US qt"), (60, "m3", "both", "60 m³ (2120 ft³)"),
    (457.7, "g/m2", "both", "458 g/m² (13.5 oz/yd²)"), (1.5, "oz/ft2", "us", "1.5 oz/ft²"),
    (30, "s", "metric", "30 s"), (45, "min", "both", "45 min"), (90, "min", "metric", "1 h 30 min"),
    (60, "min", "us", "1 h"), (80.6, "min", "metric", "1 h 21 min"),
    (48, "h", "metric", "48 h"), (120, "h", "metric", "5 days"),
    (7560, "min", "metric", "5 days 6 h"), (145, "h", "metric", "6 days"),
    (217, "h", "metric", "9 days"), (1014, "h", "metric", "42 days"), (0, "min", "metric", "0 min"),
    (5, "MPa", "both", "5 MPa (725 psi)"), (85, "kPa", "both", "85 kPa (12.3 psi)"),
    (70, "GPa", "us", "10200 ksi"), (0.3, "fraction", "both", "0.3"), (1.5, "percent", "both", "1.5 %"),
    (1234, "count", "both", "1234"), (1200, "kg/m3", "both", "1200 kg/m³ (74.9 lb/ft³)"),
    (5000, "mm2", "metric", "50 cm²"), (0.5, "m2", "both", "0.5 m² (5.38 ft²)"),
    (23, "um/m/K", "both", "23 µm/m/K (12.8 µin/in/°F)"), (30, "1/mL", "both", "30 per mL"),
    (200, "m3/h", "both", "200 m³/h (118 cfm)"),
]


@pytest.mark.parametrize(("value", "unit", "system", "text"), PRINTED)
def test_printed(value: float, unit: str, system: Systems, text: str) -> None:
    assert format_quantity(value, unit, system) == text


def test_mat_may_be_printed_per_square_foot() -> None:
    assert format_quantity(457.7, "g/m2", "us", us_areal="oz/ft2") == "1.5 oz/ft²"


@pytest.mark.parametrize(("low", "likely", "high", "unit", "system", "text"), [
    (1.2, 1.4, 1.6, "kg", "metric", "1.2 to 1.6 kg (likely 1.4)"),
    (900, 1000, 1100, "g", "metric", "0.9 to 1.1 kg (likely 1)"), (1.4, 1.4, 1.4, "kg", "metric", "1.4 kg"),
    (2, 2, 2, "kg", "both", "2 kg (4.41 lb)"), (1.4001, 1.4, 1.3999, "kg", "metric", "1.4 kg"),
    (18, 20, 22, "C", "both", "18 to 22 °C (64 to 72 °F), likely 20 °C (68 °F)"),
    (20, 30, 40, "min", "both", "20 to 40 min, likely 30 min"),
    (10, 45, 90, "min", "metric", "10 min to 1 h 30 min (likely 45 min)"),
    (12.7, 19.05, 25.4, "mm", "us", "1/2 to 1 in (likely 3/4)"),
    (152.4, 304.8, 609.6, "mm", "us", "6 in to 2 ft (likely 12 in)"),
    (2, 3, 4, "count", "metric", "2 to 4 (likely 3)"),
])
def test_ranges_printed(low: float, likely: float, high: float, unit: str, system: Systems,
                        text: str) -> None:
    assert format_range(low, likely, high, unit, system) == text


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_not_finite_is_not_printed(value: float) -> None:
    with pytest.raises(ValueError, match="not a finite quantity"):
        format_quantity(value, "mm")


UNITS = [unit.symbol for dimension in DIMENSIONS for unit in dimension.units
         if dimension.name not in ("temperature", "count") and unit.symbol != "lb/short ton"]
LENGTHS = ("mm", "um", "cm", "m", "km", "in", "ft", "yd", "mil")
TIMES = ("min", "s", "h", "d", "week")


def share_moved(symbol: str, system: str) -> float:
    """How far printing may move a value: half of the third figure, or what tape and clock give."""
    if system == "us" and symbol in LENGTHS:
        return 0.0601
    return 0.101 if symbol in TIMES else 0.00501


@given(symbol=st.sampled_from(UNITS), size=st.floats(-3, 5), system=st.sampled_from(["metric", "us"]))
def test_printed_and_read_back(symbol: str, size: float, system: Systems) -> None:
    value = 10.0**size
    back = parse_quantity(format_quantity(value, symbol, system), symbol).value
    half_a_degree_apart = symbol in ("K", "delta_C") and system == "us"  # differences are told in halves of a degree F
    assert back == pytest.approx(value, rel=share_moved(symbol, system), abs=0.14 if half_a_degree_apart else None)


@given(celsius=st.floats(-200, 1000), symbol=st.sampled_from(["C", "F", "kelvin"]),
       system=st.sampled_from(["metric", "us"]))
def test_a_temperature_printed_and_read_back(celsius: float, symbol: str, system: Systems) -> None:
    """Within half of a tenth of a degree, or of the third figure where that is more; in Fahrenheit half a degree."""
    printed = format_quantity(convert(celsius, "C", symbol), symbol, system)
    thermometer = "F" if system == "us" else "kelvin" if symbol == "kelvin" else "C"
    value, back = convert(celsius, "C", thermometer), parse_quantity(printed, thermometer).value
    assert back == pytest.approx(value, rel=0.00501, abs=0.501 if thermometer == "F" != symbol else 0.0501)


@given(symbol=st.sampled_from(UNITS), value=st.floats(-1e9, 1e9),
       system=st.sampled_from(["metric", "us", "both"]))
def test_no_exponent_no_trailing_zeros_no_minus_zero(symbol: str, value: float, system: Systems) -> None:
    printed = format_quantity(value, symbol, system)
    assert not re.search(r"\de[-+]?\d", printed)
    assert not re.search(r"\.\d*0(?!\d)", printed)
    assert not re.search(r"-0(?![.\d])", printed)


@given(millimetres=st.floats(0.01, 5000))
def test_an_inch_fraction_is_never_more_than_six_percent_off(millimetres: float) -> None:
    back = parse_quantity(format_quantity(millimetres, "mm", "us"), "mm").value
    assert back == pytest.approx(millimetres, rel=0.0601)
