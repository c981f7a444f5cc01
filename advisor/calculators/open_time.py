"""Open time of an adhesive: how much is needed, which sold class gives it, how many nozzles."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from advisor.calculators.cure import working_time_min
from advisor.calculators.ranges import Range, require, require_each, require_entries

__all__ = [
    "OpenTimeChoice",
    "application_time_min",
    "choose_open_time_class",
    "nozzles_needed",
    "open_time_needed_min",
    "overall_pace_m_min",
]

BEAD_LENGTH_MM = Range(1, 1_000_000)
DISPENSING_RATE_M_MIN = Range(0.01, 100)
CLOSING_TIME_MIN = Range(0, 1440)
USABLE_FRACTION = Range(0.05, 1)
APPLICATION_TIME_MIN = Range(0, 200_000)
OPEN_TIME_MIN = Range(0.1, 100_000)
LAYING_TIME_MIN = Range(0, 100_000)
FASTENERS = Range(0, 10_000)
FASTENER_TIME_MIN = Range(0, 60)
CARTRIDGES = Range(0, 10_000)
MOST_CLASSES = 50
SHORTEST_SECTION_MM = 1
ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class OpenTimeChoice:
    """The class to buy, and the sections to work in; a section count of 0 means that no section fits.

    The spare share is of the time at today's temperature; it is below zero where the class does not fit.
    """

    class_min: float
    time_at_temperature_min: float
    needed_min: float
    spare_fraction: float
    fits: bool
    longest_section_mm: float
    section_count: int


def application_time_min(
    bead_length_mm: float, dispensing_rate_m_min: float, closing_time_min: float
) -> float:
    """Time from the first adhesive out of the nozzle until the joint is closed and clamped.

    Args:
        bead_length_mm: length of all beads, mm, 1 to 1000000.
        dispensing_rate_m_min: bead laid, m/min, 0.01 to 100.
        closing_time_min: bringing together, adjusting, clamping, min, 0 to 1440.
    Returns:
        Application time, min.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: t = bead length/dispensing rate + closing time
    Source: common-practice, arithmetic
    Example:
        >>> application_time_min(4000, 1.0, 5)
        9.0
    """
    require(BEAD_LENGTH_MM, bead_length_mm=bead_length_mm)
    require(DISPENSING_RATE_M_MIN, dispensing_rate_m_min=dispensing_rate_m_min)
    require(CLOSING_TIME_MIN, closing_time_min=closing_time_min)
    return bead_length_mm / 1000 / dispensing_rate_m_min + closing_time_min


def open_time_needed_min(application_time_min: float, usable_fraction: float) -> float:
    """Open time at today's temperature that leaves the application its margin.

    Args:
        application_time_min: from the first adhesive until clamped, min, 0 to 200000.
        usable_fraction: share of the open time that is planned for, dimensionless, 0.05 to 1.
    Returns:
        Open time needed, min.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: needed = application time/usable share
    Source: common-practice, arithmetic
    Example:
        >>> open_time_needed_min(9, 0.60)
        15.0
    """
    require(APPLICATION_TIME_MIN, application_time_min=application_time_min)
    require(USABLE_FRACTION, usable_fraction=usable_fraction)
    return application_time_min / usable_fraction


def overall_pace_m_min(
    length_mm: float,
    hand_pace_m_min: float,
    laying_time_min: float,
    fastener_count: int,
    fastener_time_min: float,
) -> float:
    """Pace along a joint once the time of the gun and of fasteners set wet is added to that of the hands.

    Args:
        length_mm: length of the joint, mm, 1 to 1000000.
        hand_pace_m_min: joint closed and held, m/min, 0.01 to 100.
        laying_time_min: time that gun or spreader needs for the whole amount, min, 0 to 100000.
        fastener_count: fasteners set while the adhesive is wet, count, 0 to 10000.
        fastener_time_min: time for one of them, min, 0 to 60.
    Returns:
        Pace, m/min.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: pace = length/(length/hand pace + laying time + fasteners x time of one)
    Source: common-practice, arithmetic
    Example:
        >>> overall_pace_m_min(3000, 0.5, 5, 10, 0.4)
        0.2
    """
    require(BEAD_LENGTH_MM, length_mm=length_mm)
    require(DISPENSING_RATE_M_MIN, hand_pace_m_min=hand_pace_m_min)
    require(LAYING_TIME_MIN, laying_time_min=laying_time_min)
    require(FASTENERS, fastener_count=fastener_count)
    require(FASTENER_TIME_MIN, fastener_time_min=fastener_time_min)
    length_m = length_mm / 1000
    by_hand_min = length_m / hand_pace_m_min
    return length_m / (by_hand_min + laying_time_min + fastener_count * fastener_time_min)


def choose_open_time_class(
    bead_length_mm: float,
    dispensing_rate_m_min: float,
    closing_time_min: float,
    usable_fraction: float,
    available_classes_min: Sequence[float],
    reference_temperature_C: float,
    temperature_C: float,
    activation_energy_kJ_mol: float,
) -> OpenTimeChoice:
    """Shortest sold open time that covers the job at today's temperature, or sections for the longest.

    Where no class fits, the longest is returned with the longest bead that it does cover; the closing
    time is taken to be as long for a section as for the whole.

    Args:
        bead_length_mm: length of all beads, mm, 1 to 1000000.
        dispensing_rate_m_min: bead laid, m/min, 0.01 to 100.
        closing_time_min: bringing together, adjusting, clamping, min, 0 to 1440.
        usable_fraction: share of the open time that is planned for, dimensionless, 0.05 to 1.
        available_classes_min: open times sold, each in min, 0.1 to 100000; up to 50 of them.
        reference_temperature_C: temperature at which the classes are rated, °C, -10 to 100.
        temperature_C: temperature of adhesive and parts, °C, -10 to 100.
        activation_energy_kJ_mol: apparent activation energy, kJ/mol, 10 to 200.
    Returns:
        OpenTimeChoice: times in min, longest section in mm, section count.
    Raises:
        OutOfRange: an argument is outside its range, or there are no classes.
    Formula: smallest class with t(T) >= (length/rate + closing)/usable share; else
        section = rate x (usable share x t(T) - closing), t(T) as in working_time_min
    Source: common-practice; Arrhenius equation (from-memory)
    Example:
        >>> choice = choose_open_time_class(4000, 1.0, 5, 0.60, [5, 20, 90], 23, 30, 51.2)
        >>> choice.class_min, round(choice.time_at_temperature_min, 1), choice.fits
        (90, 55.7, True)
    """
    require_entries("available_classes_min", available_classes_min, MOST_CLASSES)
    require_each(OPEN_TIME_MIN, "available_classes_min", available_classes_min)
    application_min = application_time_min(bead_length_mm, dispensing_rate_m_min, closing_time_min)
    needed_min = open_time_needed_min(application_min, usable_fraction)
    factor = working_time_min(1, reference_temperature_C, temperature_C, activation_energy_kJ_mol)
    classes = sorted(available_classes_min)
    enough = [sold for sold in classes if sold * factor >= needed_min * (1 - ROUNDING)]
    class_min = enough[0] if enough else classes[-1]
    usable_min = usable_fraction * class_min * factor
    coverable_mm = 1000 * dispensing_rate_m_min * (usable_min - closing_time_min)
    section_mm = bead_length_mm if enough else coverable_mm if coverable_mm >= SHORTEST_SECTION_MM else 0.0
    return OpenTimeChoice(
        class_min=class_min,
        time_at_temperature_min=class_min * factor,
        needed_min=needed_min,
        spare_fraction=1 - needed_min / (class_min * factor),
        fits=bool(enough),
        longest_section_mm=section_mm,
        section_count=ceil(bead_length_mm / section_mm - ROUNDING) if section_mm else 0,
    )


def nozzles_needed(cartridge_count: int, application_time_min: float, open_time_min: float) -> int:
    """Mixing nozzles for a job: one for each cartridge, more where the work outlasts the open time.

    Args:
        cartridge_count: cartridges, count, 0 to 10000.
        application_time_min: dispensing and pauses altogether, min, 0 to 200000.
        open_time_min: open time at today's temperature, min, 0.1 to 100000.
    Returns:
        Number of nozzles, a count.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: n = max(cartridge count, ceil(application time/open time)); 0 without cartridges
    Source: common-practice
    Example:
        >>> nozzles_needed(2, 50, 20)
        3
    """
    require(CARTRIDGES, cartridge_count=cartridge_count)
    require(APPLICATION_TIME_MIN, application_time_min=application_time_min)
    require(OPEN_TIME_MIN, open_time_min=open_time_min)
    if cartridge_count == 0:
        return 0
    return max(ceil(cartridge_count), ceil(application_time_min / open_time_min - ROUNDING))
