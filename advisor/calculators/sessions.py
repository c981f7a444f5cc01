"""A schedule split into sessions that do not overheat."""

from dataclasses import dataclass
from itertools import accumulate

from advisor.calculators.batches import layers_per_session
from advisor.calculators.schedule import Schedule

__all__ = ["Session", "SessionTable", "sessions_of_schedule"]


@dataclass(frozen=True, slots=True)
class Session:
    """One session: its plies, by their numbers in the schedule, and what they build."""

    number: int
    plies: str
    ply_count: int
    thickness_mm: float


@dataclass(frozen=True, slots=True)
class SessionTable:
    """All sessions, the most plies of one, and the shares of the whole that the thickest and the first ply build."""

    sessions: tuple[Session, ...]
    session_count: int
    most_plies: int
    largest_share_fraction: float
    first_ply_share_fraction: float


def sessions_of_schedule(schedule: Schedule, limit_mm: float, first_ply_alone: bool) -> SessionTable:
    """Plies of a schedule laid in one go without passing the thickness limit, in the fewest and most even sessions.

    Args:
        schedule: plies in the order of laying, from build_schedule.
        limit_mm: most that may be built before it has cured and cooled, mm, 0.01 to 200.
        first_ply_alone: true gives ply 1 a session of its own, as a bridge that must harden before it bears others.
    Returns:
        SessionTable: sessions with their plies (count) and thickness (mm).
    Raises:
        OutOfRange: the limit is outside its range.
    Formula: as layers_per_session
    Source: common-practice, arithmetic
    Example:
        >>> from advisor.calculators.schedule import build_schedule
        >>> mat = {"areal_mass_g_m2": 450, "glass_fraction": 0.30, "glass_density_kg_m3": 2560}
        >>> table = sessions_of_schedule(build_schedule(4.0, [], ["mat"], [], {"mat": mat}, 1200), 3.0, False)
        >>> [(session.plies, session.ply_count) for session in table.sessions]
        [('1 to 2', 2), ('3 to 4', 2)]
    """
    thicknesses = [ply.thickness_mm for ply in schedule.plies]
    split = int(first_ply_alone)
    plans = [layers_per_session(group, limit_mm) for group in (thicknesses[:split], thicknesses[split:]) if group]
    counts = [count for plan in plans for count in plan.plies_in_session]
    built = [thickness for plan in plans for thickness in plan.session_thicknesses_mm]
    sessions = tuple(
        Session(number, f"{end - count + 1} to {end}" if count > 1 else str(end), count, thickness)
        for number, (end, count, thickness) in enumerate(zip(accumulate(counts), counts, built, strict=True), 1))
    whole = schedule.thickness_mm
    return SessionTable(sessions, len(sessions), max(counts), max(built) / whole, thicknesses[0] / whole)
