"""Advice to the parts of the sheet, in the order in which they are used."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from advisor.consultation.advice import Advice, Quantity, SpecificationLine
from advisor.drawings import drawings_of
from advisor.knowledge.rulebase import RuleBase
from advisor.report import causes, closing, phrases, reasons, review
from advisor.report.amounts import batch_cells, check_cells, how_much, to_buy
from advisor.report.blocks import Item, Line
from advisor.report.making import specification
from advisor.report.references import fact_label, short
from advisor.report.work import in_doubt
from advisor.sheet import words
from advisor.sheet.parts import (
    Figure,
    Margin,
    Margins,
    Mixing,
    Part,
    Reading,
    Record,
    Sheet,
    SheetBlock,
    Signal,
    Step,
    Thing,
    ToConfirm,
    WorkingTime,
)

WITHOUT_METHOD = frozenset({"stop", "refer", "incomplete"})
_WORST = ("no_go", "wait", "go")
_FIRST_DRAWN = "section"
_BESIDE_THE_CLOCKS = frozenset({"time-line", "working-time"})


def sheet_of(advice: Advice, rule_base: RuleBase) -> Sheet:
    """The sheet of an advice; after a stop or referral only what belongs to that."""
    parts = _ended(advice) if advice.status in WITHOUT_METHOD else _parts(advice, rule_base)
    verdicts = [line.verdict for line in advice.conditions]
    if any(caution.severity == "stop" for caution in advice.cautions):
        verdicts = ["wait" if one == "go" else one for one in verdicts]  # no GO beside a STOP
    return Sheet(title=advice.title, verdict=advice.verdict, status=advice.status,
                 today=next((one for one in _WORST if one in verdicts), None),
                 stamp=words.SIGNATURE.format(version=advice.rule_base.version, mark=advice.rule_base.hash[:12]),
                 parts=tuple(part for part in parts if part.blocks))


def _ended(advice: Advice) -> Iterator[Part]:
    turn = [Item(Line(f"{text[:1].upper()}{text[1:]}", tone="strong")) for text in advice.turn_to]
    missing = [Item(Line(line.text)) for line in advice.missing]
    yield Part("first", words.NO_METHOD, tuple(_warnings(advice, ("stop",))), alarm=True)
    yield Part("turn_to", words.TURN_TO, (*turn, *missing), alarm=True)
    yield Part("cautions", words.CAUTIONS, tuple(_warnings(advice, ("danger", "care", "note"))))


def _parts(advice: Advice, rule_base: RuleBase) -> Iterator[Part]:
    yield Part("first", words.FIRST, tuple(_first(advice)), alarm=True)
    yield Part("review", words.REVIEW, tuple(review.points(advice, rule_base, False)), on_paper=False)
    yield Part("causes", words.CAUSES, tuple(causes.ranked(advice, False)))
    drawings = drawings_of(advice)
    phases = _phases(advice, rule_base, [Figure(one) for one in drawings if one.id in _BESIDE_THE_CLOCKS])
    yield from phases[:1]
    yield Part("today", words.TODAY_HEADING, tuple(_today(advice)))
    yield Part("buy", words.BUY, tuple(_buy(advice)))
    yield Part("making", words.MAKING, (
        *(Figure(one) for one in drawings if one.id == _FIRST_DRAWN),
        *specification(_done(advice), rule_base, False),
        *(Figure(one) for one in drawings if one.id not in _BESIDE_THE_CLOCKS | {_FIRST_DRAWN})))
    yield from phases[1:]
    yield Part("record", words.RECORD, (Record(tuple(_readings(advice, advice_phase=True))),))
    yield from _looked_up(advice, rule_base)


def _looked_up(advice: Advice, rule_base: RuleBase) -> Iterator[Part]:
    yield Part("confirm", words.CONFIRM, tuple(_confirm(advice)))
    yield Part("margins", words.MARGINS, tuple(_margins(advice, rule_base)))
    yield Part("assumed", words.ASSUMED, tuple(
        Item(Line(f"{words.TAKEN_AS.lower()} {line.value}.", fact_label(line.question, rule_base)),
             tail=(Line(line.because),))
        for line in advice.assumed))
    yield Part("reckoned", words.RECKONED, tuple(specification(
        (line for line in advice.specification if line.reckoned), rule_base, False)), folded=True, on_paper=False)
    yield Part("why", words.WHY, (*reasons.why(advice, False), *reasons.why_not(advice, False)),
               folded=True, on_paper=False)
    yield Part("cautions", words.CAUTIONS, (*_warnings(advice, ("care", "note")), *closing.makers_words(advice)),
               folded=True)


# -- stops, today

def _first(advice: Advice) -> Iterator[SheetBlock]:
    cells = [check_cells(check, advice.units) for check in advice.checks
             if check.verdict == "fails" and not check.not_taken]
    failing = [f"{name} {value}, {limit}" for name, value, limit, *_ in cells]
    if failing:
        yield Signal(words.SIGNAL["danger"], f"{words.FAILS}: {'; '.join(failing)}.", strong=True)
    for product in advice.products:
        if product.against or not product.used:
            yield Signal(words.SIGNAL["care"], product.say, strong=True)
    yield from _warnings(advice, ("stop", "danger"))


def _warnings(advice: Advice, severities: tuple[str, ...]) -> Iterator[Signal]:
    for severity in severities:
        for caution in advice.cautions:
            if caution.severity == severity:
                yield Signal(words.SIGNAL[severity], caution.text, caution.because, severity in ("stop", "danger"))


def _today(advice: Advice) -> Iterator[SheetBlock]:
    for line in advice.conditions:
        yield Item(Line(line.say, words.TODAY[line.verdict], "plain" if line.verdict == "go" else "alarm"))
    doubtful = in_doubt(advice)
    if doubtful and all(line.verdict == "go" for line in advice.conditions):
        yield Item(Line(f"{'; '.join(doubtful)}.", words.IN_DOUBT, "alarm"))
    yield from _readings(advice, advice_phase=False)


def _readings(advice: Advice, advice_phase: bool) -> Iterator[Reading]:
    for place, line in enumerate(advice.readings, 1):
        if (line.phase is not None) == advice_phase:
            yield Reading(f"reading-{place}", line.name, line.unit, line.go_when, line.answers)


# -- things

def _buy(advice: Advice) -> Iterator[SheetBlock]:
    for place, line in enumerate(advice.quantities, 1):
        if line.buy:
            yield Thing(f"buy-{place}", line.item, _bought(line, advice), line.note)


def _bought(line: Quantity, advice: Advice) -> str | None:
    if line.amount is None:
        return line.packs
    bought, needed = to_buy(line, advice.units), how_much(line, advice.units)
    return bought if bought == needed else f"{bought}; {phrases.NEEDED} {needed}"


# -- the work

def _done(advice: Advice) -> Iterator[SpecificationLine]:
    return (line for line in advice.specification if not line.reckoned)


def _phases(advice: Advice, rule_base: RuleBase, figures: list[Figure]) -> list[Part]:
    shown = next((phase.phase for phase in rule_base.phases.values() if phase.shows == "batches"), None)
    parts = []
    for phase, lines in groupby(advice.steps, key=lambda step: step.phase):
        form = rule_base.phases.get(phase)
        steps = [Step(f"step-{line.number}", line.number, line.text, line.duration, line.right_when, line.if_not,
                      line.hold_point, line.wait, line.why.because, short(line.why.source, rule_base),
                      judged=form is not None and form.shows == "results")
                 for line in lines]
        before = (*_clocks(advice), *figures) if phase == shown else ()
        parts.append(Part(f"phase-{phase}", form.label if form else phase, (*before, *steps)))
    return parts


def _clocks(advice: Advice) -> Iterator[SheetBlock]:
    if advice.batches:
        amounts = tuple((line.item, how_much(line, advice.units)) for line in advice.quantities
                        if not line.buy and line.amount is not None)
        yield Mixing(words.BATCH_HEADINGS, tuple(batch_cells(batch, advice.units) for batch in advice.batches),
                     advice.batches, amounts, words.BATCH_NOTE)
    many = len(advice.working_times) > 1
    for place, line in enumerate(advice.working_times, 1):
        yield WorkingTime(f"time-{place}", line, clock=many or not advice.batches)


# -- to look up

def _confirm(advice: Advice) -> list[ToConfirm]:
    """The maker's numbers, those of one product together."""
    found = []
    for place, line in enumerate(advice.confirm, 1):
        about, parted, number = line.text.partition(": ") if line.used else ("", "", "")
        found.append(ToConfirm(f"confirm-{place}", line.text, line.used, about if parted else "", number or line.text))
    seen = list(dict.fromkeys(one.about for one in found))
    return sorted(found, key=lambda one: seen.index(one.about))


def _margins(advice: Advice, rule_base: RuleBase) -> Iterator[SheetBlock]:
    rows = tuple(Margin(check_cells(check, advice.units), check.verdict,
                        f"{check.formula}. {check.with_numbers}".strip(), short(check.source, rule_base))
                 for check in advice.checks)
    if rows:
        yield Margins(words.MARGIN_HEADINGS, rows)
