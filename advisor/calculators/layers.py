"""Layers of glass as a builder writes them, turned into plies with thickness, mass and stiffness."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from advisor.calculators.laminate import ply_thickness_mm
from advisor.calculators.laminate_theory import LaminateStiffness, stiffness_from_matrices
from advisor.calculators.micromechanics import Architecture
from advisor.calculators.ply_stack import stack_of, stiffness_matrices
from advisor.calculators.ply_stiffness import ply_stiffness
from advisor.calculators.ranges import OutOfRange, Range, require_each, require_entries

if TYPE_CHECKING:
    from advisor.calculators.ply_stack import Array

__all__ = ["GlassAndResin", "LaidLaminate", "Layers", "layers_of", "stiffness_of", "summed"]

MOST_LAYERS = 200
AREAL_MASS_G_M2 = Range(10, 5000)
GLASS_FRACTION = Range(0.10, 0.80)
ANGLE_DEGREES = Range(-180, 180)


@dataclass(frozen=True, slots=True)
class GlassAndResin:
    """What every layer of a laminate is made of."""

    glass_density_kg_m3: float
    resin_density_kg_m3: float
    fibre_modulus_MPa: float
    resin_modulus_MPa: float
    fibre_poisson_ratio: float
    resin_poisson_ratio: float


@dataclass(frozen=True, slots=True)
class Layers:
    """Layers in the order laid; `turned` is each one's stiffness in the laminate's axes, MPa."""

    thicknesses_mm: tuple[float, ...]
    glass_g_m2: tuple[float, ...]
    laminate_g_m2: tuple[float, ...]
    woven: tuple[bool, ...]
    turned: Array


@dataclass(frozen=True, slots=True)
class LaidLaminate:
    """A laminate as it counts when two are compared: thickness, mass, and stiffness pulled and bent."""

    thickness_mm: float
    mass_kg_m2: float
    glass_mass_kg_m2: float
    resin_mass_kg_m2: float
    woven_fraction: float
    in_plane_stiffness_x_N_mm: float
    in_plane_stiffness_y_N_mm: float
    modulus_x_MPa: float
    modulus_y_MPa: float
    bending_stiffness_x_Nmm: float
    bending_stiffness_y_Nmm: float
    bending_modulus_x_MPa: float
    bending_modulus_y_MPa: float
    coupling_ratio: float


def layers_of(
    architectures: Sequence[Architecture],
    areal_masses_g_m2: Sequence[float],
    glass_fractions: Sequence[float],
    angles_degrees: Sequence[float],
    made_of: GlassAndResin,
    prefix: str = "",
) -> Layers:
    """Check the lists and build the layers; `prefix` stands before the names in an error."""
    require_each(AREAL_MASS_G_M2, f"{prefix}areal_masses_g_m2", areal_masses_g_m2)
    require_each(GLASS_FRACTION, f"{prefix}glass_fractions", glass_fractions)
    require_each(ANGLE_DEGREES, f"{prefix}angles_degrees", angles_degrees)
    require_entries(f"{prefix}architectures", architectures, MOST_LAYERS)
    count = len(architectures)
    lists = {"areal_masses_g_m2": areal_masses_g_m2, "glass_fractions": glass_fractions}
    for name, values in (lists | {"angles_degrees": angles_degrees}).items():
        if len(values) not in (1, count):
            raise OutOfRange(prefix + name, len(values), count, count, "entries")
    masses, fractions, angles = (
        list(values) * (count if len(values) == 1 else 1)
        for values in (areal_masses_g_m2, glass_fractions, angles_degrees)
    )
    return _built(architectures, masses, fractions, angles, made_of)


def _built(
    architectures: Sequence[Architecture],
    masses: list[float],
    fractions: list[float],
    angles: list[float],
    made_of: GlassAndResin,
) -> Layers:
    thicknesses = [
        ply_thickness_mm(mass, fraction, made_of.glass_density_kg_m3, made_of.resin_density_kg_m3)
        for mass, fraction in zip(masses, fractions, strict=True)
    ]
    plies = [
        ply_stiffness(
            architecture,
            fraction,
            made_of.glass_density_kg_m3,
            made_of.resin_density_kg_m3,
            made_of.fibre_modulus_MPa,
            made_of.resin_modulus_MPa,
            made_of.fibre_poisson_ratio,
            made_of.resin_poisson_ratio,
        )
        for architecture, fraction in zip(architectures, fractions, strict=True)
    ]
    stack = stack_of(
        thicknesses,
        [ply.modulus_1_MPa for ply in plies],
        [ply.modulus_2_MPa for ply in plies],
        [ply.shear_modulus_MPa for ply in plies],
        [ply.poisson_ratio for ply in plies],
        angles,
    )
    return Layers(
        thicknesses_mm=tuple(thicknesses),
        glass_g_m2=tuple(masses),
        laminate_g_m2=tuple(mass / fraction for mass, fraction in zip(masses, fractions, strict=True)),
        woven=tuple(architecture != "mat" for architecture in architectures),
        turned=stack.turned,
    )


def stiffness_of(layers: Layers, order: Sequence[int]) -> LaminateStiffness:
    """Return the stiffness of the layers laid in an order of their numbers, which may repeat."""
    import numpy as np

    picked = np.array(order)
    edges = np.concatenate(([0.0], np.cumsum(np.array(layers.thicknesses_mm)[picked])))
    matrices = stiffness_matrices(layers.turned[picked], edges - edges[-1] / 2)
    return stiffness_from_matrices(float(edges[-1]), *matrices)


def summed(layers: Layers, order: Sequence[int]) -> LaidLaminate:
    """Return thickness, mass and stiffness of the layers laid in an order of their numbers, which may repeat."""
    stiffness = stiffness_of(layers, order)
    glass = sum(layers.glass_g_m2[number] for number in order)
    mass = sum(layers.laminate_g_m2[number] for number in order)
    woven = sum(layers.glass_g_m2[number] for number in order if layers.woven[number])
    return LaidLaminate(
        thickness_mm=stiffness.thickness_mm,
        mass_kg_m2=mass / 1000,
        glass_mass_kg_m2=glass / 1000,
        resin_mass_kg_m2=(mass - glass) / 1000,
        woven_fraction=woven / glass,
        in_plane_stiffness_x_N_mm=stiffness.in_plane_stiffness_x_N_mm,
        in_plane_stiffness_y_N_mm=stiffness.in_plane_stiffness_y_N_mm,
        modulus_x_MPa=stiffness.modulus_x_MPa,
        modulus_y_MPa=stiffness.modulus_y_MPa,
        bending_stiffness_x_Nmm=stiffness.bending_stiffness_x_Nmm,
        bending_stiffness_y_Nmm=stiffness.bending_stiffness_y_Nmm,
        bending_modulus_x_MPa=stiffness.bending_modulus_x_MPa,
        bending_modulus_y_MPa=stiffness.bending_modulus_y_MPa,
        coupling_ratio=stiffness.coupling_ratio,
    )
