"""The work itself: specification, amounts, batches, today, steps and margins."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from advisor.consultation.advice import Advice, SpecificationLine, StepLine, Why
from advisor.knowledge.rulebase import RuleBase
from advisor.report import phrases, references
from advisor.report.amounts import batch_cells, cell, check_cells, how_much, to_buy
from advisor.report.blocks import Block, Group, Item, Line, Table

_CALMER = ("go", "wait", "no_go")


def today(advice: Advice) -> Iterator[Block]:
    """Go, wait or no-go by the worst of today's conditions, then each condition."""
    if advice.conditions:
        worst = max((line.verdict for line in advice.conditions), key=_CALMER.index)
        yield Line(phrases.TODAY_SAYS[worst], tone="strong" if worst == "go" else "alarm")
    for line in advice.conditions:
        yield Item(Line(line.say, phrases.CONDITION[line.verdict]))


def specification(advice: Advice, rule_base: RuleBase, details: bool) -> Iterator[Block]:
    """Lines first in the order of the rules, then the tables of plies and pieces."""
    for line in advice.specification:
        if not line.columns:
            yield Item(Line(line.say, line.about), tuple(_reason(line.why, rule_base, details)))
    for line in advice.specification:
        if line.rows:
            yield from _table(line)


def _table(line: SpecificationLine) -> Iterator[Block]:
    yield Group(line.about)
    yield Table(tuple(line.columns.values()),
                tuple(tuple(cell(row.get(name)) for name in line.columns) for row in line.rows))
    if line.say:
        yield Line(line.say)


def _reason(why: Why, rule_base: RuleBase, details: bool) -> Iterator[Line]:
    if details:
        yield Line(why.because, phrases.BECAUSE)
        yield Line(f"{references.short(why.source, rule_base)} ({why.rule})", phrases.SAID_BY)


def quantities(advice: Advice, rule_base: RuleBase, details: bool) -> Iterator[Block]:
    """What is needed, with the range; what each amount was worked out from with the details."""
    for line in advice.quantities:
        if line.amount is None and line.buy and not details:
            continue  # stands under what to buy
        below = [Line(line.note)] if line.note else []
        below += [Line(line.basis, phrases.BASIS)] if details else []
        yield Item(Line(how_much(line, advice.units), line.item), (*below, *_reason(line.why, rule_base, details)))


def shopping(advice: Advice) -> Iterator[Block]:
    """What to buy: packs, else the high end, else what the rule says of it."""
    wanted = [line for line in advice.quantities if line.buy]
    if any(line.amount is not None for line in wanted):
        yield Line(phrases.BUY_HIGH_END)
    for line in wanted:
        if line.amount is None and not line.packs:
            yield Item(Line(line.note, line.item) if line.note else Line(line.item))
        else:
            needed = f"; {phrases.NEEDED} {how_much(line, advice.units)}" if line.packs else ""
            yield Item(Line(to_buy(line, advice.units) + needed, line.item))


def batches(advice: Advice) -> Iterator[Block]:
    """The cups in order, with their times."""
    if advice.batches:
        yield Table(phrases.BATCH_HEADINGS, tuple(batch_cells(batch, advice.units) for batch in advice.batches))
        yield Line(phrases.BATCH_CLOCK)


def steps(advice: Advice, rule_base: RuleBase, details: bool) -> Iterator[Block]:
    """The steps under their phases, numbered through."""
    if advice.steps and any(caution.severity in ("danger", "care") for caution in advice.cautions):
        yield Line(phrases.STEPS_FIRST, tone="strong")
    for phase, lines in groupby(advice.steps, key=lambda step: step.phase):
        form = rule_base.phases.get(phase)
        yield Group(form.label if form else phase)
        for step in lines:
            yield Item(Line(step.text), (*_below(step), *_reason(step.why, rule_base, details)), step.number)


def _below(step: StepLine) -> Iterator[Line]:
    told = ((step.duration, phrases.DURATION), (step.hold_point, phrases.HOLD_POINT),
            (step.right_when, phrases.RIGHT_WHEN), (step.if_not, phrases.IF_NOT))
    for text, label in told:
        if text:
            yield Line(text, label, "alarm" if label == phrases.HOLD_POINT else "plain")


def checks(advice: Advice, rule_base: RuleBase, details: bool) -> Iterator[Block]:
    """Every margin in one table; formulas and sources with the details."""
    if advice.checks:
        yield Table(phrases.CHECK_HEADINGS, tuple(check_cells(check, advice.units) for check in advice.checks))
    for check in advice.checks if details else ():
        yield Item(Line(check.formula, check.name),
                   (Line(references.short(check.source, rule_base), phrases.SAID_BY),))


def failing(advice: Advice) -> Iterator[Block]:
    """The margins that fail, for the top of the report: nobody should find them on the last page."""
    names = [check.name for check in advice.checks if check.verdict == "fails"]
    if names:
        yield Line(f"{'; '.join(names)} ({phrases.SEE_CHECKS}).", phrases.FAILING, "alarm")
