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
    """All sessions, and the share of the whole thickness that the thickest one builds."""

    sessions: tuple[Session, ...]
    session_count: int
    largest_share_fraction: float


def sessions_of_schedule(schedule: Schedule, limit_mm: float) -> SessionTable:
    """Plies of a schedule laid in one go, as many as stay within the thickness limit, session after session.

    Args:
        schedule: plies in the order of laying, from build_schedule.
        limit_mm: most that may be built before it has cured and cooled, mm, 0.01 to 200.
    Returns:
        SessionTable: sessions with their plies (count) and thickness (mm).
    Raises:
        OutOfRange: the limit is outside its range.
    Formula: a ply joins the session while the sum of ply thicknesses <= limit
    Source: common-practice, arithmetic
    Example:
        >>> from advisor.calculators.schedule import build_schedule
        >>> mat = {"areal_mass_g_m2": 450, "glass_fraction": 0.30, "glass_density_kg_m3": 2560}
        >>> table = sessions_of_schedule(build_schedule(4.0, [], ["mat"], [], {"mat": mat}, 1200), 3.0)
        >>> [(session.plies, session.ply_count) for session in table.sessions]
        [('1 to 2', 2), ('3 to 4', 2)]
    """
    plan = layers_per_session([ply.thickness_mm for ply in schedule.plies], limit_mm)
    ends = list(accumulate(plan.plies_in_session))
    sessions = tuple(
        Session(number, f"{end - count + 1} to {end}" if count > 1 else str(end), count, thickness)
        for number, (end, count, thickness) in enumerate(
            zip(ends, plan.plies_in_session, plan.session_thicknesses_mm, strict=True), 1))
    return SessionTable(sessions, plan.session_count, max(plan.session_thicknesses_mm) / schedule.thickness_mm)
