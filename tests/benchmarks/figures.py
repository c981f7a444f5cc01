"""The one form of every benchmark: figures, how they are taken, and the table they are printed in."""

from __future__ import annotations

import os
import platform
import statistics
import time
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
_YARDSTICK_ROUNDS = 5
_YARDSTICK_STEPS = 2_000_000


@dataclass(frozen=True)
class Figure:
    """One line of the table; `cpu` is the processor time beside a wall time, both in the figure's unit."""

    what: str
    value: float
    unit: str
    worst: float | None = None
    cpu: float | None = None
    budget: str = ""
    note: str = ""


@dataclass(frozen=True)
class Taken:
    """What calls took, in milliseconds: by the clock, and of the processor."""

    wall: list[float]
    cpu: list[float]

    def add(self, more: Taken) -> None:
        """Further calls of the same kind."""
        self.wall.extend(more.wall)
        self.cpu.extend(more.cpu)

    def figure(self, what: str, budget: str = "", note: str = "") -> Figure:
        """Median and worst."""
        return Figure(what, statistics.median(self.wall), "ms", max(self.wall), statistics.median(self.cpu), budget,
                      note)


def timed(calls: Iterable[Callable[[], object]]) -> Taken:
    """Time each call once."""
    wall, cpu = [], []
    for call in calls:
        begun, begun_cpu = time.perf_counter(), time.process_time()
        call()
        cpu.append((time.process_time() - begun_cpu) * 1000)
        wall.append((time.perf_counter() - begun) * 1000)
    return Taken(wall, cpu)


def yardstick_ms() -> float:
    """How long this machine takes for a plain loop of two million additions, the best of five."""
    best = float("inf")
    for _ in range(_YARDSTICK_ROUNDS):
        begun, total = time.perf_counter(), 0
        for number in range(_YARDSTICK_STEPS):
            total += number
        best = min(best, (time.perf_counter() - begun) * 1000)
    return best


def machine() -> str:
    """The machine in general words, and how busy it is."""
    busy = f", load {os.getloadavg()[0]:.1f} when begun" if hasattr(os, "getloadavg") else ""
    return (f"{os.cpu_count()} cores, {platform.system()} on {platform.machine()}, {platform.python_implementation()} "
            f"{platform.python_version()}, a plain loop of two million additions {yardstick_ms():.0f} ms{busy}")


_HEADINGS = ("figure", "value", "worst", "processor", "budget", "note")


def table(figures: Iterable[Figure]) -> str:
    """The figures as a table that is readable as it stands and is Markdown."""
    rows = [_HEADINGS, *map(_row, figures)]
    widths = [max(len(row[column]) for row in rows) for column in range(len(_HEADINGS))]
    lines = ["| " + " | ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)) + " |"
             for row in rows]
    return "\n".join([lines[0], "| " + " | ".join("-" * width for width in widths) + " |", *lines[1:]])


def _row(figure: Figure) -> tuple[str, ...]:
    worst, cpu = (f"{_short(value)}" if value is not None else "" for value in (figure.worst, figure.cpu))
    return figure.what, f"{_short(figure.value)} {figure.unit}".strip(), worst, cpu, figure.budget, figure.note


def _short(value: float) -> str:
    return f"{value:.0f}" if abs(value) >= 100 else f"{value:.3g}"
