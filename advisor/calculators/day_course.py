"""A course of temperature through a day, and how far a resin has aged along it."""

from bisect import bisect_right
from collections.abc import Sequence
from math import ceil, exp

from advisor.calculators.cure import GAS_CONSTANT_KJ_MOL_K, ZERO_CELSIUS_K

__all__: list[str] = []

PANEL_K = 2.0  # Gauss's rule over panels of at most this much change is exact to about 1e-9
GAUSS_POINTS = ((-(0.6**0.5), 5 / 18), (0.0, 8 / 18), (0.6**0.5, 5 / 18))
BISECTIONS = 50


class Day:
    """Readings joined by straight lines, and how fast the resin ages along them."""

    def __init__(self, times_h: Sequence[float], temperatures_C: Sequence[float], reference_C: float,
                 energy_kJ_mol: float) -> None:
        self.times_h = times_h
        self.temperatures_C = temperatures_C
        self.energy_K = energy_kJ_mol / GAS_CONSTANT_KJ_MOL_K
        self.reference_per_K = 1 / (reference_C + ZERO_CELSIUS_K)

    def temperature_C(self, hour: float) -> float:
        """Temperature at an hour within the readings."""
        after = min(max(bisect_right(self.times_h, hour), 1), len(self.times_h) - 1)
        start_h, end_h = self.times_h[after - 1], self.times_h[after]
        start_C, end_C = self.temperatures_C[after - 1], self.temperatures_C[after]
        return start_C + (end_C - start_C) * (hour - start_h) / (end_h - start_h)

    def corners_between(self, start_h: float, end_h: float) -> list[float]:
        """The two hours and the readings between them."""
        return [start_h, *(hour for hour in self.times_h if start_h < hour < end_h), end_h]

    def temperatures_between(self, start_h: float, end_h: float) -> list[float]:
        """Temperatures at the two hours and at the readings between them."""
        return [self.temperature_C(hour) for hour in self.corners_between(start_h, end_h)]

    def too_cold_after_h(self, lowest_C: float, start_h: float) -> float | None:
        """First hour from the start on at which it is colder than the lowest, or None."""
        return self._first_below_h(lowest_C, self.corners_between(start_h, self.times_h[-1]))

    def too_cold_before_h(self, lowest_C: float, start_h: float) -> float | None:
        """Last hour up to the start at which it was colder than the lowest, or None."""
        return self._first_below_h(lowest_C, self.corners_between(self.times_h[0], start_h)[::-1])

    def _first_below_h(self, lowest_C: float, hours: Sequence[float]) -> float | None:
        temperatures = [self.temperature_C(hour) for hour in hours]
        if temperatures[0] < lowest_C:
            return hours[0]
        for place in range(1, len(hours)):
            before_C, after_C = temperatures[place - 1], temperatures[place]
            if after_C < lowest_C:
                share = (before_C - lowest_C) / (before_C - after_C)
                return hours[place - 1] + share * (hours[place] - hours[place - 1])
        return None

    def panels(self, start_h: float, end_h: float) -> list[tuple[float, float]]:
        """The time from start to end cut at the readings and where the temperature has changed by PANEL_K."""
        cut = []
        corners = self.corners_between(start_h, end_h)
        for begin_h, finish_h in zip(corners, corners[1:], strict=False):
            count = max(1, ceil(abs(self.temperature_C(finish_h) - self.temperature_C(begin_h)) / PANEL_K))
            step_h = (finish_h - begin_h) / count
            cut += [(begin_h + place * step_h, begin_h + (place + 1) * step_h) for place in range(count)]
        return cut

    def age_h(self, start_h: float, end_h: float) -> float:
        """Equivalent age gained between two hours."""
        return sum(self.panel_age_h(*panel) for panel in self.panels(start_h, end_h))

    def panel_age_h(self, start_h: float, end_h: float) -> float:
        """Equivalent age gained in one panel, by Gauss's rule of three points."""
        middle_h, half_h = (start_h + end_h) / 2, (end_h - start_h) / 2
        return (end_h - start_h) * sum(weight * self.rate(middle_h + half_h * point) for point, weight in GAUSS_POINTS)

    def rate(self, hour: float) -> float:
        """Equivalent hours gained in an hour."""
        return exp(self.energy_K * (self.reference_per_K - 1 / (self.temperature_C(hour) + ZERO_CELSIUS_K)))

    def hour_of_age(self, age_h: float, start_h: float, end_h: float) -> float:
        """Hour at which the age since the start has been gained; at most the end."""
        left_h = age_h
        for panel in self.panels(start_h, end_h):
            gained_h = self.panel_age_h(*panel)
            if gained_h >= left_h:
                return self._hour_in_panel(left_h, *panel)
            left_h -= gained_h
        return end_h

    def _hour_in_panel(self, age_h: float, start_h: float, end_h: float) -> float:
        low_h, high_h = start_h, end_h
        for _ in range(BISECTIONS):
            middle_h = (low_h + high_h) / 2
            if self.panel_age_h(start_h, middle_h) < age_h:
                low_h = middle_h
            else:
                high_h = middle_h
        return (low_h + high_h) / 2
