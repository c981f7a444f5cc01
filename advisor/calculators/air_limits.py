"""Air against limits: ppm and mg/m3, means of a shift, lower explosive limit, mixtures."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum

from advisor.calculators.cure import GAS_CONSTANT_KJ_MOL_K, ZERO_CELSIUS_K
from advisor.calculators.ranges import Range, require, require_each, require_entries

__all__ = [
    "MixedVapours",
    "explosive_limit_share_percent",
    "mass_concentration_mg_m3",
    "mixed_explosive_limit_share_percent",
    "mixed_vapours",
    "shift_mean_ppm",
    "volume_concentration_ppm",
]

CONCENTRATION_PPM = Range(0, 1_000_000)
CONCENTRATION_MG_M3 = Range(0, 10_000_000)
LIMIT_PPM = Range(0.0001, 100_000)
MOLAR_MASS_G_MOL = Range(16, 1000)
TEMPERATURE_C = Range(-20, 60)
LOWER_EXPLOSIVE_LIMIT_PERCENT = Range(0.1, 20)
SPELL_H = Range(0, 24)
SHIFT_H = 8
ATMOSPHERE_KPA = 101.325
MOST_ENTRIES = 50


@dataclass(frozen=True, slots=True)
class MixedVapours:
    """Several vapours that act on the body in the same way, added up; a ratio of 1 is at the limit of the mixture."""

    sum_of_shares_ratio: float
    total_ppm: float
    mixture_limit_ppm: float


def mass_concentration_mg_m3(concentration_ppm: float, molar_mass_g_mol: float, temperature_C: float) -> float:
    """Concentration by mass of a vapour whose share by volume is known.

    Args:
        concentration_ppm: concentration by volume, ppm, 0 to 1000000.
        molar_mass_g_mol: molar mass, g/mol, 16 to 1000.
        temperature_C: temperature of the air, °C, -20 to 60; limits are stated for 25.
    Returns:
        Concentration, mg/m3, at sea level.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: c = concentration x M p/(1000 R T), p = 101.325 kPa, T in K; with M molar mass, T temperature
    Source: ideal gas law
    Example:
        >>> round(mass_concentration_mg_m3(1, 104.15, 25), 2)
        4.26
    """
    require(CONCENTRATION_PPM, concentration_ppm=concentration_ppm)
    return concentration_ppm * _mg_m3_of_one_ppm(molar_mass_g_mol, temperature_C)


def volume_concentration_ppm(concentration_mg_m3: float, molar_mass_g_mol: float, temperature_C: float) -> float:
    """Concentration by volume of a vapour whose mass in the air is known.

    Args:
        concentration_mg_m3: concentration by mass, mg/m3, 0 to 10000000.
        molar_mass_g_mol: molar mass, g/mol, 16 to 1000.
        temperature_C: temperature of the air, °C, -20 to 60; limits are stated for 25.
    Returns:
        Concentration, ppm, at sea level.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: c = concentration x 1000 R T/(M p), p = 101.325 kPa, T in K; with M molar mass, T temperature
    Source: ideal gas law
    Example:
        >>> round(volume_concentration_ppm(215, 104.15, 25), 1)
        50.5
    """
    require(CONCENTRATION_MG_M3, concentration_mg_m3=concentration_mg_m3)
    return concentration_mg_m3 / _mg_m3_of_one_ppm(molar_mass_g_mol, temperature_C)


def _mg_m3_of_one_ppm(molar_mass_g_mol: float, temperature_C: float) -> float:
    require(MOLAR_MASS_G_MOL, molar_mass_g_mol=molar_mass_g_mol)
    require(TEMPERATURE_C, temperature_C=temperature_C)
    molar_volume_L = 1000 * GAS_CONSTANT_KJ_MOL_K * (temperature_C + ZERO_CELSIUS_K) / ATMOSPHERE_KPA
    return molar_mass_g_mol / molar_volume_L


def shift_mean_ppm(concentrations_ppm: Sequence[float], spells_h: Sequence[float]) -> float:
    """Mean over a shift of eight hours from spells of known concentration; the rest of the shift counts as clean air.

    Args:
        concentrations_ppm: concentration in each spell, in ppm, 0 to 1000000; up to 50 spells.
        spells_h: how long each lasts, in h, 0 to 24; as many as concentrations.
    Returns:
        Mean over eight hours, ppm. More than eight hours of work add up to more than their mean, as they should.
    Raises:
        OutOfRange: an argument is outside its range, or the lists differ in length.
    Formula: mean = sum of concentration x hours/8
    Source: US OSHA, 29 CFR 1910.1000(d)(1)(i)
    Example:
        >>> shift_mean_ppm([150, 75, 50], [2, 2, 4])
        81.25
    """
    require_entries("concentrations_ppm", concentrations_ppm, MOST_ENTRIES)
    require_each(CONCENTRATION_PPM, "concentrations_ppm", concentrations_ppm)
    require_each(SPELL_H, "spells_h", spells_h)
    _require_as_many(concentrations_ppm, spells_h_count=len(spells_h))
    return fsum(ppm * hours for ppm, hours in zip(concentrations_ppm, spells_h, strict=True)) / SHIFT_H


def explosive_limit_share_percent(concentration_ppm: float, lower_explosive_limit_percent: float) -> float:
    """How near a vapour in the air is to the least that can catch fire or explode.

    Args:
        concentration_ppm: concentration by volume, ppm, 0 to 1000000.
        lower_explosive_limit_percent: lower explosive limit, % by volume, 0.1 to 20.
    Returns:
        Share of the lower explosive limit, %; 100 is at the limit.
    Raises:
        OutOfRange: an argument is outside its range.
    Valid: for the place where the concentration holds. A mean of the room says nothing about the floor, the pit and the
        air just above an open tin, where the saturated vapour may be in the range that burns.
    Formula: share = 100 concentration/(10000 x lower explosive limit)
    Source: definition
    Example:
        >>> round(explosive_limit_share_percent(900, 0.9), 6)
        10.0
    """
    require(CONCENTRATION_PPM, concentration_ppm=concentration_ppm)
    require(LOWER_EXPLOSIVE_LIMIT_PERCENT, lower_explosive_limit_percent=lower_explosive_limit_percent)
    return concentration_ppm / (100 * lower_explosive_limit_percent)


def mixed_explosive_limit_share_percent(
    concentrations_ppm: Sequence[float], lower_explosive_limits_percent: Sequence[float]
) -> float:
    """How near several vapours together are to the least that can catch fire or explode.

    Args:
        concentrations_ppm: concentration of each vapour, in ppm, 0 to 1000000; up to 50 vapours.
        lower_explosive_limits_percent: lower explosive limit of each, in % by volume, 0.1 to 20; as many.
    Returns:
        Share of the lower explosive limit of the mixture, %; 100 is at the limit.
    Raises:
        OutOfRange: an argument is outside its range, or the lists differ in length.
    Valid: as explosive_limit_share; vapours of ordinary solvents in air.
    Formula: share = sum of 100 concentration/(10000 x lower explosive limit)
    Source: Le Chatelier's rule for mixtures (from-memory)
    Example:
        >>> round(mixed_explosive_limit_share_percent([450, 1250], [0.9, 2.5]), 6)
        10.0
    """
    require_entries("concentrations_ppm", concentrations_ppm, MOST_ENTRIES)
    require_each(CONCENTRATION_PPM, "concentrations_ppm", concentrations_ppm)
    require_each(LOWER_EXPLOSIVE_LIMIT_PERCENT, "lower_explosive_limits_percent", lower_explosive_limits_percent)
    _require_as_many(concentrations_ppm, lower_explosive_limits_percent_count=len(lower_explosive_limits_percent))
    pairs = zip(concentrations_ppm, lower_explosive_limits_percent, strict=True)
    return fsum(ppm / (100 * percent) for ppm, percent in pairs)


def mixed_vapours(concentrations_ppm: Sequence[float], limits_ppm: Sequence[float]) -> MixedVapours:
    """Several vapours together against their limits, where they act on the body in the same way.

    Solvent vapours are taken so (drowsiness, eyes and airways) unless it is known that they act apart.

    Args:
        concentrations_ppm: concentration of each vapour, in ppm, 0 to 1000000; up to 50 vapours.
        limits_ppm: limit of each, of the same kind and issuer, in ppm, 0.0001 to 100000; as many.
    Returns:
        MixedVapours: sum of the shares of the limits (dimensionless, 1 at the limit); all together, and limit of this
        mixture (ppm; the lowest of the limits where there is no vapour).
    Raises:
        OutOfRange: an argument is outside its range, or the lists differ in length.
    Valid: not for sensitisers (isocyanates, epoxy hardeners, methacrylates on the skin), which have no share to spare.
    Formula: E = sum of concentration/limit for each; mixture limit = total/E
    Source: US OSHA, 29 CFR 1910.1000(d)(2)(i); mixture limit after Crowl and Louvar, Chemical Process Safety
        (from-memory)
    Example:
        >>> mixed = mixed_vapours([5, 20, 10], [10, 50, 20])
        >>> round(mixed.sum_of_shares_ratio, 2), round(mixed.mixture_limit_ppm, 2)
        (1.4, 25.0)
    """
    require_entries("concentrations_ppm", concentrations_ppm, MOST_ENTRIES)
    require_each(CONCENTRATION_PPM, "concentrations_ppm", concentrations_ppm)
    require_each(LIMIT_PPM, "limits_ppm", limits_ppm)
    _require_as_many(concentrations_ppm, limits_ppm_count=len(limits_ppm))
    total_ppm = fsum(concentrations_ppm)
    shares = fsum(ppm / limit for ppm, limit in zip(concentrations_ppm, limits_ppm, strict=True))
    mixture_limit_ppm = total_ppm / shares if shares else min(limits_ppm)
    return MixedVapours(shares, total_ppm, mixture_limit_ppm)


def _require_as_many(first: Sequence[float], **counts: int) -> None:
    require(Range(len(first), len(first)), **counts)
