"""Plies in order, until a target thickness is reached."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import cycle
from math import fsum

from advisor.calculators.laminate import (
    GLASS_DENSITY_KG_M3,
    HAND_LAID_GLASS_FRACTION,
    RESIN_DENSITY_KG_M3,
    ply_thickness_mm,
    resin_to_glass_ratio,
)
from advisor.calculators.properties import Reinforcements, areal_mass_g_m2, property_of
from advisor.calculators.ranges import OutOfRange, Range, require, require_entries

__all__ = ["Ply", "Schedule", "build_schedule"]

TARGET_THICKNESS_MM = Range(0.1, 200)
ENOUGH_FRACTION = Range(0.5, 1)
MOST_PLIES = 500
ROUNDING = 1e-9  # a target that is a whole number of plies must not cost one more ply


@dataclass(frozen=True, slots=True)
class Ply:
    """One ply; number 1 lies against the old laminate."""

    number: int
    reinforcement: str
    areal_mass_g_m2: float
    thickness_mm: float
    resin_to_glass: float
    woven: bool


@dataclass(frozen=True, slots=True)
class Schedule:
    """All plies from the old laminate outward, and their sums per square metre."""

    plies: tuple[Ply, ...]
    thickness_mm: float
    target_thickness_mm: float
    glass_mass_kg_m2: float
    resin_mass_kg_m2: float
    woven_fraction: float
    over_target_percent: float


def build_schedule(
    target_thickness_mm: float,
    first: Sequence[str],
    repeat: Sequence[str],
    last: Sequence[str],
    reinforcements: Reinforcements,
    resin_density_kg_m3: float,
    enough_fraction: float,
) -> Schedule:
    """Fewest plies of a given order that reach a target thickness, or the share of it that is enough.

    The first and the last plies are always there, so a thin target may be well exceeded.

    Args:
        target_thickness_mm: thickness to reach, mm, 0.1 to 200.
        first: ids of the reinforcements next to the old laminate, in order; may be empty.
        repeat: ids repeated ply by ply between first and last, 1 to 500 entries.
        last: ids of the outermost reinforcements, in order; may be empty.
        reinforcements: id to its properties `areal_mass_g_m2` (g/m2), `glass_fraction`,
            `glass_density_kg_m3` (kg/m3), and `woven` where true.
        resin_density_kg_m3: density of the cured resin, kg/m3, 900 to 2000.
        enough_fraction: share of the target from which no further ply is added, dimensionless, 0.5 to 1.
    Returns:
        Schedule: plies and thickness in mm, glass and resin in kg/m2, woven share of the glass mass.
    Raises:
        OutOfRange: an argument or property is outside its range, or 500 plies do not reach the target.
        MissingProperty: a reinforcement or one of its properties is absent.
    Formula: thickness = sum of ply thicknesses; n = fewest repeated plies with thickness >= target x
        share that is enough
    Source: geometry; ply thickness as in ply_thickness_mm
    Example:
        >>> mat = {"areal_mass_g_m2": 450, "glass_fraction": 0.30, "glass_density_kg_m3": 2560}
        >>> schedule = build_schedule(3.0, ["mat"], ["mat"], [], {"mat": mat}, 1200, 1)
        >>> len(schedule.plies), round(schedule.thickness_mm, 2)
        (3, 3.15)
    """
    require(TARGET_THICKNESS_MM, target_thickness_mm=target_thickness_mm)
    require(RESIN_DENSITY_KG_M3, resin_density_kg_m3=resin_density_kg_m3)
    require(ENOUGH_FRACTION, enough_fraction=enough_fraction)
    require_entries("repeat", repeat, MOST_PLIES)
    kinds = {
        reinforcement: _ply(reinforcement, reinforcements, resin_density_kg_m3)
        for reinforcement in (*first, *repeat, *last)
    }
    fixed = [kinds[reinforcement] for reinforcement in (*first, *last)]
    enough_mm = target_thickness_mm * enough_fraction
    filling = list(_filling(enough_mm, fixed, [kinds[reinforcement] for reinforcement in repeat]))
    plies = [*fixed[: len(first)], *filling, *fixed[len(first) :]]
    return _summed(plies, target_thickness_mm)


def _ply(reinforcement: str, reinforcements: Reinforcements, resin_density_kg_m3: float) -> Ply:
    areal_mass = areal_mass_g_m2(reinforcements, reinforcement)
    glass_fraction = property_of(reinforcements, reinforcement, "glass_fraction", HAND_LAID_GLASS_FRACTION)
    glass_density = property_of(reinforcements, reinforcement, "glass_density_kg_m3", GLASS_DENSITY_KG_M3)
    return Ply(
        number=0,
        reinforcement=reinforcement,
        areal_mass_g_m2=areal_mass,
        thickness_mm=ply_thickness_mm(areal_mass, glass_fraction, glass_density, resin_density_kg_m3),
        resin_to_glass=resin_to_glass_ratio(glass_fraction),
        woven=bool(reinforcements[reinforcement].get("woven", False)),
    )


def _filling(target_mm: float, fixed: list[Ply], repeat: list[Ply]) -> Iterator[Ply]:
    thicknesses_mm = [ply.thickness_mm for ply in fixed]
    for ply in cycle(repeat):
        reached_mm = fsum(thicknesses_mm)
        if reached_mm >= target_mm * (1 - ROUNDING):
            return
        if len(thicknesses_mm) >= MOST_PLIES:
            raise OutOfRange("target_thickness_mm", target_mm, TARGET_THICKNESS_MM.low, reached_mm, "mm")
        thicknesses_mm.append(ply.thickness_mm)
        yield ply


def _summed(plies: list[Ply], target_thickness_mm: float) -> Schedule:
    thickness_mm = fsum(ply.thickness_mm for ply in plies)
    glass_g_m2 = fsum(ply.areal_mass_g_m2 for ply in plies)
    return Schedule(
        plies=tuple(replace(ply, number=number) for number, ply in enumerate(plies, start=1)),
        thickness_mm=thickness_mm,
        target_thickness_mm=target_thickness_mm,
        glass_mass_kg_m2=glass_g_m2 / 1000,
        resin_mass_kg_m2=fsum(ply.areal_mass_g_m2 * ply.resin_to_glass for ply in plies) / 1000,
        woven_fraction=fsum(ply.areal_mass_g_m2 for ply in plies if ply.woven) / glass_g_m2,
        over_target_percent=max(0.0, 100 * (thickness_mm / target_thickness_mm - 1)),
    )
