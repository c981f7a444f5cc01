"""What people type, and what becomes of it."""

from __future__ import annotations

import pytest

from advisor.errors import InputError
from advisor.units import parse_quantity

UNDERSTOOD = [
    # lengths, in mm
    ("12 mm", "mm", 12), ("12mm", "mm", 12), ("12 MM", "mm", 12), ("12", "mm", 12), (" 12 mm ", "mm", 12),
    ("12\u00a0mm", "mm", 12), ("+12 mm", "mm", 12), ("0,5 mm", "mm", 0.5), ("0,500 mm", "mm", 0.5),
    ("1,25 m", "mm", 1250), ("0.5 mm", "mm", 0.5), (".5 in", "mm", 12.7), ("1e3 mm", "mm", 1000),
    ("2.5e-1 mm", "mm", 0.25), ("1/2 in", "mm", 12.7), ("1/2in", "mm", 12.7), ("1/2\"", "mm", 12.7),
    ("1 / 2 in", "mm", 12.7), ("1⁄2 in", "mm", 12.7), ("½ in", "mm", 12.7), ("½\"", "mm", 12.7),
    ("1 1/2 in", "mm", 38.1), ("1-1/2 in", "mm", 38.1), ("1½ in", "mm", 38.1), ("1 ½ in", "mm", 38.1),
    ("1-½ in", "mm", 38.1), ("12½ in", "mm", 317.5), ("3 INCHES", "mm", 76.2), ("3 in.", "mm", 76.2),
    ("1 inch", "mm", 25.4), ("2''", "mm", 50.8), ("10 ft 6 in", "mm", 3200.4), ("10ft6in", "mm", 3200.4),
    ("10' 6\"", "mm", 3200.4), ("10'6\"", "mm", 3200.4), ("10'-6\"", "mm", 3200.4), ("10′ 6″", "mm", 3200.4),
    ("10’ 6”", "mm", 3200.4), ("10 feet 6 1/2 inches", "mm", 3213.1), ("10' 6-1/2\"", "mm", 3213.1),
    ("1 yd 2 ft 3 in", "mm", 1600.2), ("2 m 40 cm", "mm", 2400), ("2.4 m", "mm", 2400), ("3 cm", "mm", 30),
    ("12 millimetres", "mm", 12), ("12 millimeters", "mm", 12), ("5 thou", "mm", 0.127),
    ("5 mils", "mm", 0.127), ("300 microns", "mm", 0.3), ("300 µm", "mm", 0.3), ("300 μm", "mm", 0.3),
    ("2 yards", "mm", 1828.8), ("1 km", "mm", 1e6), ("25.4 mm", "in", 1), ("1/2", "in", 0.5),
    ("about 10 mm", "mm", 10), ("~10mm", "mm", 10), ("≈ 10 mm", "mm", 10), ("approx. 10 mm", "mm", 10),
    ("approx 10 mm", "mm", 10), ("ca. 10 mm", "mm", 10), ("About ½ in", "mm", 12.7), ("0 mm", "mm", 0),
    # areas
    ("6 sq ft", "ft2", 6), ("6 sq. ft.", "ft2", 6), ("6 ft²", "ft2", 6), ("6 ft2", "ft2", 6),
    ("6 ft^2", "ft2", 6), ("6 ft**2", "ft2", 6), ("6 ft ^ 2", "ft2", 6), ("6 square feet", "ft2", 6),
    ("6 sqft", "ft2", 6), ("50 SQ. IN.", "in2", 50), ("2 square metres", "m2", 2),
    ("2 metres squared", "m2", 2), ("2 m2", "mm2", 2e6), ("1 yd²", "m2", 0.83612736), ("5 cm2", "mm2", 500),
    ("1 1/2 sq ft", "ft2", 1.5),
    # volumes
    ("250 mL", "mL", 250), ("250 ml", "mL", 250), ("250 cc", "mL", 250), ("0.25 l", "mL", 250),
    ("2 litres", "mL", 2000), ("2 liters", "mL", 2000), ("1 gal", "mL", 3785.411784),
    ("1 qt", "mL", 946.352946), ("1 pint", "mL", 473.176473), ("1 US pint", "mL", 473.176473),
    ("1 imp pint", "mL", 568.26125), ("1 imperial gallon", "mL", 4546.09), ("1 UK gallon", "mL", 4546.09),
    ("1 U.S. gal", "mL", 3785.411784), ("1 imp fl oz", "mL", 28.4130625),
    ("2 fluid ounces", "mL", 59.147059125), ("60 m3", "m3", 60),
    # masses
    ("5 lb 4 oz", "g", 2381.3599425), ("5lbs 4ozs", "g", 2381.3599425), ("1 lb", "g", 453.59237),
    ("1.2 kg", "g", 1200), ("1,2 kg", "g", 1200), ("1 kg 200 g", "g", 1200), ("500 mg", "g", 0.5),
    ("2 pounds", "g", 907.18474), ("8 ounces", "g", 226.796185), ("3 kilos", "g", 3000),
    ("1200 g", "kg", 1.2),
    # mass per area
    ("450 g/m2", "g/m2", 450), ("450 g/m²", "g/m2", 450), ("450 gsm", "g/m2", 450), ("450GSM", "kg/m2", 0.45),
    ("450 grams per square metre", "g/m2", 450), ("0.45 kg/m^2", "g/m2", 450), ("0,45 kg/m2", "g/m2", 450),
    ("9 oz/yd2", "oz/ft2", 1), ("9 oz / sq yd", "oz/ft2", 1), ("9 ounces per square yard", "oz/ft2", 1),
    ("9 oz/yd**2", "oz/ft2", 1), ("1½ oz/ft²", "oz/ft2", 1.5), ("1 1/2 oz per sq. ft.", "oz/ft2", 1.5),
    # temperatures
    ("68 F", "C", 20), ("68°F", "C", 20), ("68 °F", "C", 20), ("68 deg F", "C", 20), ("68 degF", "C", 20),
    ("68 degrees Fahrenheit", "C", 20), ("68 ℉", "C", 20), ("20 C", "C", 20), ("20 degC", "C", 20),
    ("20 ºC", "C", 20), ("20c", "C", 20), ("20 Celsius", "C", 20), ("-5C", "C", -5), ("−5 °C", "C", -5),
    ("–5 °C", "C", -5), ("- 5 C", "C", -5), ("293.15 K", "C", 20), ("20 C", "F", 68), ("75F", "F", 75),
    ("-40 F", "C", -40),
    # temperature differences
    ("10 K", "K", 10), ("10 C", "K", 10), ("18 F", "K", 10), ("18 °F", "K", 10), ("-18 F", "K", -10),
    # times
    ("45 min", "min", 45), ("45", "min", 45), ("1 h 30 min", "min", 90), ("1h30m", "min", 90),
    ("1 hr 30 mins", "min", 90), ("1.5 hours", "min", 90), ("1 1/2 h", "min", 90), ("90 s", "min", 1.5),
    ("90 secs", "min", 1.5), ("2 days", "h", 48), ("1 week", "d", 7), ("2 d 12 h", "h", 60),
    ("3 weeks", "d", 21),
    # loads, stresses, densities
    ("50 N", "N", 50), ("1 kN", "N", 1000), ("1 kgf", "N", 9.80665), ("1 lbf", "N", 4.4482216152605),
    ("2 N/mm", "N/mm", 2), ("2000 N/m", "N/mm", 2), ("1 lbf/in", "N/mm", 0.1751268352),
    ("5 MPa", "MPa", 5), ("5 mpa", "MPa", 5), ("5 N/mm2", "MPa", 5), ("70 GPa", "MPa", 70000),
    ("85 kPa", "MPa", 0.085), ("1 ksi", "psi", 1000), ("1000 lb/in²", "ksi", 1), ("1.2 g/cm3", "kg/m3", 1200),
    ("1.2 g/cc", "kg/m3", 1200), ("1.2 g/ml", "kg/m3", 1200), ("1 lb/ft3", "kg/m3", 16.01846337396),
    ("1 lb/gal", "kg/m3", 119.82642731690), ("1.2 kg/L", "kg/m3", 1200),
    # shares, rates and the rest
    ("30 %", "fraction", 0.3), ("30%", "fraction", 0.3), ("0.3", "fraction", 0.3), ("1.5 %", "percent", 1.5),
    ("1,5 per cent", "percent", 1.5), ("1.5", "percent", 1.5), ("60 % RH", "percent", 60),
    ("60 percent", "percent", 60), ("500 g/min", "kg/min", 0.5), ("10 ft/min", "m/min", 3.048),
    ("0.5 m/s", "m/min", 30), ("23 µm/m/K", "um/m/K", 23), ("23 um/m/K", "um/m/K", 23),
    ("23 µm/(m·K)", "um/m/K", 23), ("23e-6/K", "um/m/K", 23), ("23 x 10^-6/K", "um/m/K", 23),
    ("23×10⁻⁶/K", "um/m/K", 23), ("23 1e-6/K", "um/m/K", 23), ("23 ppm/°C", "um/m/K", 23),
    ("10e-6/F", "um/m/K", 18), ("10 µin/in/°F", "um/m/K", 18), ("50 kJ/mol", "kJ/mol", 50),
    ("30/mL", "1/mL", 30), ("30 drops per mL", "1/mL", 30), ("30", "1/mL", 30), ("3", "count", 3),
    ("200 m3/h", "m3/h", 200), ("1 cfm", "m3/h", 1.69901079552), ("200 m³/h", "m3/h", 200),
]

RANGES = [
    ("10..14 mm", "mm", 10, 14), ("10-14 mm", "mm", 10, 14), ("10 - 14 mm", "mm", 10, 14),
    ("10 to 14 mm", "mm", 10, 14), ("10to14mm", "mm", 10, 14), ("10–14 mm", "mm", 10, 14),
    ("10 mm to 14 mm", "mm", 10, 14), ("10 mm - 1.4 cm", "mm", 10, 14), ("10...14", "mm", 10, 14),
    ("~10-14 mm", "mm", 10, 14), ("1/4-3/8 in", "mm", 6.35, 9.525), ("1-1/2 - 2 in", "mm", 38.1, 50.8),
    ("1-1/2-2 in", "mm", 38.1, 50.8), ("½ to ¾ in", "mm", 12.7, 19.05), ("10'-12'", "mm", 3048, 3657.6),
    ("10'-6\" to 11'", "mm", 3200.4, 3352.8), ("10 ft 6 in - 11 ft", "mm", 3200.4, 3352.8),
    ("18-22 C", "C", 18, 22), ("-5 to 5 C", "C", -5, 5), ("-10--5 C", "C", -10, -5),
    ("68..77 F", "C", 20, 25), ("20-40 min", "min", 20, 40), ("1 h to 1 h 30 min", "min", 60, 90),
    ("1-2 %", "percent", 1, 2), ("400-450 g/m2", "g/m2", 400, 450), ("5 mm to 5 mm", "mm", 5, 5),
]

# What is typed, for which unit, and a part of the message or its help.
REFUSED = [
    ("", "mm", "nothing was given"), ("   ", "mm", "nothing was given"), ("mm", "mm", "not understood"),
    ("abc", "mm", "not understood"), ("nan", "mm", "not understood"), ("inf", "mm", "not understood"),
    ("-inf mm", "mm", "not understood"), ("1e400 mm", "mm", "too large"), ("1e-400 mm", "mm", "too small"),
    ("1e13", "mm", "too large"), ("9**9**9", "mm", "not understood"), ("9^9", "mm", "not understood"),
    ("0x1F", "mm", "not understood"), ("0x10 mm", "mm", "not understood"),
    ("1_000 mm", "mm", "not understood"), ("1" * 61, "mm", "longer than 60"), ("1" * 50, "mm", "too large"),
    ("1,200 g", "g", "thousands or decimals"), ("12,500 mm", "mm", "`12500` or `12.500`"),
    ("1,234,567 g", "g", "write `1234567`"), ("1.234,5 g", "g", "one decimal point"),
    ("1.2.3 mm", "mm", "one decimal point"), ("1 200 g", "g", "a space"), ("1\u202f200 g", "g", "a space"),
    ("1,2,3 mm", "mm", "one decimal point"), ("1/0 in", "mm", "divided by zero"),
    ("1 0/0 in", "mm", "divided by zero"), ("1 3/2 in", "mm", "not a mixed number"),
    ("1 2/2 in", "mm", "not a mixed"),
    ("1-3/2 in", "mm", "`1 to 2` for a range"), ("0-1/2 in", "mm", "for a range"),
    ("½½ in", "mm", "not understood"), ("1² mm", "mm", "not understood"), ("10² mm", "mm", "not understood"),
    ("١٢ mm", "mm", "not understood"), ("12 mm thick", "mm", "`mm thick` is not a unit"),
    ("12 foo", "mm", "`foo` is not a unit"), ("12 mmm", "mm", "`mmm` is not a unit"),
    ("12 milimetres", "mm", "did you mean `millimetres`"),
    ("5 kg", "mm", "`5 kg` is a mass, a length is wanted"),
    ("12 mm", "C", "is a length, a temperature is wanted"), ("5'", "min", "is a length, a time is wanted"),
    ("10 ft2", "mm", "is an area, a length is wanted"), ("20 C", "g", "is a temperature, a mass is wanted"),
    ("450 g", "g/m2", "is a mass, a mass per area is wanted"), ("450", "g/m2", "nine times apart"),
    ("1 1/2", "oz/ft2", "nine times apart"), ("1.5 oz/m2", "g/m2", "not a unit"),
    ("4 oz", "mL", "write `fl oz`"),
    ("5 m", "min", "write `min`"), ("2 t", "kg", "907, 1000 or 1016"), ("2 tons", "kg", "907, 1000 or 1016"),
    ("20", "C", "does not say °C or °F"), ("20 degrees", "C", "does not say °C or °F"),
    ("20°", "C", "does not say °C or °F"), ("18-22", "C", "does not say °C or °F"),
    ("10", "K", "does not say °C or °F"), ("-300 C", "C", "lowest temperature"),
    ("-1 K", "C", "lowest temperature"), ("-3 mm", "mm", "below zero"), ("-1 g", "g", "below zero"),
    ("-2 %", "percent", "below zero"), ("1:30", "min", "ambiguous"), ("01:30:00", "min", "ambiguous"),
    ("1:30", "mm", "colon"), ("1:2 in", "mm", "not understood"), ("1 h 30", "min", "needs its unit"),
    ("6'2", "mm", "needs its unit"), ("5 lb 4", "g", "needs its unit"), ("6 in 10 ft", "mm", "falling order"),
    ("4 oz 5 lb", "g", "falling order"), ("1 ft 1 ft", "mm", "falling order"),
    ("1 ft 14 in", "mm", "reaches 1 ft"), ("1 h 90 min", "min", "reaches 1 h"),
    ("10.5 ft 6 in", "mm", "only the last"), ("1 m 6 in", "mm", "one quantity"),
    ("10 ft 6 kg", "mm", "is a mass"), ("20 C 5 C", "C", "one quantity"),
    ("10 ft -6 in", "mm", "runs backwards"), ("10 ft.5 in", "mm", "not understood"),
    ("10 ft .5 in", "mm", "not understood"), ("14-10 mm", "mm", "runs backwards"),
    ("1 - 1/2 in", "mm", "backwards"), ("10-14-18 mm", "mm", "not understood"),
    ("10 to 12 to 14 mm", "mm", "not understood"), ("10 mm to 14", "mm", "second number"),
    ("5 to 6 ft 2 in", "mm", "first number"), ("10 to", "mm", "not understood"),
    ("to 10 mm", "mm", "not understood"), ("10 ± 2 mm", "mm", "not understood"),
    ("<10 mm", "mm", "not understood"), ("+-5 mm", "mm", "not understood"), ("5. mm", "mm", "not understood"),
    ("10, 14 mm", "mm", "not understood"), ("1'200 mm", "mm", "one quantity"),
    ("1/2/3 in", "mm", "not understood"), ("about", "mm", "not understood"),
    ("1/2", "mm", "fractions are mostly inches"), ("1-1/2", "mm", "fractions are mostly inches"),
    ("2.5", "count", "not a whole number"), ("3 mm", "count", "a whole number is wanted"),
    ("3 plies", "count", "not a unit"), ("1 in 8", "mm", "needs its unit"),
    ("10 mm; rm", "mm", "not understood"),
]


@pytest.mark.parametrize(("text", "unit", "value"), UNDERSTOOD)
def test_understood(text: str, unit: str, value: float) -> None:
    quantity = parse_quantity(text, unit)
    assert quantity.value == pytest.approx(value, rel=1e-9, abs=1e-12)
    assert (quantity.low, quantity.high, quantity.unit) == (quantity.value, quantity.value, unit)
    assert quantity.typed == text.strip()


@pytest.mark.parametrize(("text", "unit", "low", "high"), RANGES)
def test_ranges(text: str, unit: str, low: float, high: float) -> None:
    quantity = parse_quantity(text, unit)
    assert (quantity.low, quantity.high) == pytest.approx((low, high), rel=1e-9)
    assert quantity.value == pytest.approx((low + high) / 2)
    with pytest.raises(InputError, match="is a range"):
        parse_quantity(text, unit, ranges_ok=False)


@pytest.mark.parametrize(("text", "unit", "said"), REFUSED)
def test_refused(text: str, unit: str, said: str) -> None:
    with pytest.raises(InputError) as caught:
        parse_quantity(text, unit, name="gap_max")
    assert said in str(caught.value)
    assert str(caught.value).startswith("gap_max: ")
    assert "for instance" in str(caught.value) or caught.value.help


def test_the_table_is_as_long_as_promised() -> None:
    assert len({*UNDERSTOOD, *REFUSED}) >= 120


def test_exact_where_the_inch_is_exact() -> None:
    assert parse_quantity("1/2 in", "mm").value == 12.7
    assert parse_quantity("68 F", "C").value == 20.0


@pytest.mark.parametrize(("text", "unit", "system"), [
    ("12", "mm", "none"), ("12 mm", "mm", "metric"), ("1/2 in", "mm", "us"), ("10 ft 6 in", "mm", "us"),
    ("45 min", "min", "none"), ("2 %", "percent", "none"), ("68 F", "C", "us"), ("6 oz/yd2", "g/m2", "us"),
])
def test_the_system_typed_is_kept(text: str, unit: str, system: str) -> None:
    assert parse_quantity(text, unit).system == system


def test_a_bare_number_may_be_forbidden() -> None:
    with pytest.raises(InputError, match="`12` has no unit"):
        parse_quantity("12", "mm", bare_ok=False)


def test_what_is_out_of_range_is_told_the_range_in_both_systems() -> None:
    with pytest.raises(InputError) as caught:
        parse_quantity("5 m", "mm", plausible=(0, 150))
    assert str(caught.value) == ("`5 m` is outside what is accepted\n"
                                 "  help: give a value from 0 to 150 mm (0 to 5 7/8 in)")


@pytest.mark.parametrize("text", ["0 mm", "150 mm", "15 cm", "0..150 mm"])
def test_the_ends_of_the_range_are_accepted(text: str) -> None:
    assert parse_quantity(text, "mm", plausible=(0, 150)).high <= 150


@pytest.mark.parametrize("text", ["150.001 mm", "-1 mm", "100 to 151 mm"])
def test_just_outside_is_refused(text: str) -> None:
    with pytest.raises(InputError, match="outside what is accepted"):
        parse_quantity(text, "mm", plausible=(0, 150))


def test_a_range_that_admits_negative_values_does() -> None:
    assert parse_quantity("-3 mm", "mm", plausible=(-5, 5)).value == -3


def test_the_middle_of_a_count_is_whole() -> None:
    assert parse_quantity("3 to 4", "count").value == 4


def test_control_characters_are_not_sent_back_raw() -> None:
    with pytest.raises(InputError) as caught:
        parse_quantity("12 \x1b[31mmm\u202e", "mm")
    assert "\x1b" not in str(caught.value) and "\u202e" not in str(caught.value)
    assert r"\x1b" in str(caught.value)


def test_an_unknown_unit_wanted_is_said() -> None:
    with pytest.raises(InputError, match="`milimetre` is not a unit known here"):
        parse_quantity("12 mm", "milimetre")


@pytest.mark.parametrize(("text", "unit"), [
    ("10 lb/ft", "N/mm"), ("1 gr", "g"), ("1 t", "mm"), ("6 oz/yd", "g/m2"), ("12 mmm", "mm"),
])
def test_no_abbreviation_is_guessed(text: str, unit: str) -> None:
    """One letter more or less is another unit, with another number behind it."""
    with pytest.raises(InputError) as caught:
        parse_quantity(text, unit)
    assert "did you mean" not in str(caught.value)
