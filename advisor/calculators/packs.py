"""Packs to buy for an amount."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import reduce
from math import ceil, floor, fsum, gcd, log10
from operator import or_

from advisor.calculators.ranges import OutOfRange, Range, require, require_each, require_entries

__all__ = ["PackChoice", "few_packs", "least_waste_packs", "packs_of_one_size"]

AMOUNT = Range(0, 1_000_000)
PACK_SIZE = Range(0.001, 1_000_000)
WASTE_PERCENT = Range(0, 100)
MOST_SIZES = 8
MOST_PACKS = 10_000
MOST_STEPS = 5_000_000
PACKS_SEARCHED = 64
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
    sizes = _sizes(amount, pack_sizes)
    whole, needed, _ = _in_steps(amount, sizes)
    ordered = list(whole)
    above = _sums_of(ordered, needed + ordered[-1]) >> needed
    return _choice(amount, whole, needed + _lowest_bit(above))


def few_packs(amount: float, pack_sizes: Sequence[float], allowed_waste_percent: float) -> PackChoice:
    """Fewest packs that cover an amount and leave over no more than a share of it; else the least left over.

    Of as many packs, those with least left over; then the larger ones. Sizes are read as in least_waste_packs.
    Where more than 64 packs of the largest size are needed, the rest beyond 64 are of that size.

    Args:
        amount: amount needed, in any unit, 0 to 1000000.
        pack_sizes: sizes sold, in the unit of the amount, each 0.001 to 1000000; up to 8 sizes.
        allowed_waste_percent: most that may be left over, % of the amount, 0 to 100.
    Returns:
        PackChoice: pairs of size and count, total and left-over in the unit of the amount.
    Raises:
        OutOfRange: as least_waste_packs, or the share is outside its range.
    Formula: minimise (number of packs, total - amount) with amount <= total <= amount x (1 + share/100); where no packs
        lie within, minimise (total - amount, number of packs)
    Source: common-practice, arithmetic, exact search
    Example:
        >>> few_packs(7.0, [1.0, 5.0, 8.0], 15)
        PackChoice(counts=((8.0, 1),), total=8.0, left_over=1.0, pack_count=1)
    """
    require(WASTE_PERCENT, allowed_waste_percent=allowed_waste_percent)
    sizes = _sizes(amount, pack_sizes)
    whole, needed, step = _in_steps(amount, sizes)
    most = floor(amount * (1 + allowed_waste_percent / 100) / step + ROUNDING)
    total = _total_of_fewest(needed, most, list(whole))
    return least_waste_packs(amount, pack_sizes) if total is None else _choice(amount, whole, total)


def packs_of_one_size(amount: float, pack_sizes: Sequence[float], allowed_waste_percent: float) -> PackChoice:
    """Packs of a single size that cover an amount: fewest with no more left over than a share of it, else least waste.

    Args:
        amount: amount needed, in any unit, 0 to 1000000.
        pack_sizes: sizes sold, in the unit of the amount, each 0.001 to 1000000; up to 8 sizes.
        allowed_waste_percent: most that may be left over, % of the amount, 0 to 100.
    Returns:
        PackChoice: one pair of size and count (none for no amount), total and left-over in the unit of the amount.
    Raises:
        OutOfRange: as least_waste_packs, or the share is outside its range.
    Valid: where packs of two sizes would want two tools, such as guns for cartridges.
    Formula: count = amount/size, rounded up, for each size; of those with count x size <= amount x (1 + share/100) the
        fewest packs, else the size with the least left over
    Source: common-practice, arithmetic
    Example:
        >>> packs_of_one_size(590, [50, 200, 400], 15)
        PackChoice(counts=((200, 3),), total=600, left_over=10, pack_count=3)
    """
    require(WASTE_PERCENT, allowed_waste_percent=allowed_waste_percent)
    sizes = _sizes(amount, pack_sizes)
    counts = {size: ceil(amount / size - ROUNDING) for size in sizes}
    within = [size for size in sizes if counts[size] * size <= amount * (1 + allowed_waste_percent / 100) + ROUNDING]
    if within:
        best = min(within, key=lambda size: (counts[size], counts[size] * size))
    else:
        best = min(sizes, key=lambda size: (counts[size] * size, counts[size]))
    total = best * counts[best]
    return PackChoice(counts=((best, counts[best]),) if counts[best] else (), total=total,
                      left_over=max(0.0, total - amount), pack_count=counts[best])


def _sizes(amount: float, pack_sizes: Sequence[float]) -> list[float]:
    """Return the sizes, largest first, once the arguments have been found in range."""
    require(AMOUNT, amount=amount)
    require_entries("pack_sizes", pack_sizes, MOST_SIZES)
    require_each(PACK_SIZE, "pack_sizes", pack_sizes)
    sizes = sorted(set(pack_sizes), reverse=True)
    require(Range(0, min(AMOUNT.high, MOST_PACKS * sizes[0])), amount=amount)
    return sizes


def _in_steps(amount: float, sizes: list[float]) -> tuple[dict[int, float], int, float]:
    """Return the sizes by their whole number of steps, the steps needed, and one step in the unit of the amount."""
    step = 10.0 ** (floor(log10(sizes[-1])) - SIGNIFICANT_FIGURES + 1)
    in_steps = [floor(size / step + ROUNDING) for size in sizes]
    common = gcd(*in_steps)
    whole = {steps // common: size for steps, size in zip(in_steps, sizes, strict=True)}
    needed = ceil(ceil(amount / step - ROUNDING) / common)
    if needed > MOST_STEPS:
        raise OutOfRange("amount", amount, 0, MOST_STEPS * common * step, "")
    return whole, needed, step * common


def _choice(amount: float, whole: dict[int, float], total_steps: int) -> PackChoice:
    """Return the fewest packs that make exactly this total, the larger ones where as many."""
    ordered = list(whole)
    sums = [_sums_of(ordered[start:], total_steps) for start in range(len(ordered))]
    found = _fewest(total_steps, ordered, sums, total_steps, {}) or ()
    counts = tuple((size, count) for size, count in zip(whole.values(), found, strict=True) if count)
    total = fsum(size * count for size, count in counts)
    return PackChoice(counts=counts, total=total, left_over=max(0.0, total - amount),
                      pack_count=sum(count for _, count in counts))


def _total_of_fewest(needed: int, most: int, sizes: list[int]) -> int | None:
    """Return the least total from `needed` to `most` that the fewest packs make; nothing where no packs do."""
    set_aside = max(0, ceil(needed / sizes[0]) - PACKS_SEARCHED) * sizes[0]
    within = (1 << (max(most - set_aside, 0) + 1)) - 1
    reached = 1  # the totals of one more pack each time round, as the bits of one number
    while reached:
        if hits := reached >> (needed - set_aside):
            return needed + _lowest_bit(hits)
        reached = reduce(or_, (reached << size for size in sizes)) & within
    return None


def _lowest_bit(number: int) -> int:
    return (number & -number).bit_length() - 1


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
