"""`advisor source`: look a source up, with what rests on it."""

from __future__ import annotations

import argparse

from advisor.errors import InputError
from advisor.knowledge.check.values import did_you_mean
from advisor.knowledge.load import load_rule_base
from advisor.knowledge.model import Source


def run(options: argparse.Namespace) -> int:
    """Print a source and the rules that cite it, or the list of sources."""
    rule_base = load_rule_base(options.rules)
    if options.id is None:
        for source in rule_base.sources.values():
            print(f"{source.source}  {citation(source)}")
        return 0
    if options.id not in rule_base.sources:
        raise InputError(f"there is no source `{options.id}`", None,
                         did_you_mean(options.id, list(rule_base.sources)))
    print(citation(rule_base.sources[options.id]))
    for rule in rule_base.rules.values():
        if options.id in rule.sources:
            print(f"  {rule.rule}  {rule.says}")
    return 0


def citation(source: Source) -> str:
    """A source in one line."""
    parts = (source.issuer, source.number, source.title, source.year, source.section)
    seen = "" if source.seen == "yes" else " [known by title, text not seen]"
    return ", ".join(part for part in parts if part) + seen
