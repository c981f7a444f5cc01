"""Heat in the sun against the table it comes from and panels that were measured."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx
from scipy.optimize import brentq

from advisor.calculators.softening import softening_margin_K, sol_air_temperature_C

WINDY, SKY_LOSS_K = 17.0, 3.9  # ASHRAE Handbook of Fundamentals, horizontal surface: from memory
DARK, LIGHT = 0.052 * WINDY, 0.026 * WINDY


def in_sun(air_C: float, absorbed: float, sun: float = 900, transfer: float = WINDY) -> float:
    return sol_air_temperature_C(air_C, sun, absorbed, transfer, SKY_LOSS_K)


@pytest.mark.parametrize(("absorbed", "surface_C"), [(DARK, 77.9), (LIGHT, 54.5)])
def test_sol_air_temperature_of_ashrae(absorbed: float, surface_C: float) -> None:
    # ASHRAE Fundamentals, absorbed/transfer 0.052 dark and 0.026 light, 35 °C and 900 W/m2: from memory.
    assert in_sun(35, absorbed) == approx(surface_C, abs=0.05)


@pytest.mark.parametrize(("absorbed", "measured_C"), [(DARK, 62), (LIGHT, 33)])
def test_it_covers_panels_measured_in_the_sun(absorbed: float, measured_C: float) -> None:
    # A vehicle owners' forum: air 76 °F (24 °C), black panel 144 °F (62 °C), white 92 °F (33 °C).
    assert measured_C <= in_sun(24.4, absorbed) <= measured_C + 12


def test_dark_panels_get_far_above_the_air() -> None:
    # Measured on cars: black 159 °F (70.6 °C), white 113 °F (45 °C); at least 38 K above the air when dark.
    assert in_sun(32, DARK) - 32 > 38 and in_sun(32, DARK) > 70.6 and in_sun(32, LIGHT) > 45


def test_still_air_against_a_balance_with_radiation_written_out() -> None:
    # computed: sun in = convection 5 W/(m2 K) + radiation to surroundings as warm as the air, emissivity 0.9.
    def excess(surface_C: float) -> float:
        radiated = 0.9 * 5.670374419e-8 * ((surface_C + 273.15) ** 4 - (35 + 273.15) ** 4)
        return 0.9 * 900 - 5 * (surface_C - 35) - radiated

    balance_C = brentq(excess, 35, 200)
    transfer = 0.9 * 900 / (balance_C - 35)
    assert transfer == approx(13, abs=0.5)
    assert sol_air_temperature_C(35, 900, 0.9, transfer, 0) == approx(balance_C)
    assert balance_C > in_sun(35, 0.9)


@given(st.floats(-20, 45), st.floats(0, 1200), st.floats(0, 0.9), st.floats(5, 30))
def test_darker_is_hotter_and_wind_cools(air_C: float, sun: float, absorbed: float, transfer: float) -> None:
    plain = in_sun(air_C, absorbed, sun, transfer)
    assert in_sun(air_C, absorbed + 0.1, sun, transfer) >= plain >= in_sun(air_C, absorbed, sun, transfer * 1.5)
    assert in_sun(air_C, absorbed, 0, transfer) == approx(air_C - SKY_LOSS_K)


def test_margins() -> None:
    # Vinyl ester casting 102 °C (Handbook of Plastics Technologies, Table 3.26); room-cured epoxy 45 to 60 °C, memory.
    dark_C = in_sun(35, DARK)
    assert softening_margin_K(dark_C, 102) == approx(24.1, abs=0.05)
    assert softening_margin_K(dark_C, 60) < 0
