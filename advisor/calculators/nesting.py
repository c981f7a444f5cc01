"""Laying rectangular pieces on a roll of given width, so that as little length as possible is cut."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import ceil

__all__ = ["Piece", "PlacedPiece", "nest", "pieces_of"]

ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class Piece:
    """One rectangle to cut; a patch wider than the roll comes in several parts."""

    patch_number: int
    part: int
    part_count: int
    long_mm: float
    short_mm: float


@dataclass(frozen=True, slots=True)
class PlacedPiece:
    """One piece on the roll: x and length run along the roll from its cut end, y and width across it."""

    patch_number: int
    part: int
    part_count: int
    x_mm: float
    y_mm: float
    length_mm: float
    width_mm: float


@dataclass(slots=True)
class _Shelf:
    """A strip right across the roll, filled from one edge to the other."""

    x_mm: float
    length_mm: float
    used_mm: float


def pieces_of(
    patch_number: int, length_mm: float, width_mm: float, roll_width_mm: float, joint_overlap_mm: float
) -> list[Piece]:
    """Return one patch as one piece, or as equal overlapping strips when both sides exceed the roll."""
    long_mm, short_mm = max(length_mm, width_mm), min(length_mm, width_mm)
    if short_mm <= roll_width_mm:
        return [Piece(patch_number, 1, 1, long_mm, short_mm)]
    count = ceil((short_mm - joint_overlap_mm) / (roll_width_mm - joint_overlap_mm) - ROUNDING)
    strip_mm = min(roll_width_mm, (short_mm + (count - 1) * joint_overlap_mm) / count)
    long_side, short_side = max(long_mm, strip_mm), min(long_mm, strip_mm)
    return [Piece(patch_number, part, count, long_side, short_side) for part in range(1, count + 1)]


def nest(pieces: Sequence[Piece], roll_width_mm: float) -> tuple[PlacedPiece, ...]:
    """Return all pieces placed, the shorter of two ways: long sides along the roll, or across it.

    Every piece's short side must fit the roll. Shelf by shelf, first fit, longest shelf first; a piece
    may be turned. No overlap and nothing beside the roll, but not always the shortest possible length.
    """

    def along(piece: Piece) -> tuple[float, float]:
        return piece.long_mm, piece.short_mm

    def across(piece: Piece) -> tuple[float, float]:
        return (piece.short_mm, piece.long_mm) if piece.long_mm <= roll_width_mm else along(piece)

    ways = [_on_shelves(pieces, roll_width_mm, way) for way in (along, across)]
    return min(ways, key=_cut_length_mm)


def _on_shelves(
    pieces: Sequence[Piece], roll_width_mm: float, way: Callable[[Piece], tuple[float, float]]
) -> tuple[PlacedPiece, ...]:
    shelves: list[_Shelf] = []
    placed = []
    for piece in sorted(pieces, key=lambda piece: (*way(piece), -piece.patch_number), reverse=True):
        length_mm, width_mm = way(piece)
        shelf, length_mm, width_mm = _shelf_for(shelves, length_mm, width_mm, roll_width_mm)
        placed.append(
            PlacedPiece(
                piece.patch_number,
                piece.part,
                piece.part_count,
                shelf.x_mm,
                shelf.used_mm,
                length_mm,
                width_mm,
            )
        )
        shelf.used_mm += width_mm
    return tuple(placed)


def _shelf_for(
    shelves: list[_Shelf], length_mm: float, width_mm: float, roll_width_mm: float
) -> tuple[_Shelf, float, float]:
    """Return the first shelf with room and the way round the piece fits it; open a new one if none has."""
    for shelf in shelves:
        for along_mm, across_mm in ((length_mm, width_mm), (width_mm, length_mm)):
            if along_mm <= shelf.length_mm and shelf.used_mm + across_mm <= roll_width_mm:
                return shelf, along_mm, across_mm
    start_mm = shelves[-1].x_mm + shelves[-1].length_mm if shelves else 0.0
    shelves.append(_Shelf(start_mm, length_mm, 0.0))
    return shelves[-1], length_mm, width_mm


def _cut_length_mm(placed: Sequence[PlacedPiece]) -> float:
    return max((piece.x_mm + piece.length_mm for piece in placed), default=0.0)
