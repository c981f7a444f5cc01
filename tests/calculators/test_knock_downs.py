"""What is left of a strength, against published factors."""

from math import prod
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from advisor.calculators.knock_downs import (
    allowable_line_load_N_mm,
    allowable_stress_MPa,
    governing_strength,
    knock_down,
)
from advisor.calculators.ranges import OutOfRange

NAMES = ("sustained", "fatigue", "heat", "wet", "hand_preparation")
FLAGS = st.tuples(*(st.booleans() for _ in NAMES))
SHARES = st.tuples(*(st.floats(0.1, 1) for _ in NAMES))


def left(flags: tuple[bool, ...], shares: tuple[float, ...]) -> tuple[float, tuple[str, ...]]:
    arguments: dict[str, Any] = {f"{name}_applies": flag for name, flag in zip(NAMES, flags, strict=True)}
    arguments |= {f"{name}_fraction": share for name, share in zip(NAMES, shares, strict=True)}
    result = knock_down(**arguments)
    return result.left_fraction, result.applied


def test_part_factors_of_bs_4994() -> None:
    # BS 4994:1987, worked design sheet: K = 3 x 1.5 x 1.3 x 1.0 x 1.27 x 1.5 = 11.144; unit strengths
    # 200 (mat) and 250 (woven) become 17.95 and 22.43 N/mm per kg/m².
    factors = (1.5, 1.3, 1.0, 1.27, 1.5)
    shares = tuple(1 / factor for factor in factors)
    share, applied = left((True,) * 5, shares)
    assert applied == NAMES
    assert 3 / share == approx(11.144, abs=0.001)
    assert allowable_stress_MPa(200, share, 3) == approx(17.95, abs=0.005)
    assert allowable_stress_MPa(250, share, 3) == approx(22.43, abs=0.005)


def test_interlaminar_shear_of_a_marine_laminate_over_the_years() -> None:
    # UK HSE research report RR131: interlaminar shear of a glass polyester laminate loses 35 % in 20 years and 80 %
    # after a million cycles; 7 MPa of mat (BS 4994:1987, worked sheet) then leaves 4.55 and 1.4 MPa.
    twenty_years, _ = left((True, False, False, False, False), (0.65, 0.20, 1, 1, 1))
    million_cycles, _ = left((False, True, False, False, False), (0.65, 0.20, 1, 1, 1))
    assert allowable_stress_MPa(7, twenty_years, 1) == approx(4.55)
    assert allowable_stress_MPa(7, million_cycles, 1) == approx(1.4)


def test_weaker_of_glue_and_laminate_governs() -> None:
    # BS 4994:1987, worked sheet: interlaminar shear 7 MPa (mat) and 6 MPa (woven). Glue of 20 MPa is invented.
    assert governing_strength(20, 7, 6).strength_MPa == 6
    assert governing_strength(20, 7, 6).governed_by == "face_b"
    assert governing_strength(20, 7, 25).governed_by == "face_a"
    assert governing_strength(0.5, 7, 6).governed_by == "adhesive"


@given(FLAGS, SHARES)
def test_only_what_applies_counts_and_more_reasons_leave_less(
    flags: tuple[bool, ...], shares: tuple[float, ...]
) -> None:
    share, applied = left(flags, shares)
    assert applied == tuple(name for name, flag in zip(NAMES, flags, strict=True) if flag)
    assert share == approx(prod(one for one, flag in zip(shares, flags, strict=True) if flag))
    everything, _ = left((True,) * 5, shares)
    assert everything <= share * (1 + 1e-12) and share <= 1


def test_nothing_applies_nothing_is_lost() -> None:
    assert left((False,) * 5, (0.1,) * 5) == (1, ())


@given(st.floats(0.1, 100), st.floats(0.01, 1), st.floats(1, 10))
def test_allowance_is_never_above_the_strength(strength: float, share: float, safety: float) -> None:
    assert allowable_stress_MPa(strength, share, safety) <= strength
    assert allowable_stress_MPa(strength, share, safety) == allowable_line_load_N_mm(strength, share, safety)
    assert allowable_stress_MPa(strength, share, safety) * safety / share == approx(strength)


def test_share_above_one_is_refused_even_where_it_does_not_apply() -> None:
    with pytest.raises(OutOfRange, match="`heat_fraction` is 1.1, must be between 0.001 and 1"):
        left((True, False, False, False, False), (0.5, 0.5, 1.1, 0.5, 0.5))
    with pytest.raises(OutOfRange, match="`safety_ratio` is 0.5"):
        allowable_stress_MPa(7, 0.5, 0.5)
