"""`advisor vary`: which answers decide, and what other answers would change."""

from __future__ import annotations

import argparse
import gc
import json
import os
from collections.abc import Iterator
from pathlib import Path

from advisor import answer_file
from advisor.consultation.consult import UNTITLED, Advisor
from advisor.consultation.vary import Change, Varied, vary

ENDED = {"": "advice", "stop": "stop or refer", "refer": "refer", "send_back": "contradicts another answer",
         "incomplete": "needs more answers"}
TODAY = {"": "nothing", "go": "go", "wait": "wait", "no_go": "no go"}
MOST_SHOWN = 6


def run(options: argparse.Namespace) -> int:
    """Print what decides, most important first, then the answers that do not matter here."""
    advisor = Advisor.from_folder(options.rules, options.products)
    file = answer_file.read(Path(options.file))
    case = advisor.consult(file.answers, file.title or UNTITLED, options.units, file.places)
    gc.freeze()  # the rules stay as they are, and are shared with the other processes
    varied = vary(case, options.question, os.cpu_count() or 1)
    if options.form == "json":
        print(json.dumps([_data(one) for one in varied], indent=2, ensure_ascii=False))
    else:
        print("\n".join(_text(varied, advisor)))
    return 0


def _text(varied: list[Varied], advisor: Advisor) -> Iterator[str]:
    for one in varied:
        if not (one.changes or one.nearest):
            continue
        yield f"{one.ask}  {one.said}"
        for change in one.nearest:
            yield f"  at {change.shown}: {_changes(change, advisor)}"
        for change in one.changes[:MOST_SHOWN]:
            yield f"  {change.shown}: {_changes(change, advisor)}"
        if len(one.changes) > MOST_SHOWN:
            yield f"  and {len(one.changes) - MOST_SHOWN} other answers that would change something"
        yield ""
    idle = [one.ask for one in varied if not (one.changes or one.nearest)]
    if idle:
        yield "No other answer to these would change method, materials, margins or today's verdict:"
        yield from (f"  {ask}" for ask in idle)


def _changes(change: Change, advisor: Advisor) -> str:
    return "; ".join(_difference(part, before, after, advisor) for part, before, after in change.changes)


def _difference(part: str, before: str, after: str, advisor: Advisor) -> str:
    if part == "ended":
        return ENDED.get(after, after)
    if part == "today":
        return f"today {TODAY[after]} instead of {TODAY[before]}"
    if part == "failing":
        return f"margins that fail: {after or 'none'} (now {before or 'none'})"
    decision = advisor.rule_base.decisions[part].label.lower()
    return f"{decision} {after or 'none'} instead of {before or 'none'}"


def _data(one: Varied) -> dict[str, object]:
    return {"question": one.question, "given": one.given, "weight": one.weight,
            "changes": [_change_data(change) for change in one.changes],
            "nearest": [_change_data(change) for change in one.nearest]}


def _change_data(change: Change) -> dict[str, object]:
    return {"value": change.shown, "changes": [{"part": part, "before": before, "after": after}
                                               for part, before, after in change.changes]}
