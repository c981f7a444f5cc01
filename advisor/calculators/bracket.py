"""A foot that is held to a face while its load stands out from it: what the lever pulls at the upper edge."""

from collections.abc import Sequence

from advisor.calculators.ranges import Range, require, require_each, require_entries

__all__ = ["bracket_edge_stress_MPa", "bracket_top_pull_N"]

LOAD_N = Range(0, 1_000_000)
REACH_MM = Range(0, 10_000)
HEIGHT_MM = Range(1, 10_000)
FASTENER_COUNT = Range(1, 1000)
ROWS_MOST = 100
FOOT_AREA_MM2 = Range(1, 10_000_000)


def bracket_top_pull_N(load_N: float, reach_mm: float, row_heights_mm: Sequence[float], fastener_count: float) -> float:
    """Pull straight out of the face on each fastener of the uppermost row of a loaded bracket.

    Args:
        load_N: load that hangs on the bracket, along the face, N, 0 to 1000000.
        reach_mm: distance of the load from the face, mm, 0 to 10000.
        row_heights_mm: height of each row of fasteners above the edge that the bracket turns about, mm, 1 to 10000,
            1 to 100 entries.
        fastener_count: fasteners in each row, dimensionless, 1 to 1000.
    Returns:
        Pull on one fastener of the uppermost row, N.
    Raises:
        OutOfRange: an argument is outside its range, or no row is given.
    Valid: a stiff foot on a stiff face, like fasteners, turning about its lower edge; a foot or face that bends pulls
        harder, by prying. The load that slides the foot comes on top.
    Formula: pull = load x reach x highest/(fasteners in a row x sum of squared heights); with one row load x
        reach/(fasteners x height)
    Source: statics: moment about the lower edge, with pulls in proportion to the height, as usual for bolted brackets
        in textbooks of machine design (from-memory)
    Example:
        >>> round(bracket_top_pull_N(30000, 500, [80, 250], 2), -2)
        27200.0
    """
    require(LOAD_N, load_N=load_N)
    require(REACH_MM, reach_mm=reach_mm)
    require_entries("row_heights_mm", row_heights_mm, ROWS_MOST)
    require_each(HEIGHT_MM, "row_heights_mm", row_heights_mm)
    require(FASTENER_COUNT, fastener_count=fastener_count)
    squared_mm2 = sum(height_mm**2 for height_mm in row_heights_mm)
    return load_N * reach_mm * max(row_heights_mm) / (fastener_count * squared_mm2)


def bracket_edge_stress_MPa(load_N: float, reach_mm: float, foot_height_mm: float, foot_area_mm2: float) -> float:
    """Tension at the upper edge of a glued foot whose load stands out from the face.

    Args:
        load_N: load that hangs on the bracket, along the face, N, 0 to 1000000.
        reach_mm: distance of the load from the face, mm, 0 to 10000.
        foot_height_mm: height of the glued foot, in the direction of the load, mm, 1 to 10000.
        foot_area_mm2: glued area of the foot, mm2, 1 to 10000000.
    Returns:
        Tension of the glue line at its upper edge, MPa.
    Raises:
        OutOfRange: an argument is outside its range.
    Valid: a stiff foot on a stiff face, a rectangle of glue that is pulled above its middle and pressed below it; a
        foot or face that bends peels at the edge with more. A lower bound, therefore.
    Formula: stress = 6 x load x reach/(area x height)
    Source: statics: bending stress of a rectangle, moment/(width x height^2/6)
    Example:
        >>> bracket_edge_stress_MPa(1000, 200, 50, 30000)
        0.8
    """
    require(LOAD_N, load_N=load_N)
    require(REACH_MM, reach_mm=reach_mm)
    require(HEIGHT_MM, foot_height_mm=foot_height_mm)
    require(FOOT_AREA_MM2, foot_area_mm2=foot_area_mm2)
    return 6 * load_N * reach_mm / (foot_area_mm2 * foot_height_mm)
