"""Stiffness of glass in resin from the stiffness of each: Krenchel's and Halpin and Tsai's formulas."""

from dataclasses import dataclass
from typing import Literal, get_args

from advisor.calculators.ranges import Range, require

__all__ = [
    "Architecture",
    "UnidirectionalStiffness",
    "UnknownArchitecture",
    "halpin_tsai_stiffness",
    "krenchel_modulus_MPa",
]

Architecture = Literal["mat", "woven", "biaxial", "unidirectional"]
"""How the glass lies: at random; woven both ways; straight both ways and stitched; straight one way."""

FIBRE_VOLUME_FRACTION = Range(0.0, 0.80)
FIBRE_MODULUS_MPA = Range(10000, 500000)
RESIN_MODULUS_MPA = Range(100, 10000)
POISSON_RATIO = Range(0.0, 0.49)

KRENCHEL_EFFICIENCY = {"mat": 3 / 8, "woven": 1 / 2, "biaxial": 1 / 2, "unidirectional": 1.0}
TRANSVERSE_SHAPE, SHEAR_SHAPE = 2.0, 1.0  # Halpin and Tsai's for round fibres


class UnknownArchitecture(ValueError):  # noqa: N818 - named as the reader would say it
    """An architecture is not one of those that a formula is held for."""

    def __init__(self, architecture: str, known: tuple[str, ...] = get_args(Architecture)) -> None:
        """Keep the architecture and those that are known."""
        super().__init__(architecture, known)
        self.architecture = architecture
        self.known = known

    def __str__(self) -> str:
        """Return one sentence for the reader."""
        return f"no formula for architecture `{self.architecture}`, must be one of {', '.join(self.known)}"


@dataclass(frozen=True, slots=True)
class UnidirectionalStiffness:
    """Straight fibres all one way: direction 1 along them, 2 across them."""

    modulus_1_MPa: float
    modulus_2_MPa: float
    shear_modulus_MPa: float
    poisson_ratio: float
    lowest_modulus_2_MPa: float
    lowest_shear_modulus_MPa: float


def krenchel_modulus_MPa(
    architecture: Architecture,
    fibre_volume_fraction: float,
    fibre_modulus_MPa: float,
    resin_modulus_MPa: float,
) -> float:
    """Modulus of a ply by the rule of mixtures with an efficiency for how the glass lies.

    Args:
        architecture: mat, woven, biaxial or unidirectional.
        fibre_volume_fraction: glass by volume, dimensionless, 0.0 to 0.80.
        fibre_modulus_MPa: modulus of the glass, MPa, 10000 to 500000.
        resin_modulus_MPa: modulus of the cured resin, MPa, 100 to 10000.
    Returns:
        Modulus along the first axis of the glass, MPa.
    Raises:
        OutOfRange: an argument is outside its range.
        UnknownArchitecture: the architecture is none of the four.
    Formula: E = eta Vf Ef + (1 - Vf) Em; eta = 3/8 random, 1/2 both ways, 1 one way; with Vf fibre volume
        fraction, Ef fibre modulus, Em resin modulus
    Symbols: eta efficiency; Vf glass by volume; Ef, Em moduli of fibre and resin, MPa
    Valid: a cross-check for short loads; it leaves out voids and the waves of a weave
    Source: H. Krenchel, Fibre Reinforcement, Akademisk Forlag, Copenhagen 1964 (from-memory)
    Example:
        >>> round(krenchel_modulus_MPa("mat", 0.1673, 72000, 3300))
        7265
    """
    if architecture not in KRENCHEL_EFFICIENCY:
        raise UnknownArchitecture(architecture)
    require(FIBRE_VOLUME_FRACTION, fibre_volume_fraction=fibre_volume_fraction)
    require(FIBRE_MODULUS_MPA, fibre_modulus_MPa=fibre_modulus_MPa)
    require(RESIN_MODULUS_MPA, resin_modulus_MPa=resin_modulus_MPa)
    efficiency = KRENCHEL_EFFICIENCY[architecture]
    return efficiency * fibre_volume_fraction * fibre_modulus_MPa + (1 - fibre_volume_fraction) * resin_modulus_MPa


def halpin_tsai_stiffness(
    fibre_volume_fraction: float,
    fibre_modulus_MPa: float,
    resin_modulus_MPa: float,
    fibre_poisson_ratio: float,
    resin_poisson_ratio: float,
) -> UnidirectionalStiffness:
    """Moduli of a ply whose fibres all lie one way, from those of fibre and resin.

    Args:
        fibre_volume_fraction: glass by volume, dimensionless, 0.0 to 0.80.
        fibre_modulus_MPa: modulus of the glass, MPa, 10000 to 500000.
        resin_modulus_MPa: modulus of the cured resin, MPa, 100 to 10000.
        fibre_poisson_ratio: of the glass, dimensionless, 0.0 to 0.49.
        resin_poisson_ratio: of the cured resin, dimensionless, 0.0 to 0.49.
    Returns:
        UnidirectionalStiffness: moduli in MPa along (1) and across (2) the fibres; `lowest` are those of
        fibre and resin in series, below which no sound ply lies.
    Raises:
        OutOfRange: an argument is outside its range.
    Formula: E1 = Vf Ef + (1 - Vf) Em; P = Pm (1 + xi eta Vf)/(1 - eta Vf), eta = (Pf/Pm - 1)/(Pf/Pm + xi), with
        xi = 2 for E2 and 1 for G12; lowest: 1/P = Vf/Pf + (1 - Vf)/Pm; nu12 = Vf nuf + (1 - Vf) num
    Symbols: P modulus E or G in MPa; Vf glass by volume; f fibre, m resin; G = E/(2(1 + nu))
    Valid: round isotropic fibres, no voids, short loads
    Source: Halpin and Kardos, Polymer Engineering and Science 16 (1976) 344; Kaw, Mechanics of Composite
        Materials, 2nd ed., CRC Press 2006, section 3.3 (both from-memory)
    Example:
        >>> round(halpin_tsai_stiffness(0.7, 85000, 3400, 0.2, 0.3).modulus_2_MPa)
        20200
    """
    require(FIBRE_VOLUME_FRACTION, fibre_volume_fraction=fibre_volume_fraction)
    _require_fibre_and_resin(fibre_modulus_MPa, resin_modulus_MPa, fibre_poisson_ratio, resin_poisson_ratio)
    volume = fibre_volume_fraction
    fibre_shear = isotropic_shear(fibre_modulus_MPa, fibre_poisson_ratio)
    resin_shear = isotropic_shear(resin_modulus_MPa, resin_poisson_ratio)
    return UnidirectionalStiffness(
        modulus_1_MPa=mixed(volume, fibre_modulus_MPa, resin_modulus_MPa),
        modulus_2_MPa=halpin_tsai(volume, fibre_modulus_MPa, resin_modulus_MPa, TRANSVERSE_SHAPE),
        shear_modulus_MPa=halpin_tsai(volume, fibre_shear, resin_shear),
        poisson_ratio=mixed(volume, fibre_poisson_ratio, resin_poisson_ratio),
        lowest_modulus_2_MPa=1 / mixed(volume, 1 / fibre_modulus_MPa, 1 / resin_modulus_MPa),
        lowest_shear_modulus_MPa=1 / mixed(volume, 1 / fibre_shear, 1 / resin_shear),
    )


def _require_fibre_and_resin(fibre: float, resin: float, fibre_poisson: float, resin_poisson: float) -> None:
    require(FIBRE_MODULUS_MPA, fibre_modulus_MPa=fibre)
    require(RESIN_MODULUS_MPA, resin_modulus_MPa=resin)
    require(POISSON_RATIO, fibre_poisson_ratio=fibre_poisson)
    require(POISSON_RATIO, resin_poisson_ratio=resin_poisson)


def isotropic_shear(modulus: float, poisson: float) -> float:
    """Return the shear modulus of a material that is the same in every direction, in the unit of `modulus`."""
    return modulus / (2 * (1 + poisson))


def mixed(volume: float, fibre: float, resin: float) -> float:
    """Return the mean of two properties by volume."""
    return volume * fibre + (1 - volume) * resin


def halpin_tsai(volume: float, fibre: float, resin: float, shape: float = SHEAR_SHAPE) -> float:
    """Return a modulus by Halpin and Tsai, in the unit of both; the shape is 1 for shear, 2 across the fibres."""
    eta = (fibre / resin - 1) / (fibre / resin + shape)
    return resin * (1 + shape * eta * volume) / (1 - eta * volume)
