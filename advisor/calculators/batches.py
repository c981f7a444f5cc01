"""The job split into batches that are placed in time, and into sessions that do not overheat."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, fsum

from advisor.calculators.ranges import OutOfRange, Range, require, require_each, require_entries

__all__ = ["Batch", "BatchPlan", "SessionPlan", "layers_per_session", "plan_batches"]

TIME_MIN = Range(0.1, 100_000)
MASS_KG = Range(0.001, 10_000)
PLACING_RATE_KG_MIN = Range(0.001, 100)
USABLE_FRACTION = Range(0.05, 1)
MIXING_TIME_MIN = Range(0, 120)
PLY_THICKNESS_MM = Range(0.01, 200)
MOST_BATCHES = 1000
MOST_PLIES = 1000
ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class Batch:
    """One batch; its start is counted from the beginning of the job."""

    number: int
    mass_kg: float
    start_min: float


@dataclass(frozen=True, slots=True)
class BatchPlan:
    """Equal batches back to back; the times of one batch count from the start of its mixing."""

    batch_count: int
    batch_mass_kg: float
    place_within_min: float
    stop_at_min: float
    placing_time_min: float
    mixed_mass_kg: float
    limited_by: str
    batches: tuple[Batch, ...]


@dataclass(frozen=True, slots=True)
class SessionPlan:
    """Plies and thickness of each session, from the inside outward."""

    session_count: int
    plies_in_session: tuple[int, ...]
    session_thicknesses_mm: tuple[float, ...]
    over_limit_count: int


def plan_batches(
    total_mass_kg: float,
    placing_rate_kg_min: float,
    working_time_min: float,
    usable_fraction: float,
    cup_limit_kg: float,
    mixing_time_min: float,
    least_batch_kg: float,
) -> BatchPlan:
    """Fewest equal batches that can each be mixed and placed well inside the working time.

    Args:
        total_mass_kg: all the mix, kg, 0.001 to 10000.
        placing_rate_kg_min: mix placed by everyone together, kg/min, 0.001 to 100.
        working_time_min: working time at today's temperature and dose, min, 0.1 to 100000.
        usable_fraction: share of it that is planned for, dimensionless, 0.05 to 1.
        cup_limit_kg: most that one cup or tray may hold, kg, 0.001 to 10000.
        mixing_time_min: weighing and stirring after the catalyst is in, min, 0 to 120.
        least_batch_kg: least that is weighed and dosed well, kg, 0.001 to 10000; where less is placed in time, this
            much is mixed all the same and the rest thrown away.
    Returns:
        BatchPlan: batch mass and all that is mixed in kg, times in min; `limited_by` is time, cup or whole job in one.
    Raises:
        OutOfRange: an argument is outside its range, mixing alone fills the usable time, or more than
            1000 batches would be needed.
    Formula: batch <= min(cup limit, rate x (usable fraction x working time - mixing time)); n = ceil(total
        mass/batch); with rate placing rate; mixed batch = max(total mass/n, least batch)
    Source: common-practice, arithmetic
    Example:
        >>> plan = plan_batches(2.0, 0.10, 20, 0.60, 1.0, 2, 0.05)
        >>> plan.batch_count, plan.batch_mass_kg, plan.limited_by
        (2, 1.0, 'time')
    """
    require(MASS_KG, total_mass_kg=total_mass_kg, cup_limit_kg=cup_limit_kg, least_batch_kg=least_batch_kg)
    require(PLACING_RATE_KG_MIN, placing_rate_kg_min=placing_rate_kg_min)
    require(TIME_MIN, working_time_min=working_time_min)
    require(USABLE_FRACTION, usable_fraction=usable_fraction)
    require(MIXING_TIME_MIN, mixing_time_min=mixing_time_min)
    usable_min = usable_fraction * working_time_min
    in_time_kg = placing_rate_kg_min * (usable_min - mixing_time_min)
    if in_time_kg <= 0:
        raise OutOfRange(
            "working_time_min", working_time_min, mixing_time_min / usable_fraction, TIME_MIN.high, "min"
        )
    largest_kg = min(in_time_kg, cup_limit_kg)
    require(Range(MASS_KG.low, MOST_BATCHES * largest_kg), total_mass_kg=total_mass_kg)
    count = max(1, ceil(total_mass_kg / largest_kg - ROUNDING))
    placing_min = total_mass_kg / count / placing_rate_kg_min
    batch_kg = max(total_mass_kg / count, least_batch_kg)
    limit = "cup" if cup_limit_kg < in_time_kg else "time"
    return BatchPlan(
        batch_count=count,
        batch_mass_kg=batch_kg,
        place_within_min=usable_min,
        stop_at_min=working_time_min,
        placing_time_min=placing_min,
        mixed_mass_kg=count * batch_kg,
        limited_by="whole job in one" if count == 1 else limit,
        batches=tuple(
            Batch(done + 1, batch_kg, done * (mixing_time_min + placing_min))
            for done in range(count)
        ),
    )


def layers_per_session(ply_thicknesses_mm: Sequence[float], limit_mm: float) -> SessionPlan:
    """Plies laid in one go without passing the thickness limit: in the fewest sessions, and those as even as may be.

    A single ply thicker than the limit is a session of its own and is counted in `over_limit_count`.

    Args:
        ply_thicknesses_mm: plies in the order of laying, each in mm, 0.01 to 200; up to 1000 plies.
        limit_mm: most that may be built before it has cured and cooled, mm, 0.01 to 200.
    Returns:
        SessionPlan: plies (count) and thickness (mm) of each session.
    Raises:
        OutOfRange: an argument is outside its range, or there are no plies.
    Formula: of all ways to split the plies in order with each sum of thicknesses <= limit, the fewest sessions, and
        of those the one whose thickest session is thinnest
    Source: common-practice, arithmetic
    Example:
        >>> layers_per_session([1.0, 1.0, 1.0, 1.5], 3.0).plies_in_session
        (2, 2)
    """
    require_entries("ply_thicknesses_mm", ply_thicknesses_mm, MOST_PLIES)
    require_each(PLY_THICKNESS_MM, "ply_thicknesses_mm", ply_thicknesses_mm)
    require(PLY_THICKNESS_MM, limit_mm=limit_mm)
    allowed_mm = limit_mm * (1 + ROUNDING)
    sessions = _filled(ply_thicknesses_mm, allowed_mm)
    thicknesses_mm = tuple(map(fsum, sessions))
    while True:  # fill them anew, each time thinner than the thickest so far, for as long as they suffice
        thinner = _filled(ply_thicknesses_mm, max(thicknesses_mm) * (1 - ROUNDING))
        tried_mm = tuple(map(fsum, thinner))
        if len(tried_mm) > len(sessions) or max(tried_mm) >= max(thicknesses_mm):
            break
        sessions, thicknesses_mm = thinner, tried_mm
    return SessionPlan(
        session_count=len(sessions),
        plies_in_session=tuple(len(session) for session in sessions),
        session_thicknesses_mm=thicknesses_mm,
        over_limit_count=sum(thickness > allowed_mm for thickness in thicknesses_mm),
    )


def _filled(ply_thicknesses_mm: Sequence[float], most_mm: float) -> list[list[float]]:
    """As many plies as stay within the limit, session after session; a thicker ply is alone."""
    sessions: list[list[float]] = []
    for thickness_mm in ply_thicknesses_mm:
        if sessions and fsum([*sessions[-1], thickness_mm]) <= most_mm:
            sessions[-1].append(thickness_mm)
        else:
            sessions.append([thickness_mm])
    return sessions
