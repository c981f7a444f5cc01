"""How long each computation takes once warm."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from advisor.calculators import CALCULATORS
from advisor.consultation.consult import Advisor
from tests.benchmarks.figures import Figure, timed
from tests.calculators.test_calculators_documented import VALID

MARCHING = {"cure_peak", "layers_below_peak"}
"""Those that march the heat of a curing layer through time."""
BUDGET_MS, BUDGET_MARCHING_MS = 5.0, 200.0
SHOWN = 6


def best_ms(name: str) -> float:
    """The best of five calls after a first one."""
    return min(timed([partial(CALCULATORS[name], **VALID[name])] * 6).wall[1:])


def figures(advisor: Advisor, quick: bool = False) -> Iterator[Figure]:
    """The slowest, and all together."""
    times = sorted(((best_ms(name), name) for name in CALCULATORS), reverse=True)
    over = [name for taken, name in times if taken > (BUDGET_MARCHING_MS if name in MARCHING else BUDGET_MS)]
    for taken, name in times[:SHOWN]:
        budget = BUDGET_MARCHING_MS if name in MARCHING else BUDGET_MS
        yield Figure(f"computation {name}", taken, "ms", budget=f"{budget:g} ms")
    yield Figure(f"all {len(times)} computations", sum(taken for taken, _ in times), "ms",
                 note=f"beyond their budget: {', '.join(over) or 'none'}")
