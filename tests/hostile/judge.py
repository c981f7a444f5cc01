"""What must hold of every trial, whatever the file."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator

from tests.hostile.trial import Result

MOST_SECONDS = 5
MOST_MEGABYTES = 150
MOST_OUTPUT = 100_000
_HIDDEN = frozenset({"Cc", "Cf", "Cs", "Zl", "Zp"})
_REFUSED = 1
# An interview sets aside answers that it cannot use and says so; `saved` shows what is there without judging it.
_TAKEN = {"ask --from": 130, "ask --resume": 130, "ask --record": 130, "saved": 0, "saved show": 0}


def faults(result: Result) -> Iterator[str]:
    """What is wrong with the outcome, if anything."""
    if "Traceback" in result.errors or result.status == 99:
        yield f"traceback: {result.errors.strip().splitlines()[-1][:200]}"
    elif result.status < 0:
        yield f"ended by signal {-result.status}"
    elif result.status != _REFUSED and not result.harmless and result.status != _TAKEN.get(result.command):
        yield f"not refused: status {result.status}"
    if result.status == _REFUSED and "advisor: " not in result.errors:
        yield "refused without a message"
    if result.seconds > MOST_SECONDS:
        yield f"{result.seconds:.1f} s"
    if result.megabytes > MOST_MEGABYTES:
        yield f"{result.megabytes:.0f} MB"
    for name, text in (("output", result.output), ("messages", result.errors)):
        found = {sign for sign in text if unicodedata.category(sign) in _HIDDEN and sign != "\n"}
        if found:
            yield f"{name} with {', '.join(sorted(map(ascii, found)))}"
    if len(result.errors) > MOST_OUTPUT:
        yield f"{len(result.errors)} signs of messages"
