"""A schedule split into sessions that do not overheat."""

from dataclasses import dataclass
from itertools import accumulate
from math import fsum

from advisor.calculators.batches import layers_per_session
from advisor.calculators.patches import CutList
from advisor.calculators.properties import Reinforcements
from advisor.calculators.resin import resin_of_patch_kg
from advisor.calculators.schedule import Schedule

__all__ = ["Session", "SessionTable", "sessions_of_schedule"]


@dataclass(frozen=True, slots=True)
class Session:
    """One session: its plies, by their numbers in the schedule, what they build and their share of all the resin."""

    number: int
    plies: str
    ply_count: int
    thickness_mm: float
    resin_percent: float


@dataclass(frozen=True, slots=True)
class SessionTable:
    """All sessions, the most plies of one, and the shares of all the resin that the thirstiest and ply 1 take."""

    sessions: tuple[Session, ...]
    session_count: int
    most_plies: int
    largest_share_fraction: float
    first_ply_share_fraction: float


def sessions_of_schedule(
    schedule: Schedule, cut_list: CutList, reinforcements: Reinforcements, limit_mm: float, first_ply_alone: bool
) -> SessionTable:
    """Plies of a schedule laid in one go without passing the thickness limit, in the fewest and most even sessions.

    Resin is shared by the glass of each session as cut: the patches of a taper differ much in size.

    Args:
        schedule: plies in the order of laying, from build_schedule.
        cut_list: the pieces of those plies, each with the number of its ply.
        reinforcements: id to its properties, as for resin_for_cut_list.
        limit_mm: most that may be built before it has cured and cooled, mm, 0.01 to 200.
        first_ply_alone: true gives ply 1 a session of its own, as a bridge that must harden before it bears others.
    Returns:
        SessionTable: sessions with their plies (count), thickness (mm) and share of the resin (%).
    Raises:
        OutOfRange: the limit or a property is outside its range.
        MissingProperty: a reinforcement or one of its properties is absent.
    Formula: sessions as layers_per_session; share = resin of the session's patches/resin of all patches, with the
        resin of a patch = area x areal mass x highest resin to glass ratio
    Source: common-practice, arithmetic
    Example:
        >>> from advisor.calculators.schedule import build_schedule
        >>> from advisor.calculators.patches import one_size_cut_list
        >>> mat = {"areal_mass_g_m2": 450, "glass_fraction": 0.30, "glass_density_kg_m3": 2560}
        >>> mats = {"mat": mat | {f"resin_to_glass_{level}": 2.3 for level in ("low", "likely", "high")}}
        >>> plies = build_schedule(4.0, [], ["mat"], [], mats, 1200, 1)
        >>> table = sessions_of_schedule(plies, one_size_cut_list(plies, 500, 200), mats, 3.0, False)
        >>> [(session.plies, session.ply_count, session.resin_percent) for session in table.sessions]
        [('1 to 2', 2, 50.0), ('3 to 4', 2, 50.0)]
    """
    thicknesses = [ply.thickness_mm for ply in schedule.plies]
    split = int(first_ply_alone)
    plans = [layers_per_session(group, limit_mm) for group in (thicknesses[:split], thicknesses[split:]) if group]
    counts = [count for plan in plans for count in plan.plies_in_session]
    built = [thickness for plan in plans for thickness in plan.session_thicknesses_mm]
    resin_kg = [fsum(resin_of_patch_kg(patch, reinforcements)[-1] for patch in cut_list.patches
                     if patch.number == ply.number) for ply in schedule.plies]
    ends = list(accumulate(counts))
    shares = [fsum(resin_kg[end - count:end]) / fsum(resin_kg) for end, count in zip(ends, counts, strict=True)]
    sessions = tuple(
        Session(number, f"{end - count + 1} to {end}" if count > 1 else str(end), count, thickness, 100 * share)
        for number, (end, count, thickness, share) in enumerate(zip(ends, counts, built, shares, strict=True), 1))
    return SessionTable(sessions, len(sessions), max(counts), max(shares), resin_kg[0] / fsum(resin_kg))
