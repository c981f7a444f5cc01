"""The words explained, where it all comes from, and how it was reached."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from advisor.consultation.advice import Advice, TraceLine
from advisor.knowledge.rulebase import RuleBase
from advisor.report import phrases, references
from advisor.report.blocks import Block, Item, Line
from advisor.report.glossary import terms_in
from advisor.report.references import fact_label
from advisor.report.running import first_sentence, listed


def words(texts: Iterable[str], rule_base: RuleBase, details: bool) -> Iterator[Block]:
    """The words of the trade that stand in the texts: what each is, and all there is to say with the details."""
    labelled = [(f"{term.label} ({', '.join(others)})" if others else term.label, term.means)
                for term, others in terms_in(texts, rule_base.terms)]
    if details:
        yield from (Item(Line(means, label)) for label, means in labelled)
    elif labelled:
        yield Line(listed(f"{label}: {_as_phrase(means)}" for label, means in labelled))


def _as_phrase(means: str) -> str:
    """The first sentence of an explanation, to stand inside a longer one."""
    said = first_sentence(means)
    return said if said[1:2].isupper() else said[:1].lower() + said[1:]


def sources(advice: Advice, rule_base: RuleBase, printed: Iterable[str] | None) -> Iterator[Block]:
    """How many sources stand behind what was printed, or each in full for None, and which rules gave the advice."""
    used = references.used(advice, printed)
    if printed is None:
        yield from (Item(Line(text)) for text in dict.fromkeys(references.full(id_, rule_base) for id_ in used))
    elif used:
        yield Line(phrases.COUNTED.format(count=len(used)))
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
