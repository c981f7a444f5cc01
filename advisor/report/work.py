"""The work itself: specification, amounts, batches, today, steps and margins."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from advisor.consultation.advice import Advice, CheckLine, Quantity, SpecificationLine, StepLine, Why
from advisor.knowledge.rulebase import RuleBase
from advisor.report import phrases, references
from advisor.report.amounts import batch_cells, cell, check_cells, check_range, how_much, to_buy
from advisor.report.blocks import Block, Group, Item, Line, Table
from advisor.units import Systems

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
            yield from _table(line, details)


def _table(line: SpecificationLine, details: bool) -> Iterator[Block]:
    rows = tuple(tuple(cell(row.get(name)) for name in line.columns) for row in line.rows)
    yield Group(line.about)
    yield Table(tuple(line.columns.values()), rows if details else tuple(_alike_together(rows)))
    if line.say:
        yield Line(line.say)


def _alike_together(rows: tuple[tuple[str, ...], ...]) -> Iterator[tuple[str, ...]]:
    """Rows that differ only in the running number before them as one, `1 to 12`."""
    counted = [(row, int(row[0]) - place if row[0].isdecimal() else row[0]) for place, row in enumerate(rows)]
    for _, group in groupby(counted, key=lambda one: (one[1], one[0][1:])):
        alike = [row for row, _ in group]
        first, last = alike[0], alike[-1]
        yield first if len(alike) == 1 else (f"{first[0]} {phrases.TO} {last[0]}", *first[1:])


def _reason(why: Why, rule_base: RuleBase, details: bool) -> Iterator[Line]:
    if details:
        yield Line(why.because, phrases.BECAUSE)
        yield Line(f"{references.short(why.source, rule_base)} ({why.rule})", phrases.SAID_BY)


def quantities(advice: Advice, rule_base: RuleBase, details: bool) -> Iterator[Block]:
    """What is needed and not bought, with the range.

    With the details also what is bought, and what each amount was worked out from.
    """
    for line in advice.quantities:
        if details:
            below = [*([Line(line.note)] if line.note else []), Line(line.basis, phrases.BASIS)]
            yield Item(Line(how_much(line, advice.units), line.item), (*below, *_reason(line.why, rule_base, True)))
        elif not line.buy:
            amount = how_much(line, advice.units) if line.amount is not None or not line.note else None
            yield Item(Line(_with_note(amount, line.note), line.item))


def shopping(advice: Advice) -> Iterator[Block]:
    """What to buy: packs or the high end, the range that is needed, and what the rule says of it."""
    wanted = [line for line in advice.quantities if line.buy]
    if any(line.amount is not None for line in wanted):
        yield Line(phrases.BUY_HIGH_END)
    for line in wanted:
        text = _with_note(_bought(line, advice.units), line.note)
        yield Item(Line(text, line.item) if text else Line(line.item))


def _bought(line: Quantity, system: Systems) -> str | None:
    if line.amount is None:
        return line.packs
    bought, needed = to_buy(line, system), how_much(line, system)
    return bought if bought == needed else f"{bought}; {phrases.NEEDED} {needed}"


def _with_note(amount: str | None, note: str | None) -> str:
    return ". ".join(filter(None, (amount, note)))


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
            hold = (Line(step.hold_point, phrases.HOLD_POINT, "alarm"),) if step.hold_point else ()
            yield Item(Line(step.text), (*hold, *_reason(step.why, rule_base, details)), step.number,
                       tuple(_told_with(step)))


def _told_with(step: StepLine) -> Iterator[Line]:
    """What goes on in the paragraph of a step; only the hold point stands apart from it."""
    if step.duration:
        yield Line(step.duration if step.duration.endswith(".") else f"{step.duration}.", phrases.DURATION)
    for text, label in ((step.right_when, phrases.RIGHT_WHEN), (step.if_not, phrases.IF_NOT)):
        if text:
            yield Line(text, label)


def checks(advice: Advice, rule_base: RuleBase, details: bool) -> Iterator[Block]:
    """Every margin in one table, and under it what is not sure; formulas and sources with the details."""
    if advice.checks:
        yield Table(phrases.CHECK_HEADINGS, tuple(check_cells(check, advice.units) for check in advice.checks))
    for check in advice.checks:
        below = [*_unsure(check, advice, rule_base), *(_worked(check, rule_base) if details else ())]
        if below:
            yield Item(Line(f"{check.name}."), tuple(below))


def _unsure(check: CheckLine, advice: Advice, rule_base: RuleBase) -> Iterator[Line]:
    if check.straddles:
        yield Line(check_range(check, advice.units), phrases.STRADDLES)
    if check.assumed:
        known = [references.fact_label(name, rule_base) for name in check.assumed]
        yield Line(f"{'; '.join(known)}.", phrases.RESTS_ON)


def _worked(check: CheckLine, rule_base: RuleBase) -> Iterator[Line]:
    yield Line(check.formula, phrases.FORMULA)
    if check.with_numbers:
        yield Line(check.with_numbers, phrases.WITH_NUMBERS)
    yield Line(references.short(check.source, rule_base), phrases.SAID_BY)


def failing(advice: Advice) -> Iterator[Block]:
    """The margins that fail, for the top of the report: nobody should find them on the last page."""
    names = [check.name for check in advice.checks if check.verdict == "fails"]
    if names:
        yield Line(f"{'; '.join(names)} ({phrases.SEE_CHECKS}).", phrases.FAILING, "alarm")
