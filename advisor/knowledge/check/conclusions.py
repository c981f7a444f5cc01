"""Conclusions: what a rule names in its `then` exists, and comes in time."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.errors import Problem
from advisor.knowledge import model as m
from advisor.knowledge.bindings import stands_for
from advisor.knowledge.check.supply import Supply
from advisor.knowledge.check.values import (
    alike,
    allowed_words,
    did_you_mean,
    kind_of,
    number_fault,
    unit_of,
    word_fault,
)
from advisor.knowledge.drawable import PARTS, Drawable
from advisor.knowledge.rulebase import LIMIT, RuleBase
from advisor.knowledge.shapes import PLACEHOLDER
from advisor.units import known_unit

_TEXT_FIELDS = ("about", "say", "do", "how_long", "hold", "right_when", "if_not", "item", "note", "title", "turn_to",
                "name", "go_when", "colder", "warmer")


def conclusion_problems(rule_base: RuleBase, supply: Supply) -> list[Problem]:
    """Problems in what rules conclude and in their texts."""
    return [problem for rule in rule_base.rules.values()
            for problem in (*_rule_problems(rule, rule_base, supply), *_text_problems(rule, rule_base, supply))]


def _rule_problems(rule: m.Rule, rule_base: RuleBase, supply: Supply) -> Iterator[Problem]:
    for conclusion in rule.then:
        where = f"{rule.file}:{conclusion.line or rule.line}"
        match conclusion:
            case m.Conclude():
                yield from _conclude_problems(rule, conclusion, where, rule_base)
            case m.Evidence():
                yield from _evidence_problems(rule, conclusion, where, rule_base)
            case m.Step():
                yield from _known(conclusion.phase, rule_base.phases, "phase", where)
                yield from _number_of(conclusion.wait, "min", where, rule_base, supply)
            case m.WorkingTime():
                yield from _number_of(conclusion.time, "min", where, rule_base, supply)
                yield from _number_of(conclusion.temperature, "C", where, rule_base, supply)
                yield from _number_of(conclusion.activation_energy, "kJ/mol", where, rule_base, supply)
            case m.Reading():
                for name, table, what in ((conclusion.phase, rule_base.phases, "phase"),
                                          (conclusion.answers, rule_base.questions, "question")):
                    yield from _known(name, table, what, where) if name else ()
                if conclusion.unit is not None and known_unit(conclusion.unit) is None:
                    yield Problem(f"there is no unit `{conclusion.unit}`", where,
                                  "write one such as `mm`, `g` or `min`")
            case m.Recall():
                for name, value in conclusion.values.items():
                    yield from _known(name, rule_base.questions, "question", where)
                    fault = word_fault(rule_base, name, value) if name in rule_base.questions else None
                    if fault:
                        yield Problem(fault[0], where, fault[1])
            case m.GoOn():
                for name, value in conclusion.answers.items():
                    yield from _known(name, rule_base.questions, "question", where)
                    if name in rule_base.questions:
                        yield from _answer_problems(name, value, where, rule_base, supply)
            case m.CautionRef():
                for caution in conclusion.cautions:
                    yield from _known(caution, rule_base.cautions, "caution", where)
            case m.SendBack():
                for question in conclusion.questions:
                    yield from _known(question, rule_base.questions, "question", where)
            case m.QuantityLine():
                yield from _fact(conclusion.amount, ("quantity", "count"), where, rule_base, supply)
                yield from _fact(conclusion.packs, ("record",), where, rule_base, supply)
            case m.TableLine():
                yield from _fact(conclusion.rows, ("record",), where, rule_base, supply)
            case m.Batches():
                yield from _fact(conclusion.record, ("record",), where, rule_base, supply)
            case m.Draw():
                yield from _draw_problems(conclusion, where, rule_base, supply)
            case m.Check():
                yield from _check_problems(conclusion, where, rule_base, supply)


def _known(id_: str, table: object, what: str, where: str) -> Iterator[Problem]:
    if id_ not in table:  # type: ignore[operator]
        yield Problem(f"there is no {what} `{id_}`", where, did_you_mean(id_, list(table)))  # type: ignore[call-overload]


def _answer_problems(question: str, value: str, where: str, rule_base: RuleBase, supply: Supply) -> Iterator[Problem]:
    """An answer that a rule gives: a word of the question, or `{fact}` whose words it shares."""
    taken = PLACEHOLDER.fullmatch(value)
    if taken is None:
        fault = word_fault(rule_base, question, value)
        if fault:
            yield Problem(fault[0], where, fault[1])
    else:
        yield from _fact(taken.group(1), ("choice", "yes_no"), where, rule_base, supply)
        if not set(allowed_words(rule_base, taken.group(1))) & set(allowed_words(rule_base, question)):
            yield Problem(f"`{taken.group(1)}` never has a value that answers `{question}`", where,
                          "hand on a fact that shares words with the question")


def _fact(name: str | None, kinds: tuple[str, ...], where: str, rule_base: RuleBase,
          supply: Supply) -> Iterator[Problem]:
    if name is None:
        return
    kind = kind_of(rule_base, name)
    if kind not in kinds:
        yield Problem(f"`{name}` is not a {' or '.join(kinds)} fact", where,
                      did_you_mean(name, [f for f, form in rule_base.facts.items() if form.kind in kinds]))
    elif supply.level(name) is None:
        yield Problem(f"`{name}` is supplied by no question, rule or calculation", where,
                      "add one, or use another fact")


def _number_of(name: str | None, unit: str, where: str, rule_base: RuleBase, supply: Supply) -> Iterator[Problem]:
    """A limit or a fact that is a number of the dimension of `unit`."""
    if name is None:
        return
    if name.startswith(LIMIT):
        yield from _known(name.removeprefix(LIMIT), rule_base.limits, "limit", where)
        number = rule_base.limit(name)
        written = number.unit if number else None
    else:
        yield from _fact(name, ("quantity", "count"), where, rule_base, supply)
        written = unit_of(rule_base, name)
    if written is not None and not alike(written, unit):
        yield Problem(f"`{name}` is in {written}, where a number in {unit} belongs", where,
                      "name a fact or a limit of that kind")


def _draw_problems(draw: m.Draw, where: str, rule_base: RuleBase, supply: Supply) -> Iterator[Problem]:
    yield from _known(draw.part, PARTS, "part of a drawing", where)
    drawable = PARTS.get(draw.part, Drawable())
    for measure in drawable.needs:
        if measure not in draw.measures:
            yield Problem(f"`{draw.part}` cannot be drawn without `{measure}`", where, f"add `{measure}: fact`")
    for measure, name in draw.measures.items():
        if measure in drawable.measures:
            yield from _number_of(name, drawable.measures[measure], where, rule_base, supply)
        elif draw.part in PARTS:
            yield Problem(f"`{draw.part}` has no measure `{measure}`", where,
                          did_you_mean(measure, list(drawable.measures)))


def _conclude_problems(rule: m.Rule, conclusion: m.Conclude, where: str, rule_base: RuleBase) -> Iterator[Problem]:
    for fact in stands_for(rule, conclusion.fact):
        kind = kind_of(rule_base, fact)
        if kind is None or fact not in rule_base.facts:
            yield Problem(f"unknown fact `{fact}`", where, did_you_mean(fact, list(rule_base.facts)))
        elif fact in rule_base.questions:
            yield Problem(f"`{fact}` is asked of the person and cannot also be concluded", where,
                          "conclude a fact of another name")
        else:
            numeric = kind in ("quantity", "count")
            fault = (number_fault if numeric else word_fault)(rule_base, fact, conclusion.value)
            if numeric and not conclusion.value.startswith(LIMIT) and fault is None:
                fault = f"`{conclusion.value}` is not a limit", "a concluded number is given as `limit/name`"
            if fault:
                yield Problem(fault[0], where, fault[1])


def _evidence_problems(rule: m.Rule, evidence: m.Evidence, where: str, rule_base: RuleBase) -> Iterator[Problem]:
    decision = rule_base.decisions.get(evidence.decision)
    if decision is None:
        yield from _known(evidence.decision, rule_base.decisions, "decision", where)
        return
    things = rule_base.materials.get(decision.of, {})
    for candidate in evidence.candidates:
        if candidate not in rule.for_each:
            yield from _known(candidate, things, decision.of, where)
    if (evidence.does in ("favour", "oppose")) != (evidence.strength is not None):
        yield Problem(f"`{evidence.does}` {'needs a' if evidence.strength is None else 'takes no'} strength", where,
                      "favour and oppose are slight, clear or strong; the others have none")
    order, stage = rule_base.stage_order, rule_base.stage_of(rule)
    late = order[stage] > order.get(decision.stage, 0)
    if late != (evidence.does == "withdraw"):
        yield Problem(f"`{evidence.does}` stands in stage `{stage}`, but `{decision.decision}` is decided in "
                      f"`{decision.stage}`", where,
                      "evidence comes before the decision; afterwards only `withdraw` is possible")


def _check_problems(check: m.Check, where: str, rule_base: RuleBase, supply: Supply) -> Iterator[Problem]:
    yield from _fact(check.value, ("quantity", "count"), where, rule_base, supply)
    fault = number_fault(rule_base, check.value, check.against) if kind_of(rule_base, check.value) else None
    if fault:
        yield Problem(fault[0], where, fault[1])
    ample = number_fault(rule_base, check.value, check.ample) if check.ample else None
    if ample:
        yield Problem(ample[0], where, ample[1])


def _text_problems(rule: m.Rule, rule_base: RuleBase, supply: Supply) -> Iterator[Problem]:
    texts = [(rule.line, rule.because), (rule.line, rule.says)]
    texts += [(c.line or rule.line, text) for c in rule.then for field in _TEXT_FIELDS
              if isinstance(text := getattr(c, field, None), str)]
    for line, text in texts:
        for name in PLACEHOLDER.findall(text):
            yield from _placeholder_problems(rule, name, f"{rule.file}:{line}", rule_base, supply)


def _placeholder_problems(rule: m.Rule, name: str, where: str, rule_base: RuleBase,
                          supply: Supply) -> Iterator[Problem]:
    if name in rule.for_each or (name.startswith(LIMIT) and name.removeprefix(LIMIT) in rule_base.limits):
        return
    for fact in stands_for(rule, name):
        if kind_of(rule_base, fact) is None:
            yield Problem(f"the placeholder `{{{name}}}` names no fact", where,
                          did_you_mean(name, [*rule_base.facts, *(LIMIT + limit for limit in rule_base.limits)]))
        elif not fact.startswith("every/") and supply.level(fact) is None:
            yield Problem(f"the placeholder `{{{name}}}` is supplied by nothing", where,
                          "add a question, rule or calculation for it, or take it out")
