"""The words explained, where it all comes from, and how it was reached."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from advisor.consultation.advice import Advice, TraceLine
from advisor.knowledge.rulebase import RuleBase
from advisor.report import phrases, references
from advisor.report.blocks import Block, Item, Line
from advisor.report.glossary import terms_in
from advisor.report.references import fact_label

_SENTENCE_END = re.compile(r"(?<=[.!?])\s+(?=[A-Z])")


def words(texts: Iterable[str], rule_base: RuleBase, details: bool) -> Iterator[Block]:
    """The words of the trade that stand in the texts: what each is, and all there is to say with the details."""
    for term, other_names in terms_in(texts, rule_base.terms):
        label = f"{term.label} ({', '.join(other_names)})" if other_names else term.label
        yield Item(Line(term.means if details else _SENTENCE_END.split(term.means, 1)[0], label))


def sources(advice: Advice, rule_base: RuleBase, printed: Iterable[str] | None) -> Iterator[Block]:
    """Every source behind what was printed, once, and which rules gave the advice; all in full for None."""
    named = references.full if printed is None else references.brief
    texts = tuple(dict.fromkeys(named(id_, rule_base) for id_ in references.used(advice, printed)))
    yield from (Item(Line(text)) for text in texts)
    if any(text.endswith(phrases.NOT_OPENED_MARK) for text in texts):
        yield Line(phrases.NOT_OPENED_BELOW)
    stamp = advice.rule_base
    yield Line(phrases.STAMP.format(version=stamp.version, mark=stamp.hash[:12]))


def trace(advice: Advice, rule_base: RuleBase) -> Iterator[Block]:
    """How each fact came to be known, in the order of reasoning."""
    for line in advice.trace:
        yield Item(Line(line.value, fact_label(line.fact, rule_base)), tuple(_origin(line, rule_base)))


def _origin(line: TraceLine, rule_base: RuleBase) -> Iterator[Line]:
    yield Line(f"{line.because} ({line.rule})", phrases.BECAUSE)
    if line.from_:
        yield Line(", ".join(fact_label(name, rule_base) for name in line.from_), phrases.FOLLOWS_FROM)
    if line.source:
        yield Line(references.short(line.source, rule_base), phrases.SAID_BY)
