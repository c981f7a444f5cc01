"""What the shear-lag formulas share: how quickly a glue line hands load over, and functions that do not overflow."""

from math import exp, expm1, log, sqrt, tanh

from advisor.calculators.ranges import Range, require

__all__: list[str] = []

THICKNESS_MM = Range(0.2, 100)
MODULUS_MPA = Range(10, 300_000)
BOND_LINE_MM = Range(0.05, 50)
SHEAR_MODULUS_MPA = Range(0.05, 5000)
OVERLAP_MM = Range(1, 2000)
JOINT_WIDTH_MM = Range(1, 100_000)
LOAD_N = Range(0, 1_000_000)


def transfer_length_mm(
    thickness_a_mm: float,
    modulus_a_MPa: float,
    thickness_b_mm: float,
    modulus_b_MPa: float,
    bond_line_mm: float,
    adhesive_shear_modulus_MPa: float,
) -> float:
    """Return 1/lambda, the length in which the shear at an end dies away; OutOfRange outside the ranges above."""
    require(THICKNESS_MM, thickness_a_mm=thickness_a_mm, thickness_b_mm=thickness_b_mm)
    require(MODULUS_MPA, modulus_a_MPa=modulus_a_MPa, modulus_b_MPa=modulus_b_MPa)
    require(BOND_LINE_MM, bond_line_mm=bond_line_mm)
    require(SHEAR_MODULUS_MPA, adhesive_shear_modulus_MPa=adhesive_shear_modulus_MPa)
    flexibility_mm_N = 1 / (modulus_a_MPa * thickness_a_mm) + 1 / (modulus_b_MPa * thickness_b_mm)
    return 1 / sqrt(adhesive_shear_modulus_MPa / bond_line_mm * flexibility_mm_N)


def transfers_for_share(share: float, softer_to_stiffer: float) -> float:
    """Return the overlap, in transfer lengths, that bears a share of what an endless overlap bears."""
    weighted = share * softer_to_stiffer
    return log((weighted + sqrt(weighted**2 + 1 - share**2)) / (1 - share))


def coth(x: float) -> float:
    """Return the hyperbolic cotangent of a positive number."""
    return 1 / tanh(x)


def csch(x: float) -> float:
    """Return 1/sinh of a positive number, without overflow."""
    return -2 * exp(-x) / expm1(-2 * x)


def sech(x: float) -> float:
    """Return 1/cosh of a positive number, without overflow."""
    return 2 * exp(-x) / (1 + exp(-2 * x))
