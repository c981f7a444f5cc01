"""From a strength measured in a short test to a stress or line load that a joint may bear in service."""

from dataclasses import dataclass
from math import prod

from advisor.calculators.ranges import Range, require

__all__ = [
    "GoverningStrength",
    "KnockDown",
    "allowable_line_load_N_mm",
    "allowable_stress_MPa",
    "governing_strength",
    "knock_down",
]

FACTOR_FRACTION = Range(0.001, 1)
STRENGTH_MPA = Range(0.001, 2000)
STRENGTH_N_MM = Range(0.001, 10_000)
SAFETY_RATIO = Range(1, 50)


@dataclass(frozen=True, slots=True)
class KnockDown:
    """What is left of a short-term strength, and which of the reasons counted."""

    left_fraction: float
    applied: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class GoverningStrength:
    """The weakest of glue and faces."""

    strength_MPa: float
    governed_by: str


def knock_down(
    sustained_applies: bool,
    sustained_fraction: float,
    fatigue_applies: bool,
    fatigue_fraction: float,
    heat_applies: bool,
    heat_fraction: float,
    wet_applies: bool,
    wet_fraction: float,
    hand_preparation_applies: bool,
    hand_preparation_fraction: float,
) -> KnockDown:
    """Share of a short-term strength that is left when everything that lowers it acts together.

    Args:
        sustained_applies: true if the load is there for days or for ever.
        sustained_fraction: strength left under such a load, dimensionless, 0.001 to 1.
        fatigue_applies: true if the load comes and goes many times.
        fatigue_fraction: strength left under such a load, dimensionless, 0.001 to 1.
        heat_applies: true if the joint gets warmer than the strength was measured at.
        heat_fraction: strength left at the service temperature, dimensionless, 0.001 to 1.
        wet_applies: true if the joint stays wet or damp.
        wet_fraction: strength left when wet through, dimensionless, 0.001 to 1.
        hand_preparation_applies: true if the faces are prepared by hand, without test pieces.
        hand_preparation_fraction: strength left with such faces, dimensionless, 0.001 to 1.
    Returns:
        KnockDown: product of the shares that apply (dimensionless), and the names of those that do.
    Raises:
        OutOfRange: an argument is outside its range.
    Valid: takes the effects as independent. Heat and water together, or heat and lasting load, can do more harm than
        the product says: near the softening temperature no share holds.
    Formula: left = product of the shares that apply, of sustained fraction, fatigue fraction, heat fraction, wet
        fraction, hand preparation fraction
    Source: form of the design factor in BS 4994:1987, a product of part factors (read in a worked sheet); the shares
        are the caller's
    Example:
        >>> knock_down(True, 0.65, True, 0.2, False, 0.5, False, 0.7, False, 0.8)
        KnockDown(left_fraction=0.13, applied=('sustained', 'fatigue'))
    """
    reasons = {
        "sustained": (sustained_applies, sustained_fraction),
        "fatigue": (fatigue_applies, fatigue_fraction),
        "heat": (heat_applies, heat_fraction),
        "wet": (wet_applies, wet_fraction),
        "hand_preparation": (hand_preparation_applies, hand_preparation_fraction),
    }
    require(FACTOR_FRACTION, **{f"{name}_fraction": fraction for name, (_, fraction) in reasons.items()})
    applied = {name: fraction for name, (applies, fraction) in reasons.items() if applies}
    return KnockDown(left_fraction=prod(applied.values(), start=1.0), applied=tuple(applied))


def allowable_stress_MPa(strength_MPa: float, left_fraction: float, safety_ratio: float) -> float:
    """Stress that may be planned for, from a short-term strength.

    Args:
        strength_MPa: strength as tested, MPa, 0.001 to 2000.
        left_fraction: share left after knock_down, dimensionless, 0.001 to 1.
        safety_ratio: safety factor on what is left, dimensionless, 1 to 50.
    Returns:
        Allowable stress, MPa.
    Raises:
        OutOfRange: an argument is outside its range.
    Valid: for the kind of stress that was tested: a mean shear strength gives an allowable mean shear.
    Formula: allowable = strength x left fraction/safety ratio
    Source: definition; form as in BS 4994:1987 (read in a worked sheet)
    Example:
        >>> allowable_stress_MPa(10, 0.13, 2)
        0.65
    """
    require(STRENGTH_MPA, strength_MPa=strength_MPa)
    _require_share(left_fraction, safety_ratio)
    return strength_MPa * left_fraction / safety_ratio


def allowable_line_load_N_mm(strength_N_mm: float, left_fraction: float, safety_ratio: float) -> float:
    """Load per length of joint that may be planned for, from a peel or cleavage strength.

    Args:
        strength_N_mm: peel or cleavage strength as tested, per width, N/mm, 0.001 to 10000.
        left_fraction: share left after knock_down, dimensionless, 0.001 to 1.
        safety_ratio: safety factor on what is left, dimensionless, 1 to 50.
    Returns:
        Allowable load per length, N/mm.
    Raises:
        OutOfRange: an argument is outside its range.
    Valid: parts about as thick and stiff as those tested; peel strength depends on both.
    Formula: allowable = strength x left fraction/safety ratio
    Source: definition
    Example:
        >>> allowable_line_load_N_mm(2, 0.1, 2)
        0.1
    """
    require(STRENGTH_N_MM, strength_N_mm=strength_N_mm)
    _require_share(left_fraction, safety_ratio)
    return strength_N_mm * left_fraction / safety_ratio


def governing_strength(
    adhesive_strength_MPa: float, face_a_strength_MPa: float, face_b_strength_MPa: float
) -> GoverningStrength:
    """The weakest of the glue and the two faces: a stronger glue than the face holds is not worth its price.

    Args:
        adhesive_strength_MPa: shear strength of the glue, MPa, 0.001 to 2000.
        face_a_strength_MPa: interlaminar or shear strength of one part at its face, MPa, 0.001 to 2000.
        face_b_strength_MPa: the same of the other part, MPa, 0.001 to 2000.
    Returns:
        GoverningStrength: the least of the three, MPa, and which it is: adhesive, face_a or face_b.
    Raises:
        OutOfRange: an argument is outside its range.
    Valid: all three short-term, of the same kind and at the same temperature.
    Formula: governing = least of adhesive strength, face a strength, face b strength
    Source: weakest link, common-practice
    Example:
        >>> governing_strength(15, 7, 25)
        GoverningStrength(strength_MPa=7, governed_by='face_a')
    """
    strengths = {"adhesive": adhesive_strength_MPa, "face_a": face_a_strength_MPa, "face_b": face_b_strength_MPa}
    require(STRENGTH_MPA, **{f"{name}_strength_MPa": strength for name, strength in strengths.items()})
    weakest = min(strengths, key=lambda name: strengths[name])
    return GoverningStrength(strength_MPa=strengths[weakest], governed_by=weakest)


def _require_share(left_fraction: float, safety_ratio: float) -> None:
    require(FACTOR_FRACTION, left_fraction=left_fraction)
    require(SAFETY_RATIO, safety_ratio=safety_ratio)
