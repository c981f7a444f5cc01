"""The review of a person's own plan: point by point, what fails first."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.consultation.advice import Advice, ReviewLine
from advisor.knowledge.rulebase import RuleBase
from advisor.report import phrases, references
from advisor.report.blocks import Block, Group, Item, Line


def points(advice: Advice, rule_base: RuleBase, details: bool) -> Iterator[Block]:
    """Every point under its verdict; with the details also its reason and who says so."""
    fails = any(line.verdict == "fails" for line in advice.review)
    for verdict, heading in phrases.REVIEW_VERDICT.items():
        found = [line for line in advice.review if line.verdict == verdict]
        if found:
            yield Group(phrases.IN_ORDER if fails and verdict == "sound" else heading)
        for line in found:
            yield Item(Line(line.say, line.about), tuple(_below(line, rule_base)) if details else ())


def in_short(advice: Advice, details: bool) -> Iterator[Block]:
    """How to see the whole of what the rules would do; a sheet has it anyway."""
    if advice.review and not details:
        yield Line(phrases.REVIEW_IN_SHORT)


def _below(line: ReviewLine, rule_base: RuleBase) -> Iterator[Line]:
    yield Line(line.why.because, phrases.BECAUSE)
    yield Line(references.short(line.why.source, rule_base), phrases.SAID_BY)
