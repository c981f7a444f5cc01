"""Many interviews by the state machine: python -m tests.properties.interview --examples 500 --seed 1"""

from __future__ import annotations

import argparse
import time

from hypothesis import HealthCheck, Phase, seed, settings
from hypothesis.stateful import run_state_machine_as_test

from tests.properties.interview_machine import COUNTED, Interviewing


def interviews(examples: int, steps: int, chance: int | None = None) -> None:
    """Hold so many interviews of at most so many steps; without `chance` they are the same every time.

    Raises:
        AssertionError: with the steps of the smallest interview in which something did not hold.
    """
    wanted = settings(max_examples=examples, stateful_step_count=steps, database=None,
                      derandomize=chance is None, suppress_health_check=list(HealthCheck),
                      phases=(Phase.generate, Phase.shrink))
    machine = type("Seeded", (Interviewing,), {})
    run_state_machine_as_test(machine if chance is None else seed(chance)(machine), settings=wanted)


def main() -> None:
    """Read the command line, hold the interviews, print what was done."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--examples", type=int, default=500)
    parser.add_argument("--steps", type=int, default=40)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    begun = time.monotonic()
    interviews(options.examples, options.steps, options.seed)
    print(f"{COUNTED['cases']} interviews, {COUNTED['steps']} lines typed, {COUNTED['advice']} pieces of advice "
          f"compared with their file in three orders, left {COUNTED['left']} times, "
          f"{time.monotonic() - begun:.0f} s, seed {options.seed}: nothing lost, nothing asked twice")


if __name__ == "__main__":
    main()
