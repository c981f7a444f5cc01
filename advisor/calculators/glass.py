"""Dry glass to buy and how it is cut from the roll."""

from dataclasses import dataclass
from math import fsum

from advisor.calculators.nesting import PlacedPiece, nest, pieces_of
from advisor.calculators.patches import CutList, Patch
from advisor.calculators.properties import Reinforcements, areal_mass_g_m2, property_of
from advisor.calculators.ranges import Range, require

__all__ = ["GlassNeed", "PlacedPiece", "RollCut", "glass_needed"]

WASTE_FRACTION = Range(0, 1)
ROLL_WIDTH_MM = Range(50, 5000)
JOINT_OVERLAP_MM = Range(0, 500)


@dataclass(frozen=True, slots=True)
class RollCut:
    """What one reinforcement's roll must give, with every piece placed on it."""

    reinforcement: str
    net_area_m2: float
    area_with_waste_m2: float
    roll_width_mm: float
    roll_length_m: float
    glass_kg: float
    pieces: tuple[PlacedPiece, ...]


@dataclass(frozen=True, slots=True)
class GlassNeed:
    """All rolls in the order of first use, and the mass of glass with waste."""

    rolls: tuple[RollCut, ...]
    total_glass_kg: float


def glass_needed(
    cut_list: CutList, reinforcements: Reinforcements, waste_fraction: float, joint_overlap_mm: float
) -> GlassNeed:
    """Area, mass and roll length of each reinforcement, with the pieces laid out on the roll.

    Pieces may be turned on the roll, so a reinforcement with fibres in one direction only needs a
    look at the layout. A patch with both sides wider than the roll is cut as overlapping strips. The
    roll length is that of the layout, offcuts included; the waste goes on area and mass.

    Args:
        cut_list: the patches.
        reinforcements: id to its properties `areal_mass_g_m2` (g/m2) and `roll_width_mm` (mm, 50 to 5000).
        waste_fraction: share added to the cut area, dimensionless, 0 to 1.
        joint_overlap_mm: overlap where a patch is joined, mm, 0 to 500; under half the roll width.
    Returns:
        GlassNeed: for each reinforcement the patch area without overlaps (m2), the cut area with
        overlaps and waste (m2), its mass (kg), roll length (m) and pieces (mm).
    Raises:
        OutOfRange: an argument or property is outside its range.
        MissingProperty: a reinforcement or one of its properties is absent.
    Formula: mass = areal mass x cut area x (1 + waste); a strip of n = (side + (n - 1) overlap)/n
    Source: geometry; shelf packing, first fit by decreasing length (common-practice)
    Example:
        >>> cuts = CutList((Patch(1, "mat", 1000, 500, 0.5), Patch(2, "mat", 1000, 500, 0.5)), 1, 1000, 500)
        >>> mat = {"areal_mass_g_m2": 450, "roll_width_mm": 1000}
        >>> need = glass_needed(cuts, {"mat": mat}, 0.10, 50)
        >>> need.rolls[0].roll_length_m, round(need.total_glass_kg, 3)
        (1.0, 0.495)
    """
    require(WASTE_FRACTION, waste_fraction=waste_fraction)
    require(JOINT_OVERLAP_MM, joint_overlap_mm=joint_overlap_mm)
    used = dict.fromkeys(patch.reinforcement for patch in cut_list.patches)
    rolls = []
    for reinforcement in used:
        roll_width_mm = property_of(reinforcements, reinforcement, "roll_width_mm", ROLL_WIDTH_MM)
        require(Range(0, roll_width_mm / 2), joint_overlap_mm=joint_overlap_mm)
        areal_mass_kg_m2 = areal_mass_g_m2(reinforcements, reinforcement) / 1000
        patches = [patch for patch in cut_list.patches if patch.reinforcement == reinforcement]
        rolls.append(_roll_cut(patches, areal_mass_kg_m2, roll_width_mm, waste_fraction, joint_overlap_mm))
    return GlassNeed(rolls=tuple(rolls), total_glass_kg=fsum(roll.glass_kg for roll in rolls))


def _roll_cut(
    patches: list[Patch],
    areal_mass_kg_m2: float,
    roll_width_mm: float,
    waste_fraction: float,
    joint_overlap_mm: float,
) -> RollCut:
    pieces = [
        piece
        for patch in patches
        for piece in pieces_of(patch.number, patch.length_mm, patch.width_mm, roll_width_mm, joint_overlap_mm)
    ]
    placed = nest(pieces, roll_width_mm)
    cut_area_m2 = fsum(piece.long_mm * piece.short_mm for piece in pieces) / 1e6
    return RollCut(
        reinforcement=patches[0].reinforcement,
        net_area_m2=fsum(patch.area_m2 for patch in patches),
        area_with_waste_m2=cut_area_m2 * (1 + waste_fraction),
        roll_width_mm=roll_width_mm,
        roll_length_m=max(piece.x_mm + piece.length_mm for piece in placed) / 1000,
        glass_kg=areal_mass_kg_m2 * cut_area_m2 * (1 + waste_fraction),
        pieces=placed,
    )
