"""Values stated outside the project.

The numbers are those of an independent units library (pint 0.24.4), to the agreement stated with
each; the stock weights of mat in g/m2 are from Practical Action, KnO 100378, "Fibreglass boat
building", as quoted in a search excerpt.
"""

from __future__ import annotations

import pytest

from advisor.errors import InputError
from advisor.units import convert, parse_quantity


def test_an_ounce_per_square_foot() -> None:
    assert convert(1, "oz/ft2", "g/m2") == pytest.approx(305.15, abs=0.01)


def test_an_ounce_per_square_yard() -> None:
    assert convert(1, "oz/yd2", "g/m2") == pytest.approx(33.906, abs=0.001)


def test_the_same_label_on_mat_and_cloth_is_nine_times_apart() -> None:
    mat = parse_quantity("1.5 oz/ft2", "g/m2").value
    cloth = parse_quantity("1.5 oz/yd2", "g/m2").value
    assert mat == pytest.approx(457.7, abs=0.05)
    assert cloth == pytest.approx(50.9, abs=0.05)
    assert mat / cloth == pytest.approx(9, abs=1e-9)


@pytest.mark.parametrize("text", ["1.5 oz", "1 1/2 oz", "1½ oz", "1 1/2 oz mat", "6 oz cloth", "6 ounces"])
def test_ounces_without_an_area_are_refused(text: str) -> None:
    with pytest.raises(InputError) as caught:
        parse_quantity(text, "g/m2")
    assert caught.value.help == "say per ft2 or per yd2: nine times apart"


@pytest.mark.parametrize(("ounces", "stock"), [("3/4", 225), ("1", 300), ("1 1/2", 450), ("2", 600)])
def test_mat_in_ounces_is_the_metric_stock_weight_within_two_percent(ounces: str, stock: float) -> None:
    assert parse_quantity(f"{ounces} oz/ft2", "g/m2").value == pytest.approx(stock * 1.017, rel=0.001)


def test_a_cartridge_in_us_fluid_ounces() -> None:
    assert parse_quantity("10.5 fl oz", "mL").value == pytest.approx(310.52, abs=0.01)


def test_pounds_per_short_ton() -> None:
    assert convert(1, "lb/short ton", "g/kg") == 0.5


def test_pounds_force_per_square_inch() -> None:
    assert convert(1, "psi", "kPa") == pytest.approx(6.894757, abs=1e-6)
