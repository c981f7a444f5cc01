"""`python -m tests.hostile [KIND ...]`: hand every hostile file to the real commands, print what came of it."""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterable

from tests.hostile.judge import faults
from tests.hostile.trial import KINDS, Result, trials


def main() -> int:
    """Print each trial with its time and memory, then the count of faults."""
    parser = argparse.ArgumentParser(prog="python -m tests.hostile")
    parser.add_argument("kinds", nargs="*", metavar="KIND", help=", ".join(KINDS))
    parser.add_argument("--name", default="", help="only files whose description holds these words")
    parser.add_argument("--quiet", action="store_true", help="only what went wrong")
    parser.add_argument("--sample", action="store_true", help="fewer trials, as the tests run them")
    parser.add_argument("--json", action="store_true", help="one line for the tests: count of trials, faults")
    options = parser.parse_args()
    results = trials(options.kinds, options.name, sample=options.sample)
    if options.json:
        whole = list(results)
        wrong = [f"{result.command}: {result.name}: {fault}" for result in whole for fault in faults(result)]
        print(json.dumps({"trials": len(whole), "faults": wrong}))
        return 1 if wrong else 0
    return _printed(results, options.quiet)


def _printed(results: Iterable[Result], quiet: bool) -> int:
    count = bad = 0
    slowest = largest = 0.0
    for result in results:
        found = list(faults(result))
        count, bad = count + 1, bad + bool(found)
        slowest, largest = max(slowest, result.seconds), max(largest, result.megabytes)
        if found or not quiet:
            first = result.errors.splitlines()[:1] or [""]
            print(f"{result.status:4} {result.seconds:5.2f} s {result.megabytes:4.0f} MB  {result.command}: "
                  f"{result.name}  {'; '.join(found) or ascii(first[0][:110])}", flush=True)
    print(f"{count} trials, {bad} with a fault, slowest {slowest:.2f} s, most memory {largest:.0f} MB")
    return 1 if bad else 0


if __name__ == "__main__":
    raise SystemExit(main())
