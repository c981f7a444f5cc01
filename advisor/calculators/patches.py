"""Sizes to cut: stepped patches over a taper, strips over a joint, plies of one size."""

from collections.abc import Iterable
from dataclasses import dataclass
from math import ceil, fsum

from advisor.calculators.ranges import Range, require
from advisor.calculators.schedule import Schedule

__all__ = [
    "CutList",
    "Patch",
    "one_size_cut_list",
    "patch_cut_list",
    "strip_cut_list",
    "taper_length_mm",
]

THICKNESS_MM = Range(0.1, 200)
TAPER_RATIO = Range(1, 200)
OPENING_MM = Range(0, 20_000)
TAPER_LENGTH_MM = Range(1, 5000)
OVERLAP_MM = Range(0, 500)
LENGTH_MM = Range(1, 100_000)
HALF_WIDTH_MM = Range(1, 5000)
CUT_TO_MM = 5  # nobody cuts glass to the millimetre
ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class Patch:
    """One piece of glass as cut; the number is that of its ply, in the order of laying."""

    number: int
    reinforcement: str
    length_mm: float
    width_mm: float
    area_m2: float


@dataclass(frozen=True, slots=True)
class CutList:
    """All patches in the order of laying, and how far the outermost glass reaches."""

    patches: tuple[Patch, ...]
    total_area_m2: float
    outer_length_mm: float
    outer_width_mm: float


def taper_length_mm(thickness_mm: float, taper_ratio: float) -> float:
    """Width of the taper on each side, seen from above.

    Args:
        thickness_mm: thickness of the laminate that is ground to the taper, mm, 0.1 to 200.
        taper_ratio: taper length to thickness, dimensionless, 1 to 200.
    Returns:
        Taper length on each side, mm.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: taper length = thickness x taper ratio
    Source: geometry
    Example:
        >>> taper_length_mm(3.0, 12)
        36.0
    """
    require(THICKNESS_MM, thickness_mm=thickness_mm)
    require(TAPER_RATIO, taper_ratio=taper_ratio)
    return thickness_mm * taper_ratio


def patch_cut_list(
    schedule: Schedule,
    opening_length_mm: float,
    opening_width_mm: float,
    taper_length_mm: float,
    edge_overlap_mm: float,
    largest_first: bool,
) -> CutList:
    """Patches that fill a taper ground round an opening, with a finishing ply over its edge.

    The last ply of the schedule is the finishing ply. Of the m plies below it, the k-th smallest
    ends k/m of the way up the taper; rounding up to whole 5 mm carries an edge at most 2.5 mm further.

    Args:
        schedule: the plies, from build_schedule.
        opening_length_mm: length of the opening at the bottom of the taper, mm, 0 to 20000.
        opening_width_mm: width of the opening at the bottom of the taper, mm, 0 to 20000.
        taper_length_mm: width of the taper on each side, mm, 1 to 5000.
        edge_overlap_mm: how far the finishing ply passes the taper on each side, mm, 0 to 500.
        largest_first: true lays the largest filling patch first, false the smallest.
    Returns:
        CutList: length and width of each patch in mm, areas in m2.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: size_k = opening + 2 taper k/m, k = 1..m; finishing ply = opening + 2 (taper + overlap)
    Source: geometry; even stepping and an overlapping finishing ply are common-practice
    Example:
        >>> from advisor.calculators.schedule import build_schedule
        >>> mat = {"areal_mass_g_m2": 450, "glass_fraction": 0.30, "glass_density_kg_m3": 2560}
        >>> plies = build_schedule(3.0, [], ["mat"], [], {"mat": mat}, 1200, 1)
        >>> [patch.length_mm for patch in patch_cut_list(plies, 100, 50, 40, 25, False).patches]
        [140.0, 180.0, 230.0]
    """
    require(OPENING_MM, opening_length_mm=opening_length_mm, opening_width_mm=opening_width_mm)
    require(TAPER_LENGTH_MM, taper_length_mm=taper_length_mm)
    require(OVERLAP_MM, edge_overlap_mm=edge_overlap_mm)
    filling = len(schedule.plies) - 1
    reaches_mm = [taper_length_mm * step / filling for step in range(1, filling + 1)]
    if largest_first:
        reaches_mm.reverse()
    reaches_mm.append(taper_length_mm + edge_overlap_mm)
    sizes = [(opening_length_mm + 2 * reach, opening_width_mm + 2 * reach) for reach in reaches_mm]
    return _cut_list(schedule, sizes)


def strip_cut_list(
    schedule: Schedule, joint_length_mm: float, first_half_width_mm: float, step_mm: float, room_mm: float
) -> CutList:
    """Strips laminated over a joint, each wider than the one below until the narrower part ends.

    Args:
        schedule: the plies, from build_schedule.
        joint_length_mm: length of the joint, mm, 1 to 100000.
        first_half_width_mm: reach of the first strip on each side of the joint, mm, 1 to 5000.
        step_mm: how far each strip passes the one below on each side, mm, 0 to 500.
        room_mm: from the middle of the joint to the end of the narrower part, where strips end, mm, 1 to 5000.
    Returns:
        CutList: length and width of each strip in mm, areas in m2.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: width_i = h_i + min(h_i, room), h_i = first half width + i x step, i = 0 for the first strip
    Source: geometry
    Example:
        >>> from advisor.calculators.schedule import build_schedule
        >>> mat = {"areal_mass_g_m2": 450, "glass_fraction": 0.30, "glass_density_kg_m3": 2560}
        >>> plies = build_schedule(3.0, [], ["mat"], [], {"mat": mat}, 1200, 1)
        >>> [strip.width_mm for strip in strip_cut_list(plies, 800, 50, 20, 60).patches]
        [100.0, 130.0, 150.0]
    """
    require(LENGTH_MM, joint_length_mm=joint_length_mm)
    require(HALF_WIDTH_MM, first_half_width_mm=first_half_width_mm, room_mm=room_mm)
    require(OVERLAP_MM, step_mm=step_mm)
    halves_mm = [first_half_width_mm + step_mm * below for below in range(len(schedule.plies))]
    return _cut_list(schedule, [(joint_length_mm, half + min(half, room_mm)) for half in halves_mm])


def one_size_cut_list(schedule: Schedule, length_mm: float, width_mm: float) -> CutList:
    """Plies of one size, for a plain panel.

    Args:
        schedule: the plies, from build_schedule.
        length_mm: length of the panel, mm, 1 to 100000.
        width_mm: width of the panel, mm, 1 to 100000.
    Returns:
        CutList: length and width of each ply in mm, areas in m2.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: area = number of plies x length x width, each side rounded up to whole 5 mm
    Source: geometry
    Example:
        >>> from advisor.calculators.schedule import build_schedule
        >>> mat = {"areal_mass_g_m2": 450, "glass_fraction": 0.30, "glass_density_kg_m3": 2560}
        >>> plies = build_schedule(3.0, [], ["mat"], [], {"mat": mat}, 1200, 1)
        >>> round(one_size_cut_list(plies, 1000, 498).total_area_m2, 3)
        1.5
    """
    require(LENGTH_MM, length_mm=length_mm, width_mm=width_mm)
    return _cut_list(schedule, [(length_mm, width_mm)] * len(schedule.plies))


def _cut_list(schedule: Schedule, sizes: Iterable[tuple[float, float]]) -> CutList:
    patches = tuple(
        _patch(ply.number, ply.reinforcement, _cut_mm(length), _cut_mm(width))
        for ply, (length, width) in zip(schedule.plies, sizes, strict=True)
    )
    return CutList(
        patches=patches,
        total_area_m2=fsum(patch.area_m2 for patch in patches),
        outer_length_mm=max(patch.length_mm for patch in patches),
        outer_width_mm=max(patch.width_mm for patch in patches),
    )


def _patch(number: int, reinforcement: str, length_mm: float, width_mm: float) -> Patch:
    return Patch(number, reinforcement, length_mm, width_mm, length_mm * width_mm / 1e6)


def _cut_mm(size_mm: float) -> float:
    return float(CUT_TO_MM * ceil(size_mm / CUT_TO_MM - ROUNDING))
