"""What is wrong with one evaluated case: contradictions, no proper end, broken invariants, bare numbers."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator, Mapping

from advisor.audit.outcome import GIVEN, Outcome
from advisor.consultation.advice import Advice
from advisor.consultation.conditions import holds
from advisor.consultation.facts import Facts
from advisor.consultation.texts import NOT_KNOWN
from advisor.knowledge import model as m
from advisor.knowledge.invariants import WITHIN, Invariant

Finding = tuple[str, str]
"""A key that is the same for the same fault, and what is wrong."""
_OPEN = re.compile(r"\{[a-z_./]+\}")
INVARIANT = "invariant "


def findings_of(outcome: Outcome, invariants: Mapping[str, tuple[Invariant, ...]]) -> list[Finding]:
    """Everything wrong with one case."""
    return [*_two_values(outcome), *_torn_candidates(outcome), *_no_end(outcome), *broken(outcome, invariants)]


def _two_values(outcome: Outcome) -> Iterator[Finding]:
    """A fact that can only have one value and was concluded with two."""
    seen: dict[str, tuple[object, str]] = {}
    for firing in outcome.result.firings:
        for derived in firing.rule.derives:
            if outcome.rule_base.facts[derived.key].kind == "several":
                continue
            value, by = seen.setdefault(derived.key, (derived.value, firing.rule.rule.rule))
            if value != derived.value:
                yield (f"two values of {derived.key}", f"`{derived.key}` is concluded as {value} by {by} and as "
                       f"{derived.value} by {firing.rule.rule.rule}")


def _torn_candidates(outcome: Outcome) -> Iterator[Finding]:
    """A candidate that is required and ruled out for the same facts."""
    for choice in outcome.result.choices.values():
        for candidate in choice.candidates:
            by: dict[str, list[str]] = defaultdict(list)
            for line in candidate.evidence:
                by[line.strength].append(line.rule)
            if by["require"] and by["rule_out"]:
                yield (f"required and ruled out: {choice.decision} {candidate.id}",
                       f"{choice.decision} `{candidate.id}` is required by {by['require'][0]} and ruled out by "
                       f"{by['rule_out'][0]}")


def _no_end(outcome: Outcome) -> Iterator[Finding]:
    """A case that ends in neither work to do, nor somebody to turn to, nor a named missing answer."""
    result, status = outcome.result, outcome.status
    if status in GIVEN and not (result.conclusions(m.Step) and outcome.words["today"]):
        yield ("advice without work", "advice is given without a step or without a word on today's conditions")
    if status in ("stop", "refer") and not (result.conclusions(m.Stop) or any(text for _, text in result.refused)):
        yield ("nobody to turn to", f"the case ends in `{status}` without saying whom to turn to")
    questions = outcome.rule_base.questions
    if status == "incomplete" and not any(questions[name].essential == "yes" for name in result.untold):
        yield ("nothing named as missing", "the case is incomplete, but no answer is missing")


def broken(outcome: Outcome, invariants: Mapping[str, tuple[Invariant, ...]]) -> Iterator[Finding]:
    """The invariants that do not hold; answers that contradict each other get no advice to hold against them."""
    if outcome.result.ended_by == "send_back":
        return
    for name, instances in invariants.items():
        wrong = next((why for instance in instances if (why := _violation(instance, outcome.facts))), None)
        if wrong:
            yield INVARIANT + name, f"{instances[0].says} ({instances[0].where}): {wrong}"


def applying(outcome: Outcome, invariants: Mapping[str, tuple[Invariant, ...]]) -> list[str]:
    """The invariants that had anything to say about a case."""
    if outcome.result.ended_by == "send_back":
        return []
    return [name for name, instances in invariants.items()
            if any(holds(instance.when, outcome.facts) for instance in instances)]


def _violation(invariant: Invariant, facts: Facts) -> str | None:
    if not holds(invariant.when, facts):
        return None
    if not holds(invariant.must, facts):
        return f"it has {_told(invariant.must, facts)}"
    for test in invariant.must_not.tests:
        if holds(m.Condition(all=(test,)), facts):
            return f"it has {_told(m.Condition(all=(test,)), facts)}"
    for fact, ends in invariant.within.items():
        number, bounds = facts.number(fact), [facts.number(end) for end in ends]
        if number and not (bounds[0] and bounds[1] and bounds[0].in_unit(number.unit).value <= number.low
                           and number.high <= bounds[1].in_unit(number.unit).value):
            return f"{fact} is {number.low:.4g} to {number.high:.4g} {number.unit}, not {WITHIN} {' to '.join(ends)}"
    return None


def _told(condition: m.Condition, facts: Facts) -> str:
    names = dict.fromkeys(test.fact for test in condition.tests)
    return "; ".join(f"{name} {', '.join(facts.words(name)) or facts.number(name) or 'nothing'}" for name in names)


def findings_in(advice: Advice) -> Iterator[Finding]:
    """Numbers without unit or source, reasons without source and texts left open in advice put into words."""
    for quantity in advice.quantities:
        if quantity.amount is not None and not (quantity.unit and quantity.basis and quantity.why.source):
            yield f"amount of {quantity.item}", f"the amount of {quantity.item} lacks unit, basis or source"
        if quantity.amount is not None and not 0 < (quantity.low or 0) <= quantity.amount <= (quantity.high or 0):
            yield (f"range of {quantity.item}", f"the amount of {quantity.item} ({quantity.low} {quantity.amount} "
                   f"{quantity.high}) is not a range above nothing")
    for check in advice.checks:
        if not (check.unit and check.formula and check.source):
            yield f"check {check.name}", f"the check `{check.name}` lacks unit, formula or source"
    for why in (*(line.why for line in advice.specification), *(line.why for line in advice.steps),
                *(line.why for line in advice.conditions), *(line.why for line in advice.review)):
        if not (why.because and why.source):
            yield f"reason of {why.rule}", f"{why.rule} speaks without reason or source"
    text = advice.model_dump_json(exclude={"trace"})
    for mark in {NOT_KNOWN, *_OPEN.findall(text)}:
        if mark in text:
            place = text[max(0, text.index(mark) - 60):text.index(mark) + len(mark)]
            yield f"open text {place[-40:]}", f"a text is left open: ...{place}"
