"""How long each computation takes once warm: `python -m tests.benchmarks.computations [--slowest 10]`.

Budgets: 5 ms, and 200 ms for the two that march the heat of a curing layer through time.
"""

from __future__ import annotations

import argparse
import time

from advisor.calculators import CALCULATORS
from tests.calculators.test_calculators_documented import VALID

MARCHING = {"cure_peak", "layers_below_peak"}


def best_ms(name: str) -> float:
    """The best of five calls after a first one, in milliseconds."""
    taken = []
    for _ in range(6):
        begun = time.perf_counter()
        CALCULATORS[name](**VALID[name])
        taken.append((time.perf_counter() - begun) * 1000)
    return min(taken[1:])


def main() -> None:
    """Print the slowest and whether each stays inside its budget."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--slowest", type=int, default=10)
    times = sorted(((best_ms(name), name) for name in CALCULATORS), reverse=True)
    for taken, name in times[: parser.parse_args().slowest]:
        budget = 200 if name in MARCHING else 5
        print(f"{name:<28} {taken:8.3f} ms, {taken / budget:5.2f} of its budget")
    print(f"{len(times)} computations, {sum(taken for taken, _ in times):.1f} ms in all")


if __name__ == "__main__":
    main()
