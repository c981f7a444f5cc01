"""Working time at today's temperature and dose."""

from math import exp, log

from advisor.calculators.ranges import Range, require

__all__ = ["activation_energy_for_doubling_kJ_mol", "dose_adjusted_time_min", "working_time_min"]

GAS_CONSTANT_KJ_MOL_K = 8.314462618e-3  # CODATA 2018 (from-memory)
ZERO_CELSIUS_K = 273.15
TIME_MIN = Range(0.1, 100_000)
TEMPERATURE_C = Range(-10, 100)
ACTIVATION_ENERGY_KJ_MOL = Range(10, 200)
DOSE_PERCENT = Range(0.1, 5)


def working_time_min(
    reference_time_min: float,
    reference_temperature_C: float,
    temperature_C: float,
    activation_energy_kJ_mol: float,
) -> float:
    """Working time at another temperature, from one that is known.

    Holds for resin as thin as in the known case: a deep cup heats itself and goes off sooner.

    Args:
        reference_time_min: known working time, min, 0.1 to 100000.
        reference_temperature_C: temperature at which it is known, °C, -10 to 100.
        temperature_C: temperature of resin and work, °C, -10 to 100.
        activation_energy_kJ_mol: apparent activation energy, kJ/mol, 10 to 200.
    Returns:
        Working time, min.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: t = t1 exp(E/R (1/T - 1/T1)), T in K; with t1 reference time, T1 reference temperature, T temperature,
        E activation energy
    Source: Arrhenius equation (from-memory); the activation energy is the caller's
    Example:
        >>> round(working_time_min(20, 20, 30, 51.2), 1)
        10.0
    """
    require(TIME_MIN, reference_time_min=reference_time_min)
    require(TEMPERATURE_C, reference_temperature_C=reference_temperature_C, temperature_C=temperature_C)
    require(ACTIVATION_ENERGY_KJ_MOL, activation_energy_kJ_mol=activation_energy_kJ_mol)
    colder_per_K = 1 / (temperature_C + ZERO_CELSIUS_K) - 1 / (reference_temperature_C + ZERO_CELSIUS_K)
    return reference_time_min * exp(activation_energy_kJ_mol / GAS_CONSTANT_KJ_MOL_K * colder_per_K)


def activation_energy_for_doubling_kJ_mol(lower_temperature_C: float, upper_temperature_C: float) -> float:
    """Activation energy at which the rate doubles between two temperatures.

    With the energy from 20 and 30 °C the time at 10 °C is 2.10 times that at 20 °C, not 2.

    Args:
        lower_temperature_C: lower temperature, °C, -10 to 100.
        upper_temperature_C: upper temperature, °C, -10 to 100; at least 1 K above the lower.
    Returns:
        Activation energy, kJ/mol.
    Raises:
        OutOfRange: an argument is outside its range, or the upper is not 1 K above the lower.
    Formula: E = R ln 2/(1/T1 - 1/T2), T in K; with T1 lower temperature, T2 upper temperature
    Source: Arrhenius equation (from-memory); doubling for each 10 K is common-practice
    Example:
        >>> round(activation_energy_for_doubling_kJ_mol(20, 30), 1)
        51.2
    """
    require(TEMPERATURE_C, lower_temperature_C=lower_temperature_C, upper_temperature_C=upper_temperature_C)
    require(Range(lower_temperature_C + 1, TEMPERATURE_C.high), upper_temperature_C=upper_temperature_C)
    difference_per_K = 1 / (lower_temperature_C + ZERO_CELSIUS_K) - 1 / (upper_temperature_C + ZERO_CELSIUS_K)
    return GAS_CONSTANT_KJ_MOL_K * log(2) / difference_per_K


def dose_adjusted_time_min(time_min: float, dose_percent: float, reference_dose_percent: float) -> float:
    """Working time at another dose of peroxide: twice the dose, half the time.

    A coarse rule; between half and twice the reference dose only.

    Args:
        time_min: working time at the reference dose, min, 0.1 to 100000.
        dose_percent: dose used, % by mass of resin, 0.1 to 5; within half to twice the reference.
        reference_dose_percent: dose at which the time is known, % by mass of resin, 0.1 to 5.
    Returns:
        Working time, min.
    Raises:
        OutOfRange: an argument is outside its range, or the dose is not within half to twice the reference.
    Formula: adjusted = time x reference dose/dose
    Source: common-practice
    Example:
        >>> dose_adjusted_time_min(20, 2.0, 1.5)
        15.0
    """
    require(TIME_MIN, time_min=time_min)
    require(DOSE_PERCENT, dose_percent=dose_percent, reference_dose_percent=reference_dose_percent)
    require(Range(reference_dose_percent / 2, reference_dose_percent * 2), dose_percent=dose_percent)
    return time_min * reference_dose_percent / dose_percent
