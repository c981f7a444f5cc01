"""Packs to buy for an amount."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor, fsum, gcd, log10

from advisor.calculators.ranges import OutOfRange, Range, require, require_each, require_entries

__all__ = ["PackChoice", "least_waste_packs"]

AMOUNT = Range(0, 1_000_000)
PACK_SIZE = Range(0.001, 1_000_000)
MOST_SIZES = 8
MOST_PACKS = 10_000
MOST_STEPS = 5_000_000
SIGNIFICANT_FIGURES = 5
ROUNDING = 1e-6

Counts = tuple[int, ...]
Hopeless = dict[tuple[int, int], int]


@dataclass(frozen=True, slots=True)
class PackChoice:
    """Packs as pairs of size and count, largest first, all in the unit of the amount."""

    counts: tuple[tuple[float, int], ...]
    total: float
    left_over: float
    pack_count: int


def least_waste_packs(amount: float, pack_sizes: Sequence[float]) -> PackChoice:
    """Packs that cover an amount with least left over; then fewest packs; then larger packs.

    Sizes are read to five significant figures of the smallest one, rounded down, and the amount is
    rounded up, so that the packs always cover it.

    Args:
        amount: amount needed, in any unit, 0 to 1000000.
        pack_sizes: sizes sold, in the unit of the amount, each 0.001 to 1000000; up to 8 sizes.
    Returns:
        PackChoice: pairs of size and count, total and left-over in the unit of the amount.
    Raises:
        OutOfRange: an argument is outside its range, there are no sizes, or more than 10000 of
            the largest pack or 5 million steps of the sizes' common measure would be needed.
    Formula: minimise (total - amount, number of packs) over whole counts with total >= amount
    Source: arithmetic, exact search
    Example:
        >>> least_waste_packs(7.0, [1.0, 5.0, 20.0])
        PackChoice(counts=((5.0, 1), (1.0, 2)), total=7.0, left_over=0.0, pack_count=3)
    """
    require(AMOUNT, amount=amount)
    require_entries("pack_sizes", pack_sizes, MOST_SIZES)
    require_each(PACK_SIZE, "pack_sizes", pack_sizes)
    sizes = sorted(set(pack_sizes), reverse=True)
    require(Range(0, min(AMOUNT.high, MOST_PACKS * sizes[0])), amount=amount)
    counts = _counts(amount, sizes)
    total = fsum(size * count for size, count in counts)
    return PackChoice(counts=counts, total=total, left_over=max(0.0, total - amount),
                      pack_count=sum(count for _, count in counts))


def _counts(amount: float, sizes: list[float]) -> tuple[tuple[float, int], ...]:
    step = 10.0 ** (floor(log10(sizes[-1])) - SIGNIFICANT_FIGURES + 1)
    in_steps = [floor(size / step + ROUNDING) for size in sizes]
    common = gcd(*in_steps)
    whole = {steps // common: size for steps, size in zip(in_steps, sizes, strict=True)}
    needed = ceil(ceil(amount / step - ROUNDING) / common)
    if needed > MOST_STEPS:
        raise OutOfRange("amount", amount, 0, MOST_STEPS * common * step, "")
    ordered = list(whole)
    sums = [_sums_of(ordered[start:], needed + ordered[-1]) for start in range(len(ordered))]
    above = sums[0] >> needed
    total = needed + (above & -above).bit_length() - 1
    counts = _fewest(total, ordered, sums, total, {}) or ()
    return tuple((size, count) for size, count in zip(whole.values(), counts, strict=True) if count)


def _sums_of(sizes: list[int], most: int) -> int:
    """Return all sums up to `most` that these sizes can make, as the bits of one number."""
    sums = 1
    within = (1 << (most + 1)) - 1
    for size in sizes:
        shift = size
        while shift <= most:  # doubling: after 1, 2, 4 ... packs every count has been reached
            sums |= (sums << shift) & within
            shift *= 2
    return sums


def _fewest(
    total: int, sizes: list[int], sums: list[int], most_packs: int, hopeless: Hopeless
) -> Counts | None:
    """Return counts of at most so many packs that make exactly this total: fewest, then larger ones.

    `sums[i]` holds what the sizes from the i-th on can make, so no count is tried in vain; `hopeless`
    remembers for how many packs a total was found impossible.
    """
    size, *smaller = sizes
    if not smaller:
        return (total // size,) if total % size == 0 and total // size <= most_packs else None
    if hopeless.get((len(sizes), total), -1) >= most_packs:
        return None
    best = None
    for count in range(total // size, -1, -1):
        rest = total - count * size
        if count - (-rest // smaller[0]) > most_packs:
            break  # fewer of this size only means more packs
        if sums[1] >> rest & 1:
            found = _fewest(rest, smaller, sums[1:], most_packs - count, hopeless)
            if found is not None:
                best = (count, *found)
                most_packs = sum(best) - 1
    hopeless[len(sizes), total] = most_packs
    return best
