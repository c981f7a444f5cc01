"""The work itself: today, the steps and the margins."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from advisor.consultation.advice import Advice, CheckLine, StepLine
from advisor.knowledge.rulebase import RuleBase
from advisor.report import phrases, references
from advisor.report.amounts import check_cells, check_range
from advisor.report.blocks import Block, Group, Item, Line, Table
from advisor.report.making import reason
from advisor.report.running import listed

_CALMER = ("go", "wait", "no_go")
_NO_WORRY = "ample"


def today(advice: Advice, details: bool) -> Iterator[Block]:
    """Go, wait or no-go by the worst of today's conditions, then each condition; those that are good run on."""
    if advice.conditions:
        worst = max((line.verdict for line in advice.conditions), key=_CALMER.index)
        stopped = worst == "go" and any(caution.severity == "stop" for caution in advice.cautions)
        yield Line(phrases.GO_BELOW_A_STOP if stopped else phrases.TODAY_SAYS[worst],
                   tone="strong" if worst == "go" else "alarm")
        doubtful = in_doubt(advice)
        if worst == "go" and doubtful:
            yield Line(f"{'; '.join(doubtful)} ({phrases.SEE_CHECKS}).", phrases.IN_DOUBT, "alarm")
    good = [line for line in advice.conditions if line.verdict == "go"]
    for line in advice.conditions:
        if details or line.verdict != "go":
            yield Item(Line(line.say, phrases.CONDITION[line.verdict]))
    if good and not details:
        yield Item(Line(" ".join(line.say for line in good), phrases.CONDITION["go"]))


def steps(advice: Advice, rule_base: RuleBase, details: bool) -> Iterator[Block]:
    """The steps under their phases, numbered through."""
    if advice.steps and any(caution.severity in ("danger", "care") for caution in advice.cautions):
        yield Line(phrases.STEPS_FIRST, tone="strong")
    for phase, lines in groupby(advice.steps, key=lambda step: step.phase):
        form = rule_base.phases.get(phase)
        yield Group(form.label if form else phase)
        for step in lines:
            hold = (Line(step.hold_point, phrases.HOLD_POINT, "alarm"),) if step.hold_point else ()
            yield Item(Line(step.text), (*hold, *reason(step.why, rule_base, details)), step.number,
                       tuple(_told_with(step, details)))
    if not details and any(step.right_when or step.if_not for step in advice.steps):
        yield Line(phrases.STEPS_MORE)


def _told_with(step: StepLine, details: bool) -> Iterator[Line]:
    """What goes on in the paragraph of a step; only the hold point stands apart from it.

    How to know that a step is right is wanted at the bench, and stands on the job sheet.
    """
    if step.duration:
        yield Line(step.duration if step.duration.endswith(".") else f"{step.duration}.", phrases.DURATION)
    for text, label in ((step.right_when, phrases.RIGHT_WHEN), (step.if_not, phrases.IF_NOT)):
        if text and details:
            yield Line(text, label)


def products(advice: Advice) -> Iterator[Block]:
    """What became of the products at hand, and what on their cards looks odd."""
    for line in advice.products:
        yield Item(Line(line.say, tone="plain" if line.used and not line.against else "strong"),
                   tuple(Line(query, phrases.QUERY) for query in line.queries))


def checks(advice: Advice, rule_base: RuleBase, details: bool) -> Iterator[Block]:
    """Every margin and what is not sure about it; with the details in one table, with formulas and sources.

    Without them only the margins somebody should look at stand in the table; ample ones run on below it.
    """
    shown = [check for check in advice.checks if details or check.verdict != _NO_WORRY]
    if shown:
        yield Table(phrases.CHECK_HEADINGS, tuple(check_cells(check, advice.units) for check in shown))
    ample = [_ample(check, advice) for check in advice.checks if check not in shown]
    if ample:
        yield Item(Line(listed(ample), phrases.AMPLE))
    for check in advice.checks if details else ():
        yield Item(Line(f"{check.name}."), (*_unsure(check, advice, rule_base), *_worked(check, rule_base)))
    if not details:
        yield from _unsure_together(advice, rule_base)


def _unsure_together(advice: Advice, rule_base: RuleBase) -> Iterator[Block]:
    """What is not sure about all margins: those with the same thing to say of them together."""
    same: dict[tuple[str | None, str], list[str]] = {}
    for check in advice.checks:
        for line in _unsure(check, advice, rule_base):
            same.setdefault((line.label, line.text), []).append(check.name)
    for (label, text), names in same.items():
        yield Item(Line(text, f"{'; '.join(names)}. {label}"))


def _ample(check: CheckLine, advice: Advice) -> str:
    name, value, limit, *_ = check_cells(check, advice.units)
    return f"{name} {value} ({limit})"


def _unsure(check: CheckLine, advice: Advice, rule_base: RuleBase) -> Iterator[Line]:
    if check.straddles:
        source = f" {phrases.SPREAD_FROM}: {check.spread_from}." if check.spread_from else ""
        yield Line(check_range(check, advice.units) + source, phrases.STRADDLES)
    if check.assumed:
        known = [references.fact_label(name, rule_base) for name in check.assumed]
        yield Line(listed(known), phrases.RESTS_ON)


def _worked(check: CheckLine, rule_base: RuleBase) -> Iterator[Line]:
    yield Line(check.formula, phrases.FORMULA)
    if check.with_numbers:
        yield Line(check.with_numbers, phrases.WITH_NUMBERS)
    yield Line(references.short(check.source, rule_base), phrases.SAID_BY)


def in_doubt(advice: Advice) -> list[str]:
    """Names of the margins that may fail, for beside a GO."""
    return [check.name for check in advice.checks if check.verdict == "doubtful" and not check.not_taken]


def failing(advice: Advice) -> Iterator[Block]:
    """The margins that fail, for the top of the report: nobody should find them on the last page."""
    names = [check.name for check in advice.checks if check.verdict == "fails" and not check.not_taken]
    if names:
        yield Line(f"{'; '.join(names)} ({phrases.SEE_CHECKS}).", phrases.FAILING, "alarm")
