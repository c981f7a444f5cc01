"""Cure through a day whose temperature rises and falls."""

from collections.abc import Sequence
from dataclasses import dataclass

from advisor.calculators.cure import ACTIVATION_ENERGY_KJ_MOL, TEMPERATURE_C
from advisor.calculators.day_course import Day
from advisor.calculators.ranges import Range, require, require_each, require_entries

__all__ = ["CureThroughDay", "cure_through_day", "equivalent_age_h"]

TIME_H = Range(0, 720)
NEEDED_H = Range(0.01, 2000)
POINT_COUNT = Range(2, 1000)
MOST_POINTS = 1000


@dataclass(frozen=True, slots=True)
class CureThroughDay:
    """Whether and when a stage of the cure is reached; hours are those of the list, None where it never happens.

    The temperatures and `falling` are of the time from the start until the stage is reached, or, where it is not,
    until it gets too cold or the list ends. A ratio of 1 is just enough.
    """

    reached: bool
    reached_at_h: float | None
    elapsed_h: float | None
    too_cold_at_h: float | None
    latest_start_h: float | None
    available_age_h: float
    available_to_needed_ratio: float
    start_temperature_C: float
    end_temperature_C: float
    coldest_C: float
    warmest_C: float
    falling: bool


def equivalent_age_h(
    times_h: Sequence[float],
    temperatures_C: Sequence[float],
    reference_temperature_C: float,
    activation_energy_kJ_mol: float,
) -> float:
    """Hours at the reference temperature that cure as far as the whole list of hours and temperatures.

    Args:
        times_h: hours of the readings, rising, each in h, 0 to 720; two readings or more.
        temperatures_C: temperature of the work at each of them, in °C, -10 to 100; straight lines between.
        reference_temperature_C: temperature that the known time is rated at, °C, -10 to 100.
        activation_energy_kJ_mol: apparent activation energy, kJ/mol, 10 to 200.
    Returns:
        Equivalent age, h.
    Raises:
        OutOfRange: an argument is outside its range, the hours do not rise, or the lists differ in length.
    Valid: thin work that keeps the temperature of its surroundings; warm thick layers run ahead of it. A resin that
        got too cold to cure, or has hardened as far as its temperature lets it, does not follow the rule.
    Formula: age = sum of exp(E/R (1/T1 - 1/T(t))) dt, T in K; with T1 reference temperature, E activation energy
    Source: ASTM C1074, maturity by equivalent age (from-memory), which is the Arrhenius equation summed over time
    Example:
        >>> round(equivalent_age_h([8, 12], [20, 20], 20, 51.2), 3)
        4.0
    """
    _require_readings(times_h, temperatures_C)
    require(TEMPERATURE_C, reference_temperature_C=reference_temperature_C)
    require(ACTIVATION_ENERGY_KJ_MOL, activation_energy_kJ_mol=activation_energy_kJ_mol)
    day = Day(times_h, temperatures_C, reference_temperature_C, activation_energy_kJ_mol)
    return day.age_h(times_h[0], times_h[-1])


def cure_through_day(
    times_h: Sequence[float],
    temperatures_C: Sequence[float],
    start_h: float,
    needed_h: float,
    reference_temperature_C: float,
    activation_energy_kJ_mol: float,
    lowest_temperature_C: float,
) -> CureThroughDay:
    """When work begun at an hour of the day reaches a stage of its cure, unless it gets too cold before.

    Ask once for each stage: gelled, may be handled, may be sanded, may be loaded.

    Args:
        times_h: hours of the readings, rising, each in h, 0 to 720; 26 is two at night. Two readings or more.
        temperatures_C: temperature of the work at each of them, in °C, -10 to 100; straight lines between.
        start_h: hour at which the resin is mixed, h, 0 to 720; within the list.
        needed_h: time to this stage at the reference temperature, h, 0.01 to 2000.
        reference_temperature_C: temperature that this time is rated at, °C, -10 to 100.
        activation_energy_kJ_mol: apparent activation energy, kJ/mol, 10 to 200.
        lowest_temperature_C: colder than this the resin stops curing properly, °C, -10 to 100.
    Returns:
        CureThroughDay: whether the stage is reached; at which hour and after how long (h); when it gets too cold (h);
        latest hour to start in the same warm spell and still reach it (h, may be before the start given); equivalent
        age to be had from the start (h) and as a ratio (dimensionless) to the age needed; temperatures (°C); whether
        it ends colder than it began.
    Raises:
        OutOfRange: an argument is outside its range, the hours do not rise, or the lists differ in length.
    Valid: thin work that keeps the temperature of its surroundings: a part cools slower than air, a cold floor or
        mould keeps it colder. What got too cold before its time is not counted on later: it may never cure fully.
    Formula: age(t) = sum of exp(E/R (1/T_ref - 1/T(t))) dt from then on, T in K; reached when age = needed
    Source: ASTM C1074, maturity by equivalent age (from-memory), which is the Arrhenius equation summed over time
    Example:
        >>> day = cure_through_day([8, 14, 20], [12, 24, 10], 9, 3, 20, 51.2, 12)
        >>> day.reached, round(day.reached_at_h, 2), round(day.too_cold_at_h, 2), day.falling
        (True, 12.55, 19.14, False)
    """
    _require_readings(times_h, temperatures_C)
    require(TIME_H, start_h=start_h)
    require(Range(times_h[0], times_h[-1]), start_h=start_h)
    require(NEEDED_H, needed_h=needed_h)
    require(TEMPERATURE_C, reference_temperature_C=reference_temperature_C, lowest_temperature_C=lowest_temperature_C)
    require(ACTIVATION_ENERGY_KJ_MOL, activation_energy_kJ_mol=activation_energy_kJ_mol)
    day = Day(times_h, temperatures_C, reference_temperature_C, activation_energy_kJ_mol)
    too_cold_h = day.too_cold_after_h(lowest_temperature_C, start_h)
    spell_end_h = times_h[-1] if too_cold_h is None else too_cold_h
    available_h = day.age_h(start_h, spell_end_h)
    reached_h = day.hour_of_age(needed_h, start_h, spell_end_h) if available_h >= needed_h else None
    seen = day.temperatures_between(start_h, spell_end_h if reached_h is None else reached_h)
    return CureThroughDay(
        reached=reached_h is not None,
        reached_at_h=reached_h,
        elapsed_h=None if reached_h is None else reached_h - start_h,
        too_cold_at_h=too_cold_h,
        latest_start_h=_latest_start_h(day, needed_h, lowest_temperature_C, start_h, spell_end_h),
        available_age_h=available_h,
        available_to_needed_ratio=available_h / needed_h,
        start_temperature_C=seen[0],
        end_temperature_C=seen[-1],
        coldest_C=min(seen),
        warmest_C=max(seen),
        falling=seen[-1] < seen[0],
    )


def _latest_start_h(day: Day, needed_h: float, lowest_C: float, start_h: float, spell_end_h: float) -> float | None:
    """Latest hour of the warm spell around the start from which the age needed is still reached in it."""
    too_cold_h = day.too_cold_before_h(lowest_C, start_h)
    spell_start_h = day.times_h[0] if too_cold_h is None else too_cold_h
    spare_h = day.age_h(spell_start_h, spell_end_h) - needed_h
    return day.hour_of_age(spare_h, spell_start_h, spell_end_h) if spare_h >= 0 else None


def _require_readings(times_h: Sequence[float], temperatures_C: Sequence[float]) -> None:
    require_entries("times_h", times_h, MOST_POINTS)
    require_each(TIME_H, "times_h", times_h)
    require_each(TEMPERATURE_C, "temperatures_C", temperatures_C)
    require(POINT_COUNT, times_h_count=len(times_h))
    require(Range(len(times_h), len(times_h)), temperatures_C_count=len(temperatures_C))
    for earlier_h, later_h in zip(times_h, times_h[1:], strict=False):
        require(Range(earlier_h + 1e-6, TIME_H.high), times_h=later_h)
