"""`advisor vary`: which answers decide, and what other answers would change."""

from __future__ import annotations

import argparse
import gc
import json
import os
from pathlib import Path

from advisor import answer_file
from advisor.consultation.consult import UNTITLED, Advisor
from advisor.consultation.vary import Change, Varied, vary
from advisor.consultation.vary_words import told


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
        print("\n".join("  " * depth + line for depth, line in told(varied, advisor.rule_base)))
    return 0


def _data(one: Varied) -> dict[str, object]:
    return {"question": one.question, "given": one.given, "weight": one.weight,
            "changes": [_change_data(change) for change in one.changes],
            "nearest": [_change_data(change) for change in one.nearest]}


def _change_data(change: Change) -> dict[str, object]:
    return {"value": change.shown, "changes": [{"part": part, "before": before, "after": after}
                                               for part, before, after in change.changes]}
