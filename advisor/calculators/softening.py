"""Heat in service: how hot a surface gets in the sun, and how far that is from softening."""

from advisor.calculators.ranges import Range, require

__all__ = ["softening_margin_K", "sol_air_temperature_C"]

AIR_TEMPERATURE_C = Range(-40, 60)
IRRADIANCE_W_M2 = Range(0, 1400)
ABSORBED_FRACTION = Range(0, 1)
SURFACE_TRANSFER_W_M2_K = Range(4, 60)
SKY_LOSS_K = Range(0, 10)
SERVICE_TEMPERATURE_C = Range(-40, 250)
SOFTENING_TEMPERATURE_C = Range(20, 350)


def sol_air_temperature_C(
    air_temperature_C: float,
    irradiance_W_m2: float,
    absorbed_fraction: float,
    surface_transfer_W_m2_K: float,
    sky_loss_K: float,
) -> float:
    """Temperature that a panel in the sun settles at when no heat leaves it behind (the sol-air temperature).

    Args:
        air_temperature_C: air temperature, °C, -40 to 60.
        irradiance_W_m2: sun on the surface, W/m2, 0 to 1400; about 1000 square to a high clear sun.
        absorbed_fraction: share of the sun that the colour takes up, dimensionless, 0 to 1.
        surface_transfer_W_m2_K: heat given to air and surroundings for each K, W/(m2 K), 4 to 60; low in still air.
        sky_loss_K: what a surface loses to a clear sky, K, 0 to 10; 0 for an upright one.
    Returns:
        Surface temperature, °C.
    Raises:
        OutOfRange: an argument is outside its range.
    Valid: steady sun on thin or insulated panels (sandwich, cored, lined). Tables take 17 W/(m2 K), for a light
        wind; a sheltered panel in still air has about 13 (computed) and gets far hotter than the tables suggest.
        Glass above the surface (a window, a skylight) makes it hotter again.
    Formula: T = air temperature + absorbed fraction x irradiance/surface transfer - sky loss
    Source: ASHRAE Handbook of Fundamentals, sol-air temperature (from-memory); there sky loss is 3.9 K facing up
    Example:
        >>> round(sol_air_temperature_C(35, 900, 0.9, 17, 3.9), 1)
        78.7
    """
    require(AIR_TEMPERATURE_C, air_temperature_C=air_temperature_C)
    require(IRRADIANCE_W_M2, irradiance_W_m2=irradiance_W_m2)
    require(ABSORBED_FRACTION, absorbed_fraction=absorbed_fraction)
    require(SURFACE_TRANSFER_W_M2_K, surface_transfer_W_m2_K=surface_transfer_W_m2_K)
    require(SKY_LOSS_K, sky_loss_K=sky_loss_K)
    return air_temperature_C + absorbed_fraction * irradiance_W_m2 / surface_transfer_W_m2_K - sky_loss_K


def softening_margin_K(service_temperature_C: float, softening_temperature_C: float) -> float:
    """How far the hottest service stays below the temperature at which a resin or adhesive softens; below zero it does.

    Args:
        service_temperature_C: hottest that the joint or part gets, °C, -40 to 250.
        softening_temperature_C: glass transition or heat deflection of the matrix as cured, °C, 20 to 350.
    Returns:
        Margin, K.
    Raises:
        OutOfRange: an argument is outside its range.
    Valid: softening of the neat resin, cured as this part was cured. Values of reinforced bars (above 200 °C for
        polyester) say how the glass holds up, not the joint; a post-cured sheet value needs the post-cure.
    Formula: margin = softening temperature - service temperature
    Source: definition
    Example:
        >>> softening_margin_K(80, 65)
        -15
    """
    require(SERVICE_TEMPERATURE_C, service_temperature_C=service_temperature_C)
    require(SOFTENING_TEMPERATURE_C, softening_temperature_C=softening_temperature_C)
    return softening_temperature_C - service_temperature_C
