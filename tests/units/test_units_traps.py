"""What a general units library reads wrongly without a word when a person types it.

Each was seen with pint 0.25.3 (value in the comment); here it comes out right or is refused.
"""

from __future__ import annotations

from time import perf_counter

import pytest

from advisor.errors import InputError
from advisor.units import convert, parse_quantity


@pytest.mark.parametrize(("text", "unit", "value"), [
    ("1 1/2 in", "in", 1.5),            # 0.5 in
    ("1½ in", "in", 1.5),               # 1 in
    ("0,5 in", "in", 0.5),              # 0 in
    ("10 ft 6 in", "in", 126),          # 60 ft in
    ("10' 6\"", "in", 126),             # 60
    ("75F", "F", 75),                   # 75 farad
    ("20 C", "C", 20),                  # coulomb
    ("3 MM", "mm", 3),                  # megamolar
    ("4 fl oz", "fl oz", 4),            # femtolitre ounce
    ("1 lb 4 oz", "oz", 20),            # 4 lb oz
    ("1 mil", "in", 0.001),             # dimensionless
    ("75 degF", "F", 75),               # an error from here on
    ("20 °C", "C", 20),
    ("6 oz/yd2", "oz/yd2", 6),
    ("450 g/m2", "g/m2", 450),
    ("450 gsm", "g/m2", 450),
    ("3 INCHES", "in", 3),
    ("50 sqft", "ft2", 50),
    ("1/2 in", "in", 0.5),              # right there as well, from here on
    ("6 oz/yd**2", "oz/yd2", 6),
    ("6 oz/yd^2", "oz/yd2", 6),
    ("10 oz/sq yd", "oz/yd2", 10),
])
def test_read_as_meant(text: str, unit: str, value: float) -> None:
    assert parse_quantity(text, unit).value == pytest.approx(value, rel=1e-12)


def test_what_hangs_elsewhere_is_refused_at_once() -> None:
    started = perf_counter()
    with pytest.raises(InputError):
        parse_quantity("9**9**9", "mm")
    assert perf_counter() - started < 0.05


def test_a_thousands_comma_is_neither_1200_nor_1_point_2() -> None:
    with pytest.raises(InputError, match="ambiguous"):
        parse_quantity("1,200 g", "g")


def test_the_worked_areal_masses() -> None:
    assert convert(1.5, "oz/ft2", "oz/yd2") == pytest.approx(13.5)
    assert convert(1.5, "oz/ft2", "g/m2") == pytest.approx(457.7, abs=0.05)
    assert convert(6, "oz/yd2", "g/m2") == pytest.approx(203.4, abs=0.05)


def test_us_and_imperial_fluid_ounces_differ() -> None:
    assert parse_quantity("1 fl oz", "mL").value == pytest.approx(29.57, abs=0.005)
    assert parse_quantity("1 imp fl oz", "mL").value == pytest.approx(28.41, abs=0.005)


def test_a_difference_is_not_a_temperature() -> None:
    assert parse_quantity("18 F", "K").value == 10
    with pytest.raises(InputError):
        convert(18, "F", "K")
