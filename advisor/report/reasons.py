"""Why this way and not another: the choices with their evidence."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import islice

from advisor.consultation.advice import Advice, Candidate, Choice, EvidenceLine
from advisor.knowledge.rulebase import RuleBase
from advisor.report import phrases, references
from advisor.report.blocks import Block, Group, Item, Line
from advisor.report.running import listed, sentence

METHOD = "method"
SPEAKS_FOR = ("require", "favour")
SPEAKS_AGAINST = ("rule_out", "withdraw", "oppose")
_WEIGHTS = ("strong", "clear", "slight", None)
_MOST_REASONS = 3
_MOST_REASONS_OF_CHOICE = 2
_MOST_OBJECTIONS = 2
_MOST_NAMED = 3


def why(advice: Advice, details: bool) -> Iterator[Block]:
    """The strongest reasons for the method chosen, and what speaks against it all the same."""
    for candidate in advice.methods:
        if candidate.standing == "chosen":
            reasons = list(islice(reasons_of(candidate, SPEAKS_FOR), _MOST_REASONS))
            told = reasons or [phrases.ONLY_ONE_LEFT]
            yield from (Item(Line(reason)) for reason in (told if details else [" ".join(told)]))
            for reason in islice(reasons_of(candidate, SPEAKS_AGAINST), _MOST_OBJECTIONS):
                yield Item(Line(reason, phrases.OUTWEIGHED))


def weighed_most(advice: Advice, rule_base: RuleBase) -> Iterator[Block]:
    """The answers that carried most of the choice, each with what was said."""
    given = [f"{rule_base.facts[pivot.question].label} ({pivot.given})" for pivot in advice.pivotal if pivot.given]
    if given:
        yield Item(Line(f"{listed(given)} {phrases.VARY_TRIES}", phrases.WEIGHED_MOST))


def why_not(advice: Advice, details: bool) -> Iterator[Block]:
    """The other methods with their strongest reason against them; those with the same reason together.

    Only the details name those that nobody would ask about: what nothing calls for, and the many for another goal.
    """
    close = {choice.close_to for choice in advice.choices if choice.decision == METHOD}
    others: dict[str, list[str]] = {}
    for candidate in advice.methods:
        if candidate.id in close:
            yield _close_call(candidate, details)
        elif candidate.standing != "chosen":
            objection = _strongest_objection(candidate)
            others.setdefault(objection, []).append(candidate.label)
    yield from (Item(Line(objection, "; ".join(labels))) for objection, labels in others.items()
                if details or (objection != phrases.NOTHING_FOR_IT and len(labels) <= _MOST_NAMED))


def _close_call(candidate: Candidate, details: bool) -> Item:
    pros, cons = reasons_of(candidate, SPEAKS_FOR), reasons_of(candidate, SPEAKS_AGAINST)
    below = [Line(reason, phrases.FOR) for reason in islice(pros, _MOST_REASONS_OF_CHOICE)]
    below += [Line(reason, phrases.AGAINST) for reason in islice(cons, _MOST_OBJECTIONS)]
    head = Line(phrases.CLOSE_CALL + ".", candidate.label, "strong")
    return Item(head, tuple(below)) if details else Item(head, tail=tuple(below))


def _strongest_objection(candidate: Candidate) -> str:
    rest = phrases.LESS_FOR_IT if candidate.standing == "possible" else phrases.NOTHING_FOR_IT
    return next(reasons_of(candidate, SPEAKS_AGAINST), rest)


def choices(advice: Advice, rule_base: RuleBase, details: bool) -> Iterator[Block]:
    """Adhesive, resin and build-up: what was chosen, what it is, and what speaks against it all the same.

    With the details also the best reasons for it, and what goes with them, such as the catalyst.
    """
    for choice in advice.choices:
        if choice.decision != METHOD and not keeps_notes(choice) and (details or _counts(choice, rule_base)):
            yield _choice(choice, rule_base, details)


def _counts(choice: Choice, rule_base: RuleBase) -> bool:
    """Whether a change of it would count; what only goes with the rest is named where it is used."""
    decision = rule_base.decisions.get(choice.decision)
    return decision is None or decision.weight > 0


def keeps_notes(choice: Choice) -> bool:
    """Whether the candidates of a choice carry notes of their own; such a choice has a section to itself."""
    return any(candidate.notes for candidate in choice.candidates)


def _choice(choice: Choice, rule_base: RuleBase, details: bool) -> Item:
    by_id = {candidate.id: candidate for candidate in choice.candidates}
    chosen = by_id.get(choice.chosen or "")
    if chosen is None:
        return Item(Line(phrases.NOT_CHOSEN, choice.label, "strong"))
    below = [Line(text) for text in _what_it_is(choice, rule_base)]
    reasons = islice(reasons_of(chosen, SPEAKS_FOR), _MOST_REASONS_OF_CHOICE)
    below += [Line(reason, phrases.FOR) for reason in reasons if details]
    below += [Line(reason, phrases.OUTWEIGHED) for reason in islice(reasons_of(chosen, SPEAKS_AGAINST), 1)]
    below += [Line(f"{by_id[id_].label}.", phrases.CLOSE) for id_ in (choice.close_to,) if id_ in by_id]
    if details:
        return Item(Line(chosen.label, choice.label, "strong"), tuple(below))
    return Item(Line(sentence(chosen.label), choice.label, "strong"), tail=tuple(below))


def _what_it_is(choice: Choice, rule_base: RuleBase) -> Iterator[str]:
    decision = rule_base.decisions.get(choice.decision)
    material = rule_base.materials.get(decision.of, {}).get(choice.chosen or "") if decision else None
    if material:
        yield material.thing.means


def reasons_of(candidate: Candidate, strengths: Iterable[str]) -> Iterator[str]:
    """The reasons of these strengths, strongest first; a rule that speaks of both faces is heard once."""
    order = tuple(strengths)
    lines = [line for line in candidate.evidence if line.strength in order]
    ranked = sorted(lines, key=lambda line: (order.index(line.strength), _WEIGHTS.index(line.weight)))
    by_rule: dict[str, str] = {}
    for line in ranked:
        by_rule.setdefault(line.rule, line.because)
    yield from dict.fromkeys(by_rule.values())


def balance(advice: Advice, rule_base: RuleBase) -> Iterator[Block]:
    """Every candidate of every decision with every line of evidence, its rule and its sources."""
    methods = [Choice(decision=METHOD, label=_label(METHOD, rule_base), chosen=None, candidates=advice.methods)]
    for choice in (*methods, *(choice for choice in advice.choices if choice.decision != METHOD)):
        if choice.candidates:
            yield Group(choice.label)
        for candidate in choice.candidates:
            if keeps_notes(choice) and not candidate.evidence:
                continue
            yield Item(Line(phrases.STANDING[candidate.standing], candidate.label, "strong"),
                       tuple(_evidence(line, rule_base) for line in candidate.evidence))


def _label(decision: str, rule_base: RuleBase) -> str:
    form = rule_base.decisions.get(decision)
    return form.label if form else decision


def _evidence(line: EvidenceLine, rule_base: RuleBase) -> Line:
    weight = f", {line.weight}" if line.weight else ""
    said_by = references.short(line.source, rule_base)
    return Line(f"{line.because} ({line.rule}; {said_by})", phrases.STRENGTH[line.strength] + weight)
