"""Plain arithmetic that rules may ask for; the caller minds the units."""

import math

from advisor.calculators.ranges import OutOfRange, Range, require

__all__ = [
    "difference",
    "kept_within",
    "mean",
    "pieces_along_count",
    "product",
    "ratio",
    "rectangle_area_m2",
    "same_value",
    "total",
]

NUMBER = Range(-1e9, 1e9)
SIDE_MM = Range(0, 1_000_000)
SMALLEST_DENOMINATOR = 1e-9


def ratio(numerator: float, denominator: float) -> float:
    """One value divided by another of the same unit.

    Args:
        numerator: any unit, -1000000000 to 1000000000.
        denominator: the unit of the numerator, -1000000000 to 1000000000; not zero.
    Returns:
        Ratio, dimensionless.
    Raises:
        OutOfRange: an argument is outside its range, or the denominator is nearer to zero than 1e-9.
    Formula: ratio = numerator/denominator
    Source: arithmetic
    Example:
        >>> ratio(3, 4)
        0.75
    """
    require(NUMBER, numerator=numerator, denominator=denominator)
    if abs(denominator) < SMALLEST_DENOMINATOR:
        low, high = sorted(math.copysign(limit, denominator) for limit in (SMALLEST_DENOMINATOR, NUMBER.high))
        raise OutOfRange("denominator", denominator, low, high, "")
    return numerator / denominator


def difference(minuend: float, subtrahend: float) -> float:
    """One value less another of the same unit.

    Args:
        minuend: any unit, -1000000000 to 1000000000.
        subtrahend: the unit of the minuend, -1000000000 to 1000000000.
    Returns:
        Difference, in the unit of the arguments.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: difference = minuend - subtrahend
    Source: arithmetic
    Example:
        >>> difference(5, 3)
        2
    """
    require(NUMBER, minuend=minuend, subtrahend=subtrahend)
    return minuend - subtrahend


def rectangle_area_m2(length_mm: float, width_mm: float) -> float:
    """Area of a rectangle.

    Args:
        length_mm: one side, mm, 0 to 1000000.
        width_mm: the other side, mm, 0 to 1000000.
    Returns:
        Area, m2.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: area = length x width
    Source: geometry
    Example:
        >>> rectangle_area_m2(1200, 500)
        0.6
    """
    require(SIDE_MM, length_mm=length_mm, width_mm=width_mm)
    return length_mm * width_mm / 1e6


def same_value(one_value: float) -> float:
    """One value, known under another name from here on.

    Args:
        one_value: any unit, -1000000000 to 1000000000.
    Returns:
        The value as it is, in its unit.
    Raises:
        OutOfRange: the argument is outside its range.
    Formula: same = one value
    Source: arithmetic
    Example:
        >>> same_value(2)
        2
    """
    require(NUMBER, one_value=one_value)
    return one_value


def kept_within(one_value: float, least: float, most: float) -> float:
    """One value, or the nearer of two bounds where it lies outside them.

    Args:
        one_value: any unit, -1000000000 to 1000000000.
        least: the unit of the first, -1000000000 to 1000000000.
        most: the unit of the first, -1000000000 to 1000000000; it holds where it is below the least.
    Returns:
        The value kept within, in the unit of the arguments.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: kept = min(max(one value, least), most)
    Source: arithmetic
    Example:
        >>> kept_within(2.5, 1, 2)
        2
    """
    require(NUMBER, one_value=one_value, least=least, most=most)
    return min(max(one_value, least), most)


def mean(one_value: float, other_value: float) -> float:
    """Middle between two values of the same unit.

    Args:
        one_value: any unit, -1000000000 to 1000000000.
        other_value: the unit of the first, -1000000000 to 1000000000.
    Returns:
        Mean, in the unit of the arguments.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: mean = (one value + other value)/2
    Source: arithmetic
    Example:
        >>> mean(2, 5)
        3.5
    """
    require(NUMBER, one_value=one_value, other_value=other_value)
    return (one_value + other_value) / 2


def total(one_value: float, other_value: float) -> float:
    """Two amounts of the same unit together.

    Args:
        one_value: any unit, -1000000000 to 1000000000.
        other_value: the unit of the first, -1000000000 to 1000000000.
    Returns:
        Sum, in the unit of the arguments.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: sum = one value + other value
    Source: arithmetic
    Example:
        >>> total(2.5, 5)
        7.5
    """
    require(NUMBER, one_value=one_value, other_value=other_value)
    return one_value + other_value


def pieces_along_count(length_mm: float, spacing_mm: float) -> int:
    """Pieces (clamps, fasteners, spacers) along a line, one at each end and none further apart than the spacing.

    Args:
        length_mm: length of the line, mm, 0 to 1000000.
        spacing_mm: widest distance between two pieces, mm, 1 to 1000000.
    Returns:
        Number of pieces, count.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: count = ceil(length / spacing) + 1
    Source: geometry
    Example:
        >>> pieces_along_count(1200, 150)
        9
    """
    require(SIDE_MM, length_mm=length_mm)
    require(Range(1, SIDE_MM.high), spacing_mm=spacing_mm)
    return math.ceil(length_mm / spacing_mm) + 1


def product(one_value: float, other_value: float) -> float:
    """One value times another, such as an amount times a share of it.

    Args:
        one_value: any unit, -1000000000 to 1000000000.
        other_value: any unit, -1000000000 to 1000000000.
    Returns:
        Product, in the unit of the first times that of the other; dimensionless when both are.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: product = one value x other value
    Source: arithmetic
    Example:
        >>> product(2.5, 0.4)
        1.0
    """
    require(NUMBER, one_value=one_value, other_value=other_value)
    return one_value * other_value
