"""`advisor compare`: two answer files, and what differs in the advice."""

from __future__ import annotations

import argparse
import json
from dataclasses import asdict
from pathlib import Path

from advisor import answer_file
from advisor.consultation.compare import compare, told
from advisor.consultation.consult import UNTITLED, Advisor, Consultation
from advisor.consultation.texts import System


def run(options: argparse.Namespace) -> int:
    """Print what differs, by part."""
    advisor = Advisor.from_folder(options.rules, options.products)
    beside = Advisor.from_folder(options.rules, [*options.products, *options.other_products]) \
        if options.other_products else advisor
    one, other = _case(advisor, Path(options.one), options.units), _case(beside, Path(options.other), options.units)
    found = compare(one, other)
    if options.form == "json":
        print(json.dumps([asdict(difference) for difference in found], indent=2, ensure_ascii=False))
    else:
        lines = ["  " * depth + line for depth, line in told(found)]
        print("\n".join([f"A  {one.title}", f"B  {other.title}", "", *lines]))
    return 0


def _case(advisor: Advisor, path: Path, units: System | None) -> Consultation:
    file = answer_file.read(path)
    return advisor.consult(file.answers, file.title or UNTITLED, units, file.places)

