"""Every figure about speed, by one command: `python -m tests.benchmarks [--quick] [NAME ...]`.

Prints figures and is no test: nothing fails because a machine is slow or busy. The processor's time and the ratios say
more than the clock where other work goes on.
"""

from __future__ import annotations

import argparse
import gc
import sys

from advisor.cli import SELDOM
from advisor.consultation.consult import Advisor
from tests.benchmarks import commands, computations, consultation, engines, growth, start
from tests.benchmarks.figures import machine, table

BENCHMARKS = {"start": start, "consultation": consultation, "engines": engines, "growth": growth,
              "commands": commands, "computations": computations}


def main() -> None:
    """Print a table for each benchmark named, or for all."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks", description=__doc__)
    parser.add_argument("names", nargs="*", metavar="NAME", help=f"one of {', '.join(BENCHMARKS)} (default: all)")
    parser.add_argument("--quick", action="store_true", help="fewer cases: to see that it runs, not to measure")
    options = parser.parse_args()
    unknown = [name for name in options.names if name not in BENCHMARKS]
    if unknown:
        parser.error(f"no benchmark is called {unknown[0]}; there are {', '.join(BENCHMARKS)}")
    print(machine())
    advisor = Advisor.from_folder()
    gc.freeze()  # both as the commands do
    gc.set_threshold(SELDOM)
    for name in options.names or BENCHMARKS:
        print(f"\n{name}", file=sys.stderr, flush=True)
        print(f"\n## {name}\n\n{table(BENCHMARKS[name].figures(advisor, options.quick))}", flush=True)


if __name__ == "__main__":
    main()
