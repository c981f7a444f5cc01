"""Sources and facts by their names, and which sources an advice rests on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from advisor.consultation.advice import Advice, Candidate, EvidenceLine
from advisor.knowledge.model import Source
from advisor.knowledge.rulebase import RuleBase
from advisor.report import phrases

_SHORT = {"common-practice": phrases.COMMON_PRACTICE, "from-memory": phrases.FROM_MEMORY}
_IN_FULL = {"common-practice": phrases.COMMON_PRACTICE_IN_FULL, "from-memory": phrases.FROM_MEMORY_IN_FULL}


def short(ids: Iterable[str], rule_base: RuleBase) -> str:
    """Sources as they are named beside a line: issuer, number, year."""
    return "; ".join(_short(id_, rule_base) for id_ in dict.fromkeys(ids))


def _short(id_: str, rule_base: RuleBase) -> str:
    source = rule_base.sources.get(id_)
    if source is None:
        return id_
    named = " ".join(filter(None, (source.issuer, _without_issuer(source), source.year)))
    return _SHORT.get(source.kind) or named or source.title


def full(id_: str, rule_base: RuleBase) -> str:
    """A source with title, issuer, number, section and year; memory and common practice said plainly."""
    source = rule_base.sources.get(id_)
    if source is None:
        return id_
    if source.kind in _IN_FULL:
        return _IN_FULL[source.kind]
    told = [source.title, source.issuer, source.number, source.section, source.year,
            phrases.NOT_OPENED if source.seen == "no" else None]
    return ", ".join(filter(None, told))


def _without_issuer(source: Source) -> str | None:
    """The number without the issuer it begins with: `ISO 8502-4` of ISO is `8502-4`."""
    return source.number.removeprefix(f"{source.issuer} ") if source.number else None


def fact_label(name: str, rule_base: RuleBase) -> str:
    """A fact as people call it; its own name where the rules have none for it."""
    if name in rule_base.facts:
        return rule_base.facts[name].label
    owner = name.partition(".")[0]
    attribute, form = rule_base.attribute(name), rule_base.facts.get(owner) or rule_base.decisions.get(owner)
    return f"{form.label}: {attribute.label}" if attribute and form else name


def used(advice: Advice, printed: Iterable[str] | None) -> list[str]:
    """The source ids behind the advice, in order of first use.

    Of the evidence only what stands in the texts printed; for None all of it, and the trace.
    """
    return list(dict.fromkeys(_all(advice, None if printed is None else frozenset(printed))))


def _all(advice: Advice, printed: frozenset[str] | None) -> Iterator[str]:
    for caution in advice.cautions:
        yield from caution.source
    for line in _evidence(advice) if advice.method or advice.choices else ():
        if printed is None or line.because in printed:
            yield from line.source
    whys = [*(line.why for line in advice.specification), *(line.why for line in advice.quantities),
            *(line.why for line in advice.steps), *(line.why for line in advice.conditions)]
    for why in whys:
        yield from why.source
    for check in advice.checks:
        yield from check.source
    for trace in advice.trace if printed is None else ():
        yield from trace.source


def _evidence(advice: Advice) -> Iterator[EvidenceLine]:
    candidates: list[Candidate] = [*advice.methods, *(c for choice in advice.choices for c in choice.candidates)]
    for candidate in candidates:
        yield from candidate.evidence
