"""`advisor source`: search and browse the sources, with what rests on each."""

from __future__ import annotations

import argparse

from advisor.commands.rule import found_of, print_found
from advisor.handbook.lookup import everything
from advisor.knowledge.load import load_rule_base


def run(options: argparse.Namespace) -> int:
    """Print a source and everything that cites it, or the sources found."""
    rule_base = load_rule_base(options.rules)
    sources = [entry for entry in everything(rule_base) if entry.kind == "source"]
    print_found(found_of(sources, options.words), options.form, rule_base)
    return 0
