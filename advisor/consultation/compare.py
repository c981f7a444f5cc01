"""Two jobs, or two ways of doing one, side by side: only what differs."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from advisor.consultation.advice import Advice, CheckLine, Minutes, Quantity
from advisor.consultation.consult import Consultation
from advisor.units import format_quantity, format_range

NOTHING = "Nothing differs: both lead to the same advice."
NONE, NOT_ASKED = "-", "not asked"


@dataclass(frozen=True)
class Span:
    """A number of the advice with its range, in `unit`."""

    low: float
    likely: float
    high: float
    unit: str


@dataclass(frozen=True)
class Difference:
    """One thing that differs: in which part, what it is called, and how it stands on either side.

    `one_number` and `other_number` are the numbers behind the words, where there are any.
    """

    part: str
    name: str
    one: str
    other: str
    one_number: Span | None = None
    other_number: Span | None = None


@dataclass(frozen=True)
class _Side:
    """How a thing stands on one side: in words, and the number behind them."""

    words: str = ""
    number: Span | None = None


def compare(one: Consultation, other: Consultation) -> list[Difference]:
    """What differs in answers, advice, amounts, time, margins, today's verdict and cautions, in this order.

    Raises:
        InputError: the answers of one of the two contradict each other.
    """
    advised = one.advice(), other.advice()
    parts: tuple[tuple[str, Callable[[Advice], Mapping[str, _Side]]], ...] = (
        ("advice", _advice), ("amounts", _amounts), ("time", _time), ("margins", _margins), ("today", _today),
        ("cautions", _cautions))
    return [*_pairs("answers", _answers(one), _answers(other)),
            *(difference for name, part in parts
              for difference in _pairs(name, *(part(advice) for advice in advised)))]


def told(found: Sequence[Difference], sides: tuple[str, str] = ("A", "B")) -> Iterator[tuple[int, str]]:
    """The differences by part, each line with how far it is set in."""
    for part, group in groupby(found, key=lambda difference: difference.part):
        yield 0, part.capitalize()
        for one in group:
            missing = NOT_ASKED if part == "answers" else NONE
            yield 1, one.name
            yield from ((2, f"{side}: {words or missing}")
                        for side, words in zip(sides, (one.one, one.other), strict=True))
        yield 0, ""
    if not found:
        yield 0, NOTHING


def _pairs(part: str, one: Mapping[str, _Side], other: Mapping[str, _Side]) -> Iterator[Difference]:
    for name in dict.fromkeys((*one, *other)):
        a, b = one.get(name, _Side()), other.get(name, _Side())
        if a.words != b.words:
            yield Difference(part, name, a.words, b.words, a.number, b.number)


def _answers(case: Consultation) -> dict[str, _Side]:
    """The answers that the advice rests on, and what was taken where nobody knew."""
    result = case.concluded()
    texts = case.texts_of(result)
    return {texts.label(name): _Side(texts.given(name)) for name in result.asked if name in result.facts}


def _advice(advice: Advice) -> dict[str, _Side]:
    chosen = {choice.label: _Side(candidate.label) for choice in advice.choices for candidate in choice.candidates
              if candidate.id == choice.chosen}
    return {"status": _Side(advice.status), "verdict": _Side(advice.verdict), **chosen}


def _spanned(span: Span, advice: Advice) -> str:
    return format_range(span.low, span.likely, span.high, span.unit, advice.units)


def _amounts(advice: Advice) -> dict[str, _Side]:
    return {line.item: _amount(line, advice) for line in advice.quantities}


def _amount(line: Quantity, advice: Advice) -> _Side:
    """The amount with its range, and the packs that cover it."""
    if line.amount is None:
        return _Side(line.packs or line.unit)
    low, high = (line.amount if end is None else end for end in (line.low, line.high))
    span = Span(low, line.amount, high, line.unit)
    bought = f"; buy {line.packs}" if line.packs else ""
    return _Side(f"{_spanned(span, advice)}{bought}", span)


def _time(advice: Advice) -> dict[str, _Side]:
    """Working times, batches, all waits of the steps together, and how many steps and hold points there are."""
    sides = {f"working time, {line.about}": _minutes([line.time_min], advice) for line in advice.working_times}
    waits = [step.wait for step in advice.steps if step.wait is not None]
    if waits:
        sides["waiting by the clock, all steps together"] = _minutes(waits, advice)
    return {**sides, "batches": _Side(_batches(advice)), "steps": _Side(str(len(advice.steps))),
            "hold points": _Side(str(sum(step.hold_point is not None for step in advice.steps)))}


def _minutes(times: Sequence[Minutes], advice: Advice) -> _Side:
    low, likely, high = (sum(getattr(time, end) for time in times) for end in ("low", "likely", "high"))
    span = Span(low, likely, high, "min")
    return _Side(_spanned(span, advice), span)


def _batches(advice: Advice) -> str:
    if not advice.batches:
        return "none"
    largest = format_quantity(max(batch.mass_kg for batch in advice.batches), "kg", advice.units)
    last = advice.batches[-1]
    ends = format_quantity(round(last.start_min + last.stop_at_min), "min", advice.units)
    return f"{len(advice.batches)}, the largest {largest}, the last one stopped {ends} after the first is mixed"


def _margins(advice: Advice) -> dict[str, _Side]:
    return {line.name: _margin(line, advice) for line in advice.checks}


def _margin(line: CheckLine, advice: Advice) -> _Side:
    value = Span(line.low, line.value, line.high, line.unit)
    limit = Span(line.limit_low, line.limit, line.limit_high, line.unit)
    bound = line.bound.replace("_", " ")
    unsure = ", not sure either way" if line.straddles else ""
    return _Side(f"{line.verdict}{unsure}: {_spanned(value, advice)}, {bound} {_spanned(limit, advice)}", value)


def _today(advice: Advice) -> dict[str, _Side]:
    verdicts = [line.verdict for line in advice.conditions]
    return {"today": _Side(next((verdict for verdict in ("no_go", "wait", "go") if verdict in verdicts), ""))}


def _cautions(advice: Advice) -> dict[str, _Side]:
    return {line.text.split(". ")[0]: _Side(line.severity) for line in advice.cautions}
