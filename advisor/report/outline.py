"""The order of a report: advice and rule base to plain sections, whatever they are printed on."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.consultation.advice import Advice
from advisor.knowledge.rulebase import RuleBase
from advisor.report import appendix, causes, closing, making, phrases, reasons, review, supplies, work
from advisor.report.blocks import Block, Item, Line, Section, section, texts_of

_WITHOUT_METHOD = frozenset({"stop", "refer", "incomplete"})
# So many unknown answers, each of which changes the plan, leave nothing to buy or to work from.
_TOO_MANY_UNKNOWN = 4
# What somebody works from: its words are explained in every report, those of the rest with the details.
_WORKED_FROM = frozenset({"verdict", "review", "today", "causes", "choices", "specification", "steps"})


def outline(advice: Advice, rule_base: RuleBase, *, details: bool = False) -> tuple[Section, ...]:
    """The sections of the report in order, empty ones left out.

    Args:
        advice: what the consultation returned.
        rule_base: the rules it was made with, for glossary, sources and phases.
        details: also the whole balance of evidence, reasons and sources of every line, and the trace.
    """
    told = tuple(_told(advice, rule_base, details))
    return told + tuple(_after(told, advice, rule_base, details))


def _told(advice: Advice, rule_base: RuleBase, details: bool) -> Iterator[Section]:
    yield from section("stops", phrases.STOPS, closing.stops(advice), "alarm")
    if not details and hangs_in_the_air(advice):
        yield from _first_find_out(advice, rule_base)
        return
    yield from section("verdict", _verdict_heading(advice), _verdict(advice))
    yield from section("review", phrases.REVIEW, (
        *review.points(advice, rule_base, details), *review.in_short(advice, details)))
    yield from section("products", phrases.PRODUCTS, work.products(advice))
    if advice.status in _WITHOUT_METHOD:
        yield from section("turn_to", phrases.TURN_TO, closing.turn_to(advice))
    else:
        yield from _way(advice, rule_base, details)
        yield from _work(advice, rule_base, details)
        yield from section("onward", phrases.ONWARD, closing.onward(advice))
    yield from _beware(advice, rule_base, details)


def hangs_in_the_air(advice: Advice) -> bool:
    """Whether so much that decides is unknown that the plan is only one of many; a plan of one's own is told anyway."""
    return (advice.status not in _WITHOUT_METHOD and not advice.review
            and sum(pivot.matters and pivot.given is None for pivot in advice.pivotal) >= _TOO_MANY_UNKNOWN)


def _first_find_out(advice: Advice, rule_base: RuleBase) -> Iterator[Section]:
    """What to find out, in place of a plan that every answer would change."""
    yield from section("verdict", phrases.VERDICT, (
        Line(phrases.FIND_OUT_FIRST, tone="strong"), Line(advice.verdict, phrases.AS_THINGS_STAND)))
    yield from section("pivotal", phrases.PIVOTAL, closing.pivotal(advice))
    yield from section("today", phrases.TODAY, work.today(advice, details=False))
    yield from section("assumed", phrases.ASSUMED, closing.assumed(advice, rule_base, details=False))
    yield from section("cautions", phrases.CAUTIONS, closing.dangers(advice, rule_base))
    yield from section("onward", phrases.ONWARD, closing.onward(advice))


def _verdict_heading(advice: Advice) -> str:
    if advice.status == "incomplete":
        return phrases.INCOMPLETE_VERDICT
    return phrases.END_VERDICT if advice.status in _WITHOUT_METHOD else phrases.VERDICT


def _verdict(advice: Advice) -> Iterator[Block]:
    """The verdict; questions that it strings together stand below each other."""
    listed = advice.status == "incomplete" and all(line.text in advice.verdict for line in advice.missing)
    if not (listed and advice.missing):
        yield Line(advice.verdict, tone="strong")
        yield from work.failing(advice)
        return
    yield Line(phrases.INCOMPLETE_FIRST, tone="strong")
    yield from (Item(Line(line.text)) for line in advice.missing)


def _way(advice: Advice, rule_base: RuleBase, details: bool) -> Iterator[Section]:
    yield from section("today", phrases.TODAY, work.today(advice, details))
    yield from section("causes", phrases.CAUSES, causes.ranked(advice, details))
    way = (*reasons.why(advice, details), *reasons.weighed_most(advice, rule_base))
    if details:
        yield from section("why", phrases.WHY, way)
        yield from section("why_not", phrases.WHY_NOT, reasons.why_not(advice, details))
    else:
        yield from section("why", phrases.WHY_AND_NOT, (*way, *reasons.why_not(advice, details)))
    yield from section("choices", phrases.CHOICES, reasons.choices(advice, rule_base, details))
    if details:
        yield from section("balance", phrases.BALANCE, reasons.balance(advice, rule_base))


def _work(advice: Advice, rule_base: RuleBase, details: bool) -> Iterator[Section]:
    if details or not advice.review:  # beside a plan that somebody brought, the way of the rules is told in short
        yield from _making(advice, rule_base, details)
    yield from section("checks", phrases.CHECKS, work.checks(advice, rule_base, details))


def _making(advice: Advice, rule_base: RuleBase, details: bool) -> Iterator[Section]:
    yield from section("specification", phrases.SPECIFICATION,
                       making.specification(advice.specification, rule_base, details))
    if details:
        yield from section("quantities", phrases.QUANTITIES, supplies.quantities(advice, rule_base))
    yield from section("buy", phrases.BUY, supplies.shopping(advice, details))
    yield from section("batches", phrases.BATCHES, supplies.batches(advice, details))
    yield from section("steps", phrases.STEPS, work.steps(advice, rule_base, details))


def _beware(advice: Advice, rule_base: RuleBase, details: bool) -> Iterator[Section]:
    yield from section("cautions", phrases.CAUTIONS, closing.cautions(advice, rule_base, details))
    yield from section("disputed", phrases.DISPUTED, closing.disputed(advice, rule_base, details))
    if details and advice.status not in _WITHOUT_METHOD:
        yield from section("told", phrases.TOLD, closing.told(advice, rule_base))
    yield from section("assumed", phrases.ASSUMED, closing.assumed(advice, rule_base, details))
    if details or advice.status not in _WITHOUT_METHOD:
        yield from section("missing", phrases.MISSING, closing.missing(advice))
    yield from section("pivotal", phrases.PIVOTAL, closing.pivotal(advice))
    yield from section("confirm", phrases.CONFIRM, closing.confirm(advice, details))


def _after(told: tuple[Section, ...], advice: Advice, rule_base: RuleBase, details: bool) -> Iterator[Section]:
    trace = tuple(section("trace", phrases.TRACE, appendix.trace(advice, rule_base) if details else ()))
    texts = tuple(texts_of((*told, *trace)))
    whole = details or advice.status in _WITHOUT_METHOD
    to_explain = texts if whole else tuple(texts_of(one for one in told if one.id in _WORKED_FROM))
    yield from section("words", phrases.WORDS, appendix.words(to_explain, rule_base, details))
    yield from section("sources", phrases.SOURCES, appendix.sources(advice, rule_base, None if details else texts))
    yield from trace
