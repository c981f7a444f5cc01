"""Reckoned numbers are printed no finer than the tool they are read off, and never far from what was reckoned."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.consultation.advice import CheckLine
from advisor.report.amounts import check_cells
from advisor.units import format_quantity
from advisor.units.reading import as_read, reading_step

SHOWN = st.sampled_from([("mm", "length"), ("g", "mass"), ("mL", "volume"), ("N", "force"), ("N/mm", "line load"),
                         ("MPa", "stress"), ("percent", "fraction"), ("C", "temperature"), ("ppm", "vapour share")])
SIZES = st.floats(min_value=1e-4, max_value=1e6, allow_nan=False)


@pytest.mark.parametrize(("value", "unit", "printed"), [
    (3.97, "mm", "4 mm"), (0.446, "mm", "0.45 mm"), (90.7, "mm", "91 mm"), (0.828, "g", "0.8 g"), (81.5, "g", "82 g"),
    (2.41, "mL", "2.4 mL"), (0.0292, "N/mm", "0.029 N/mm"), (14.9, "N", "15 N"), (1443.0, "ppm", "1400 ppm"),
    (19.6, "percent", "20 %"), (1.5, "percent", "1.5 %"), (12.4, "C", "12 °C"), (2.62, "kg", "2.62 kg"),
    (4.3, "min", "4.5 min"), (0.02, "mm", "0.02 mm"),
])
def test_no_finer_than_the_tool(value: float, unit: str, printed: str) -> None:
    assert format_quantity(value, unit, reckoned=True) == printed


def test_what_was_typed_stays_as_it_was_typed() -> None:
    assert format_quantity(3.97, "mm") == "3.97 mm" and format_quantity(1.14, "g") == "1.14 g"


@given(value=SIZES, shown=SHOWN)
def test_at_most_half_a_step_is_lost(value: float, shown: tuple[str, str]) -> None:
    step = reading_step(value, *shown)
    assert abs(as_read(value, *shown) - value) <= step / 2 + 1e-9 * value
    assert as_read(-value, *shown) == -as_read(value, *shown)


@given(one=SIZES, other=SIZES, shown=SHOWN)
def test_the_larger_never_reads_as_the_smaller(one: float, other: float, shown: tuple[str, str]) -> None:
    low, high = sorted((one, other))
    assert as_read(low, *shown) <= as_read(high, *shown)


@given(limit=st.floats(min_value=0.5, max_value=2000), share=st.floats(min_value=0.5, max_value=1.5),
       unit=st.sampled_from(["mm", "N", "MPa", "C", "fraction", "ppm"]))
def test_a_margin_that_fails_never_reads_like_its_limit(limit: float, share: float, unit: str) -> None:
    value = limit * share
    check = CheckLine(
        name="x", value=value, low=value, high=value, limit=limit, limit_low=limit, limit_high=limit, bound="at_least",
        unit=unit, margin=value - limit, ratio=share, verdict="fails" if value < limit else "thin", straddles=False,
        formula="", with_numbers="", assumed=(), source=())
    _, read, wanted, _, _ = check_cells(check, "metric")
    if value < limit:
        a_tenth_of_a_degree = unit == "C" and limit - value < 0.1
        assert read != wanted.removeprefix("at least ") or abs(share - 1) < 0.01 or a_tenth_of_a_degree
