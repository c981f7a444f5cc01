"""`advisor source`: look a source up, with what rests on it."""

from __future__ import annotations

import argparse
from collections.abc import Iterator

from advisor.errors import InputError, near, quoted
from advisor.knowledge.load import load_rule_base
from advisor.knowledge.model import Source
from advisor.knowledge.rulebase import RuleBase


def run(options: argparse.Namespace) -> int:
    """Print a source and everything that cites it, or the list of sources."""
    rule_base = load_rule_base(options.rules)
    if options.id is None:
        for source in rule_base.sources.values():
            print(f"{source.source}  {citation(source)}")
        return 0
    if options.id not in rule_base.sources:
        guess = near(options.id, rule_base.sources)
        raise InputError(f"there is no source {quoted(options.id)}",
                         help=f"did you mean `{guess}`?" if guess else "`advisor source` lists them all")
    print(citation(rule_base.sources[options.id]))
    for line in _citing(options.id, rule_base):
        print(f"  {line}")
    return 0


def _citing(source: str, rule_base: RuleBase) -> Iterator[str]:
    """Whatever rests on a source, one line each."""
    for rule in rule_base.rules.values():
        if source in rule.sources:
            yield f"{rule.rule}  {rule.says}"
    for calculation in rule_base.calculations.values():
        if source in calculation.sources:
            yield f"{calculation.calculation}  {calculation.label}"
    yield from (f"limit {limit.limit}  {limit.label}" for limit in rule_base.limits.values() if source in limit.sources)
    for caution in rule_base.cautions.values():
        if source in caution.sources:
            yield f"caution {caution.caution}  {caution.text}"
    for kind, things in rule_base.materials.items():
        yield from (f"{kind} {id_}  {thing.thing.label}" for id_, thing in things.items()
                    if source in thing.thing.sources)
    yield from (f"word {term.term}  {term.label}" for term in rule_base.terms.values() if source in term.sources)


def citation(source: Source) -> str:
    """A source in one line."""
    parts = (source.issuer, source.number, source.title, source.year, source.section)
    seen = "" if source.seen == "yes" else " [known by title, text not seen]"
    return ", ".join(part for part in parts if part) + seen
