"""How long a step of the work takes, from its length or area and the pace of a practised hand."""

from advisor.calculators.ranges import Range, require

__all__ = ["time_for_area_min", "time_for_length_min"]

AREA_M2 = Range(0, 10_000)
LENGTH_MM = Range(0, 1_000_000)
PACE_MIN = Range(0, 10_000)
SET_UP_MIN = Range(0, 1440)
TIMES_LONGER = Range(0.1, 10)
MM_PER_M = 1000


def time_for_area_min(area_m2: float, square_metre_min: float, slowness_ratio: float, set_up_min: float) -> float:
    """Time for work over an area, such as grinding or sanding.

    Args:
        area_m2: area worked, m2, 0 to 10000.
        square_metre_min: what a practised hand needs for one square metre, min, 0 to 10000.
        slowness_ratio: how many times longer this person takes, 0.1 to 10, dimensionless.
        set_up_min: fetching, marking and setting up, whatever the area, min, 0 to 1440.
    Returns:
        Time, min.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: time = set-up + area x time of a square metre x slowness
    Source: common-practice, arithmetic
    Example:
        >>> time_for_area_min(0.2, 120, 2.5, 5)
        65.0
    """
    require(AREA_M2, area_m2=area_m2)
    require(PACE_MIN, square_metre_min=square_metre_min)
    require(TIMES_LONGER, slowness_ratio=slowness_ratio)
    require(SET_UP_MIN, set_up_min=set_up_min)
    return set_up_min + area_m2 * square_metre_min * slowness_ratio


def time_for_length_min(length_mm: float, metre_min: float, slowness_ratio: float, set_up_min: float) -> float:
    """Time for work along a line, such as masking or fitting a joint.

    Args:
        length_mm: length worked along, mm, 0 to 1000000.
        metre_min: what a practised hand needs for one metre, min, 0 to 10000.
        slowness_ratio: how many times longer this person takes, 0.1 to 10, dimensionless.
        set_up_min: fetching, marking and setting up, whatever the length, min, 0 to 1440.
    Returns:
        Time, min.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: time = set-up + length x time of a metre x slowness
    Source: common-practice, arithmetic
    Example:
        >>> time_for_length_min(1200, 10, 1.5, 10)
        28.0
    """
    require(LENGTH_MM, length_mm=length_mm)
    require(PACE_MIN, metre_min=metre_min)
    require(TIMES_LONGER, slowness_ratio=slowness_ratio)
    require(SET_UP_MIN, set_up_min=set_up_min)
    return set_up_min + length_mm / MM_PER_M * metre_min * slowness_ratio
