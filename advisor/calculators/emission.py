"""What gets into the air: styrene from resin, solvent from wiping and from open liquid."""

from typing import Literal

from advisor.calculators.air_limits import ATMOSPHERE_KPA, MOLAR_MASS_G_MOL, TEMPERATURE_C
from advisor.calculators.cure import GAS_CONSTANT_KJ_MOL_K, ZERO_CELSIUS_K
from advisor.calculators.exposure import STYRENE_PERCENT
from advisor.calculators.ranges import Range, require

__all__ = [
    "Process",
    "pool_evaporation_g_h",
    "saturated_vapour_ppm",
    "solvent_released_g",
    "styrene_per_resin_by_process_g_kg",
    "styrene_per_resin_by_second_rule_g_kg",
]

Process = Literal["hand", "sprayed", "gel_coat", "bagged"]
"""How open the resin lies: laid by hand, sprayed, a gel coat (sprayed or brushed), under a bag after rolling out."""

WIPED_AREA_M2 = Range(0, 10_000)
APPLIED_G_M2 = Range(0, 5000)
EVAPORATED_FRACTION = Range(0, 1)
POOL_AREA_M2 = Range(0, 1000)
VAPOUR_PRESSURE_KPA = Range(0, 101.325)
WATER_G_MOL = 18.0
WATER_TRANSFER_M_S = 0.0083

# Factor and exponent of 40 CFR Part 63 Subpart VVVV, Table 3, kg for each Mg of resin, styrene in %.
_TABLE_3: dict[str, tuple[float, float]] = {
    "hand": (0.014, 2.275),
    "sprayed": (0.014, 2.425),
    "gel_coat": (0.445, 1.675),
    "bagged": (0.0110, 2.275),
}


def styrene_per_resin_by_process_g_kg(styrene_percent: float, process: Process) -> float:
    """Styrene given off by each kg of resin or gel coat, by the way it is laid.

    Args:
        styrene_percent: styrene in the resin by mass, %, 20 to 60.
        process: hand, sprayed, gel_coat or bagged (rolled out, then under a vacuum bag).
    Returns:
        Styrene released, g/kg of resin, until it has cured.
    Raises:
        OutOfRange: the styrene content is outside its range.
        ValueError: the process is not one of the four.
    Valid: a yearly mean of workshops, not the worst hour: thin coats, heat, wind over the wet face and slow gel give
        more. Older factors were found to give 1.6 to 2.5 times too little when they were measured (US EPA, 1997).
    Formula: g per kg = A x styrene^B, in %; A, B = 0.014, 2.275 hand; 0.014, 2.425 sprayed; 0.445, 1.675 gel coat;
        0.0110, 2.275 bagged
    Source: US EPA, 40 CFR Part 63 Subpart VVVV, Table 3
    Example:
        >>> round(styrene_per_resin_by_process_g_kg(33, "gel_coat"), 1)
        155.6
    """
    require(STYRENE_PERCENT, styrene_percent=styrene_percent)
    if process not in _TABLE_3:
        raise ValueError(f"`process` is `{process}`, must be one of {', '.join(_TABLE_3)}")
    factor, exponent = _TABLE_3[process]
    released_g_kg: float = factor * styrene_percent**exponent
    return released_g_kg


def styrene_per_resin_by_second_rule_g_kg(styrene_percent: float) -> float:
    """Styrene given off by each kg of resin laid by hand, by a second rule to compare with the first.

    Args:
        styrene_percent: styrene in the resin by mass, %, 20 to 60.
    Returns:
        Styrene released, g/kg of resin, until it has cured.
    Raises:
        OutOfRange: the styrene content is outside its range.
    Valid: as styrene_per_resin_by_process; take the larger of the two.
    Formula: g per kg = 1000 (0.286 f - 0.0529) from f = 0.33 on, 1000 x 0.126 f below; f = styrene/100
    Source: US EPA, 40 CFR Part 63 Subpart WWWW, Table 1, manual application (from-memory; gives the limits of its
        Table 3)
    Example:
        >>> round(styrene_per_resin_by_second_rule_g_kg(35), 1)
        47.2
    """
    require(STYRENE_PERCENT, styrene_percent=styrene_percent)
    share = styrene_percent / 100
    return 1000 * (0.286 * share - 0.0529 if share >= 0.33 else 0.126 * share)


def solvent_released_g(wiped_area_m2: float, applied_g_m2: float, evaporated_fraction: float) -> float:
    """Solvent given off by wiping a surface.

    Args:
        wiped_area_m2: surface wiped, each pass counted, m2, 0 to 10000.
        applied_g_m2: solvent used for each pass, rag included, g/m2, 0 to 5000; weigh the tin before and after.
        evaporated_fraction: share that goes into the air, dimensionless, 0 to 1; 1 unless rags go into a lidded tin.
    Returns:
        Solvent released, g.
    Raises:
        OutOfRange: an argument is outside its range.
    Valid: all of it in the air within minutes; an open tin or tray gives off more, see pool_evaporation.
    Formula: released = wiped area x applied x evaporated fraction
    Source: conservation of mass; common-practice
    Example:
        >>> solvent_released_g(2, 40, 1)
        80
    """
    require(WIPED_AREA_M2, wiped_area_m2=wiped_area_m2)
    require(APPLIED_G_M2, applied_g_m2=applied_g_m2)
    require(EVAPORATED_FRACTION, evaporated_fraction=evaporated_fraction)
    return wiped_area_m2 * applied_g_m2 * evaporated_fraction


def saturated_vapour_ppm(vapour_pressure_kPa: float) -> float:
    """Most of a vapour that air can hold over its liquid: in the tin, just above a wet face, in a pit.

    Args:
        vapour_pressure_kPa: vapour pressure of the liquid at its temperature, kPa, 0 to 101.325.
    Returns:
        Concentration, ppm by volume, at sea level.
    Raises:
        OutOfRange: the pressure is outside its range.
    Formula: c = 1000000 x vapour pressure/101.325
    Source: Dalton's law
    Example:
        >>> round(saturated_vapour_ppm(0.6085))
        6005
    """
    require(VAPOUR_PRESSURE_KPA, vapour_pressure_kPa=vapour_pressure_kPa)
    return 1e6 * vapour_pressure_kPa / ATMOSPHERE_KPA


def pool_evaporation_g_h(
    pool_area_m2: float, molar_mass_g_mol: float, vapour_pressure_kPa: float, temperature_C: float
) -> float:
    """Vapour given off by open liquid: a tray, a bucket, a spill.

    Args:
        pool_area_m2: open surface, m2, 0 to 1000.
        molar_mass_g_mol: molar mass of the liquid, g/mol, 16 to 1000.
        vapour_pressure_kPa: vapour pressure at the temperature of the liquid, kPa, 0 to 101.325.
        temperature_C: temperature of the liquid, °C, -20 to 60.
    Returns:
        Rate of evaporation, g/h.
    Raises:
        OutOfRange: an argument is outside its range.
    Valid: indoor air that hardly moves; a draught gives several times as much. Resin is a mixture: it gives less, and
        less as it cures.
    Formula: rate = 3600 M K A p/(R T), K = 0.0083 m/s x (18/M)^(1/3), T in K, p in Pa; with A pool area, M molar
        mass, p vapour pressure, T temperature
    Source: Crowl and Louvar, Chemical Process Safety, evaporation from an open pool (from-memory)
    Example:
        >>> round(pool_evaporation_g_h(0.1, 92.14, 3.79, 25))
        244
    """
    require(POOL_AREA_M2, pool_area_m2=pool_area_m2)
    require(MOLAR_MASS_G_MOL, molar_mass_g_mol=molar_mass_g_mol)
    require(VAPOUR_PRESSURE_KPA, vapour_pressure_kPa=vapour_pressure_kPa)
    require(TEMPERATURE_C, temperature_C=temperature_C)
    transfer_m_s = WATER_TRANSFER_M_S * (WATER_G_MOL / molar_mass_g_mol) ** (1 / 3)
    saturated_mol_m3 = vapour_pressure_kPa / (GAS_CONSTANT_KJ_MOL_K * (temperature_C + ZERO_CELSIUS_K))
    return float(3600 * molar_mass_g_mol * transfer_m_s * pool_area_m2 * saturated_mol_m3)
