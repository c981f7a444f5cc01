"""A schedule of plies as a laminate: how stiff it is, how thick it must be, how it arches while its resin shrinks."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import cast

from advisor.calculators.laminate_warp import laminate_warp
from advisor.calculators.layers import GlassAndResin, LaidLaminate, layers_of, summed
from advisor.calculators.micromechanics import Architecture
from advisor.calculators.ply_stiffness import PlyStiffness, ply_stiffness
from advisor.calculators.properties import MissingProperty
from advisor.calculators.ranges import Range, require
from advisor.calculators.schedule import Schedule
from advisor.calculators.schedule_match import LayerProperties

__all__ = ["ScheduleWarp", "schedule_laminate", "schedule_warp", "thickness_for_bending_mm"]

BENDING_STIFFNESS_NMM = Range(0.001, 1e12)
BENDING_MODULUS_MPA = Range(100, 500000)
RESIN_SHRINKAGE_PERCENT = Range(0, 5)


@dataclass(frozen=True, slots=True)
class ScheduleWarp:
    """How far a free strip arches, and on which side its middle stands off: first_ply, last_ply or neither."""

    rise_mm: float
    stands_off: str
    small_deflection: bool


def thickness_for_bending_mm(bending_stiffness_Nmm: float, bending_modulus_MPa: float) -> float:
    """Thickness at which a solid laminate of a given modulus has a given bending stiffness per width.

    Args:
        bending_stiffness_Nmm: bending stiffness for each mm of width, N mm, 0.001 to 1000000000000.
        bending_modulus_MPa: modulus in bending of the laminate to be laid, MPa, 100 to 500000.
    Returns:
        Thickness, mm.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: t = (12 D/E)^(1/3); with D bending stiffness, E bending modulus
    Symbols: D bending stiffness, N mm; E modulus, MPa
    Valid: solid laminates that keep their modulus when they grow thicker
    Source: bending_stiffness_Nmm solved for the thickness
    Example:
        >>> round(thickness_for_bending_mm(14400, 6400), 6)
        3.0
    """
    require(BENDING_STIFFNESS_NMM, bending_stiffness_Nmm=bending_stiffness_Nmm)
    require(BENDING_MODULUS_MPA, bending_modulus_MPa=bending_modulus_MPa)
    return float((12 * bending_stiffness_Nmm / bending_modulus_MPa) ** (1 / 3))


def schedule_laminate(
    schedule: Schedule,
    reinforcements: LayerProperties,
    glass_density_kg_m3: float,
    resin_density_kg_m3: float,
    fibre_modulus_MPa: float,
    resin_modulus_MPa: float,
    fibre_poisson_ratio: float,
    resin_poisson_ratio: float,
) -> LaidLaminate:
    """Thickness, mass and stiffness of a schedule of named reinforcements, each ply counted as it is laid.

    Args:
        schedule: the plies, from build_schedule.
        reinforcements: id to its properties `architecture`, `areal_mass_g_m2` (g/m2), `glass_fraction`, and
            `angle_degrees` where not 0.
        glass_density_kg_m3: density of the glass, or of the carbon laid in its place, kg/m3, 1700 to 3000.
        resin_density_kg_m3: density of the cured resin, kg/m3, 900 to 2000.
        fibre_modulus_MPa: modulus of the glass, MPa, 10000 to 500000.
        resin_modulus_MPa: modulus of the cured resin, MPa, 100 to 10000.
        fibre_poisson_ratio: of the glass, dimensionless, 0.0 to 0.49.
        resin_poisson_ratio: of the cured resin, dimensionless, 0.0 to 0.49.
    Returns:
        LaidLaminate: as laid_laminate.
    Raises:
        OutOfRange: an argument or property is outside its range.
        MissingProperty: a reinforcement or one of its properties is absent.
    Formula: plies as in ply_thickness_mm and ply_stiffness, stack as in laminate_stiffness
    Valid: as laid_laminate
    Source: those of ply_thickness_mm, ply_stiffness and laminate_stiffness
    Example:
        >>> from advisor.calculators.schedule import build_schedule
        >>> mat = {"areal_mass_g_m2": 450, "glass_fraction": 0.30, "glass_density_kg_m3": 2560}
        >>> plies = build_schedule(3, [], ["mat"], [], {"mat": mat}, 1200, 1)
        >>> kinds = {"mat": {**mat, "architecture": "mat"}}
        >>> round(schedule_laminate(plies, kinds, 2560, 1200, 72000, 3300, 0.22, 0.35).bending_stiffness_x_Nmm)
        16707
    """
    made_of = GlassAndResin(
        glass_density_kg_m3, resin_density_kg_m3, fibre_modulus_MPa, resin_modulus_MPa, fibre_poisson_ratio,
        resin_poisson_ratio,
    )
    kinds = _kinds(schedule, reinforcements)
    layers = layers_of(
        [_architecture(kind) for kind in kinds.values()],
        [float(kind["areal_mass_g_m2"]) for kind in kinds.values()],
        [float(kind["glass_fraction"]) for kind in kinds.values()],
        [_angle(kind) for kind in kinds.values()],
        made_of,
    )
    place = {reinforcement: number for number, reinforcement in enumerate(kinds)}
    return summed(layers, [place[ply.reinforcement] for ply in schedule.plies])


def schedule_warp(
    schedule: Schedule,
    reinforcements: LayerProperties,
    glass_density_kg_m3: float,
    resin_density_kg_m3: float,
    fibre_modulus_MPa: float,
    resin_modulus_MPa: float,
    fibre_poisson_ratio: float,
    resin_poisson_ratio: float,
    resin_shrinkage_percent: float,
    span_mm: float,
) -> ScheduleWarp:
    """How far a strip of a schedule, lying free, arches because its plies shrink differently as the resin cures.

    Args:
        schedule: the plies, from build_schedule.
        reinforcements: as in schedule_laminate.
        glass_density_kg_m3: density of the glass, or of the carbon laid in its place, kg/m3, 1700 to 3000.
        resin_density_kg_m3: density of the cured resin, kg/m3, 900 to 2000.
        fibre_modulus_MPa: modulus of the glass, MPa, 10000 to 500000.
        resin_modulus_MPa: modulus of the cured resin, MPa, 100 to 10000.
        fibre_poisson_ratio: of the glass, dimensionless, 0.0 to 0.49.
        resin_poisson_ratio: of the cured resin, dimensionless, 0.0 to 0.49.
        resin_shrinkage_percent: how much shorter the resin alone gets once it is stiff, %, 0 to 5.
        span_mm: length over which the rise is told, mm, 1 to 20000.
    Returns:
        ScheduleWarp: rise of the middle over the span along x or y, the larger, mm; the side on which it stands off;
        whether the rise stays below one thickness, up to which the number may be trusted.
    Raises:
        OutOfRange: an argument or property is outside its range.
        MissingProperty: a reinforcement or one of its properties is absent.
    Formula: shrinkage of a ply along its glass = s (1 - Vf) Em/E1; across straight strands s (1 - Vf)(1 + num) - nu
        x that along; then as in laminate_warp
    Symbols: s shrinkage of the resin; Vf glass by volume; Em, num modulus and Poisson ratio of the resin; E1, nu of
        the ply
    Valid: a strip that lies free and cured cold. Old laminate round a patch holds it flatter; past a rise of one
        thickness the number only says that it is much
    Source: Schapery, Journal of Composite Materials 2 (1968) 380 (from-memory), applied to shrinkage; laminate_warp
    Example:
        >>> from advisor.calculators.schedule import build_schedule
        >>> mat = {"areal_mass_g_m2": 450, "glass_fraction": 0.30, "glass_density_kg_m3": 2560}
        >>> plies = build_schedule(3, [], ["mat"], [], {"mat": mat}, 1200, 1)
        >>> kinds = {"mat": {**mat, "architecture": "mat"}}
        >>> schedule_warp(plies, kinds, 2560, 1200, 72000, 3300, 0.22, 0.35, 0.6, 100).rise_mm
        0.0
    """
    require(RESIN_SHRINKAGE_PERCENT, resin_shrinkage_percent=resin_shrinkage_percent)
    plies = {
        reinforcement: ply_stiffness(
            _architecture(kind),
            float(kind["glass_fraction"]),
            glass_density_kg_m3,
            resin_density_kg_m3,
            fibre_modulus_MPa,
            resin_modulus_MPa,
            fibre_poisson_ratio,
            resin_poisson_ratio,
        )
        for reinforcement, kind in _kinds(schedule, reinforcements).items()
    }
    one_way = {name for name in plies if _architecture(reinforcements[name]) == "unidirectional"}
    shrunk = {
        name: _shrinkage(ply, name in one_way, resin_modulus_MPa, resin_poisson_ratio, resin_shrinkage_percent)
        for name, ply in plies.items()
    }
    laid = [ply.reinforcement for ply in schedule.plies]
    warp = laminate_warp(
        [ply.thickness_mm for ply in schedule.plies],
        [plies[name].modulus_1_MPa for name in laid],
        [plies[name].modulus_2_MPa for name in laid],
        [plies[name].shear_modulus_MPa for name in laid],
        [plies[name].poisson_ratio for name in laid],
        [_angle(reinforcements[name]) for name in laid],
        [0],
        [0],
        [shrunk[name][0] for name in laid],
        [shrunk[name][1] for name in laid],
        0,
        span_mm,
    )
    rise = max(warp.rise_x_mm, warp.rise_y_mm, key=abs)
    side = "neither" if rise == 0 else "last_ply" if rise > 0 else "first_ply"
    return ScheduleWarp(rise_mm=abs(rise), stands_off=side, small_deflection=warp.small_deflection)


def _shrinkage(
    ply: PlyStiffness, one_way: bool, resin_modulus: float, resin_poisson: float, resin_shrinkage: float
) -> tuple[float, float]:
    """Shrinkage along and across one ply, in the unit of the resin's own; alike for all but straight strands."""
    resin = 1 - ply.fibre_volume_fraction
    along = resin_shrinkage * resin * resin_modulus / ply.modulus_1_MPa
    if not one_way:
        return along, along
    return along, resin_shrinkage * resin * (1 + resin_poisson) - ply.poisson_ratio * along


def _kinds(schedule: Schedule, reinforcements: LayerProperties) -> dict[str, Mapping[str, float | str]]:
    """Return the properties of every reinforcement that the schedule uses, in the order of first use."""
    found = {}
    for reinforcement in dict.fromkeys(ply.reinforcement for ply in schedule.plies):
        if reinforcement not in reinforcements:
            raise MissingProperty(f"reinforcement `{reinforcement}` has no properties")
        found[reinforcement] = reinforcements[reinforcement]
        for name in ("architecture", "areal_mass_g_m2", "glass_fraction"):
            if name not in found[reinforcement]:
                raise MissingProperty(f"`{name}` is missing for reinforcement `{reinforcement}`")
    return found


def _architecture(kind: Mapping[str, float | str]) -> Architecture:
    return cast(Architecture, kind["architecture"])


def _angle(kind: Mapping[str, float | str]) -> float:
    return float(kind.get("angle_degrees", 0))
