"""Air of a room: concentration of a vapour over time, air flow needed, time to clear."""

from dataclasses import dataclass
from math import exp, expm1, log

from advisor.calculators.ranges import Range, require

__all__ = ["RoomAir", "air_flow_needed_m3_h", "clearing_time_h", "room_air"]

RELEASED_G = Range(0, 1_000_000)
RELEASE_TIME_H = Range(0.01, 48)
RELEASE_RATE_G_H = Range(0, 1_000_000)
ROOM_VOLUME_M3 = Range(0.1, 1_000_000)
AIR_CHANGES_PER_H = Range(0.01, 200)
MIXING_FRACTION = Range(0.05, 1)
LIMIT_MG_M3 = Range(0.0001, 100_000)
CONCENTRATION_MG_M3 = Range(0, 10_000_000)
SHIFT_H = 8.0
SHORT_TERM_H = 0.25


@dataclass(frozen=True, slots=True)
class RoomAir:
    """Concentration in a room into which a vapour is given off evenly for a time, then no more.

    The means are over the worst 8 hours and the worst 15 minutes, wherever in the day they lie.
    """

    peak_mg_m3: float
    steady_mg_m3: float
    mean_8_hours_mg_m3: float
    mean_15_minutes_mg_m3: float
    unchanged_air_mg_m3: float
    effective_air_flow_m3_h: float


def room_air(
    released_g: float,
    release_time_h: float,
    room_volume_m3: float,
    air_changes_per_h: float,
    mixing_fraction: float,
) -> RoomAir:
    """Concentration of a vapour in the air of a room while it is given off and afterwards.

    Args:
        released_g: vapour given off altogether, g, 0 to 1000000.
        release_time_h: time over which it is given off, from the first resin until gel, h, 0.01 to 48.
        room_volume_m3: air in the room, m3, 0.1 to 1000000.
        air_changes_per_h: how often fresh air replaces it, 1/h, 0.01 to 200; a shut room leaks some 0.1 to 0.5.
        mixing_fraction: share of the fresh air that mixes with the room, dimensionless, 0.05 to 1.
    Returns:
        RoomAir: peak, which is at the end of the release; what it would level out at; means over the worst 8 hours
        and the worst 15 minutes; peak without any air change (all mg/m3); fresh air that counts (m3/h).
    Raises:
        OutOfRange: an argument is outside its range.
    Valid: clean fresh air and a mean of the whole room. At the face of whoever leans over wet resin it is several
        times as much, and vapour heavier than air gathers in pits, bilges and on the floor. No air can hold more than
        the saturated vapour.
    Formula: V dc/dt = G - m n V c; rising c = G/(m n V) (1 - exp(-m n t)), then c = peak exp(-m n t);
        G = 1000 released/release time, V = room volume, n = air changes, m = mixing fraction
    Source: mass balance of a well-mixed room, as in ACGIH Industrial Ventilation (from-memory)
    Example:
        >>> air = room_air(91.2, 2, 60, 3, 0.5)
        >>> round(air.peak_mg_m3), round(air.mean_8_hours_mg_m3), round(air.mean_15_minutes_mg_m3)
        (481, 127, 476)
    """
    require(RELEASED_G, released_g=released_g)
    require(RELEASE_TIME_H, release_time_h=release_time_h)
    require(ROOM_VOLUME_M3, room_volume_m3=room_volume_m3)
    require(AIR_CHANGES_PER_H, air_changes_per_h=air_changes_per_h)
    require(MIXING_FRACTION, mixing_fraction=mixing_fraction)
    cleared_per_h = air_changes_per_h * mixing_fraction
    unchanged_mg_m3 = 1000 * released_g / room_volume_m3
    steady_mg_m3 = unchanged_mg_m3 / release_time_h / cleared_per_h
    return RoomAir(
        peak_mg_m3=-steady_mg_m3 * expm1(-cleared_per_h * release_time_h),
        steady_mg_m3=steady_mg_m3,
        mean_8_hours_mg_m3=steady_mg_m3 * _worst_mean(cleared_per_h, release_time_h, SHIFT_H),
        mean_15_minutes_mg_m3=steady_mg_m3 * _worst_mean(cleared_per_h, release_time_h, SHORT_TERM_H),
        unchanged_air_mg_m3=unchanged_mg_m3,
        effective_air_flow_m3_h=cleared_per_h * room_volume_m3,
    )


def _worst_mean(cleared_per_h: float, release_h: float, window_h: float) -> float:
    """Highest mean over a window, as a share of the steady concentration.

    The worst window begins and ends at the same concentration, on the way up and on the way down; written with
    falling exponentials only, so that much air does not overflow.
    """
    shorter_h = min(release_h, window_h)
    left = exp(-cleared_per_h * (release_h - shorter_h)) - exp(-cleared_per_h * release_h) * exp(
        -cleared_per_h * (window_h - shorter_h))
    left += exp(-cleared_per_h * (window_h - shorter_h))
    before_end_h = min(release_h, shorter_h - log(left) / cleared_per_h)
    begin_h = release_h - before_end_h
    rising_h = before_end_h + exp(-cleared_per_h * begin_h) * expm1(-cleared_per_h * before_end_h) / cleared_per_h
    peak = -expm1(-cleared_per_h * release_h)
    falling_h = -peak * expm1(-cleared_per_h * (window_h - before_end_h)) / cleared_per_h
    return (rising_h + falling_h) / window_h


def air_flow_needed_m3_h(release_rate_g_h: float, limit_mg_m3: float, mixing_fraction: float) -> float:
    """Fresh air that keeps a vapour given off steadily at a limit.

    Args:
        release_rate_g_h: vapour given off, g/h, 0 to 1000000; the fastest hour of the work.
        limit_mg_m3: concentration to stay at, mg/m3, 0.0001 to 100000.
        mixing_fraction: share of the fresh air that mixes with the room, dimensionless, 0.05 to 1.
    Returns:
        Fresh air, m3/h.
    Raises:
        OutOfRange: an argument is outside its range.
    Valid: reaches the limit itself, with no spare; thinning the air is for vapours of low danger. Very large flows
        are better met by drawing the vapour off where it arises.
    Formula: Q = 1000 release rate/(mixing fraction x limit)
    Source: mass balance of a well-mixed room at rest, as in ACGIH Industrial Ventilation (from-memory), where the
        factor K is 1/mixing fraction
    Example:
        >>> round(air_flow_needed_m3_h(45.6, 215, 0.5))
        424
    """
    require(RELEASE_RATE_G_H, release_rate_g_h=release_rate_g_h)
    require(LIMIT_MG_M3, limit_mg_m3=limit_mg_m3)
    require(MIXING_FRACTION, mixing_fraction=mixing_fraction)
    return 1000 * release_rate_g_h / (mixing_fraction * limit_mg_m3)


def clearing_time_h(
    start_mg_m3: float, limit_mg_m3: float, air_changes_per_h: float, mixing_fraction: float
) -> float:
    """Time until a room in which nothing more is given off has cleared to a limit.

    Args:
        start_mg_m3: concentration when the release ends, mg/m3, 0 to 10000000.
        limit_mg_m3: concentration to clear to, mg/m3, 0.0001 to 100000.
        air_changes_per_h: how often fresh air replaces the air of the room, 1/h, 0.01 to 200.
        mixing_fraction: share of the fresh air that mixes with the room, dimensionless, 0.05 to 1.
    Returns:
        Time, h; 0 when it is at the limit or below already.
    Raises:
        OutOfRange: an argument is outside its range.
    Valid: nothing more given off; fresh resin goes on until it has gelled and for a while after, wet rags until dry.
    Formula: t = ln(start/limit)/(air changes x mixing fraction)
    Source: mass balance of a well-mixed room, as in ACGIH Industrial Ventilation (from-memory)
    Example:
        >>> round(clearing_time_h(480, 85, 3, 0.5), 2)
        1.15
    """
    require(CONCENTRATION_MG_M3, start_mg_m3=start_mg_m3)
    require(LIMIT_MG_M3, limit_mg_m3=limit_mg_m3)
    require(AIR_CHANGES_PER_H, air_changes_per_h=air_changes_per_h)
    require(MIXING_FRACTION, mixing_fraction=mixing_fraction)
    if start_mg_m3 <= limit_mg_m3:
        return 0.0
    return log(start_mg_m3 / limit_mg_m3) / (air_changes_per_h * mixing_fraction)
