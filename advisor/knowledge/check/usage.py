"""Nothing idle: every question, derived fact and limit is read by something; questions come in a sound order."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.errors import AdvisorError, Problem
from advisor.knowledge import model as m
from advisor.knowledge.bindings import stands_for
from advisor.knowledge.check.supply import Supply, concluded
from advisor.knowledge.check.values import did_you_mean, kind_of, word_fault
from advisor.knowledge.rulebase import LIMIT, RuleBase
from advisor.knowledge.shapes import PLACEHOLDER
from advisor.units import parse_quantity

READ_BY_PROGRAM = frozenset({"margin_ample", "margin_adequate"})
"""Limits that the program reads by name: how margins are put into words."""
_NAMING_FIELDS = frozenset({"amount", "packs", "rows", "record", "value", "against", "ample", "wait", "time",
                            "temperature", "activation_energy"})


def usage_problems(rule_base: RuleBase, supply: Supply) -> list[Problem]:
    """Idle or ill-ordered questions, idle facts and limits, examples that name what is not there."""
    readers = _readers(rule_base, supply)
    return [*_question_problems(rule_base, supply, readers), *_idle_problems(rule_base, readers),
            *_example_problems(rule_base)]


def _readers(rule_base: RuleBase, supply: Supply) -> dict[str, float]:
    """The earliest level at which each fact (or limit) is read."""
    readers: dict[str, float] = {}

    def read(name: str, level: float) -> None:
        for key in {name, name.partition(".")[0]}:
            readers[key] = min(level, readers.get(key, float("inf")))

    for rule in rule_base.rules.values():
        for name in _names_in_rule(rule):
            for fact in stands_for(rule, name):
                read(fact, supply.stage_level(rule))
    for calculation in rule_base.calculations.values():
        tests = calculation.when.tests if calculation.when else ()
        inputs = [m.split_end(item)[0] for given in calculation.inputs.values() for item in given]
        for name in (*inputs, *_names_in_tests(tests)):
            read(name, supply.stage_level(calculation) - 0.5)
    for caution in rule_base.cautions.values():
        for name in PLACEHOLDER.findall(f"{caution.text} {caution.because}"):
            read(name, float("inf"))
    for invariant in rule_base.invariants.values():
        for name in _names_in_tests(invariant.tests):
            if name.startswith(LIMIT):  # an answer or a conclusion needs a better reader than a test
                read(name, float("inf"))
    conditions = [condition for question in rule_base.questions.values()
                  for condition in (question.when, question.unasked)]
    conditions += [case.when for question in rule_base.questions.values() if question.dont_know
                   for case in question.dont_know.instead]
    conditions += [decision.when for decision in rule_base.decisions.values()]
    for condition in conditions:
        for name in _names_in_tests(condition.tests if condition else ()):
            read(name, float("inf"))
    return readers


def _names_in_tests(tests: tuple[m.Test, ...]) -> list[str]:
    return [name for test in tests
            for name in (test.fact, *(test.values if test.operator in m.NUMBER_OPERATORS else ()))]


def _names_in_rule(rule: m.Rule) -> list[str]:
    names = _names_in_tests(rule.when.tests)
    for line in rule.then:
        fields = line.model_dump()
        names += [value for key, value in fields.items()
                  if key in _NAMING_FIELDS and isinstance(value, str)]
        names += [name for value in fields.values() if isinstance(value, str) for name in PLACEHOLDER.findall(value)]
        names += line.measures.values() if isinstance(line, m.Draw) else ()
    return names + PLACEHOLDER.findall(rule.because)


def _question_problems(rule_base: RuleBase, supply: Supply, readers: dict[str, float]) -> Iterator[Problem]:
    for name, question in rule_base.questions.items():
        where = question.where
        if kind_of(rule_base, name) in (None, "record"):
            yield Problem(f"`{name}` is not in the vocabulary", where, did_you_mean(name, list(rule_base.facts)))
            continue
        if name not in readers:
            yield Problem(f"no rule reads the answer to `{name}`", where, "take the question out, or use it")
        if question.essential == "no" and not question.takes_unknown:
            yield Problem(f"`{name}` must be essential or say what `I don't know` means", where,
                          "add `dont_know: {home_test: ...}` or `dont_know: {assume: ...}`, or `essential: yes`")
        if question.essential == "yes" and question.unasked is not None:
            yield Problem(f"`{name}` is essential and cannot go unasked", where, "take `unasked` or `essential` out")
        told = question.dont_know
        for assumed in (told.assume, *(case.assume for case in told.instead)) if told else ():
            yield from _assumption_problems(question, assumed, rule_base)
        for test in question.when.tests if question.when else ():
            known_at = supply.level(test.fact)
            if known_at is not None and known_at > readers.get(name, float("inf")):
                yield Problem(f"`{name}` is asked because of `{test.fact}`, which is known only after the answer "
                              "is needed", where, "ask it on facts of an earlier stage")


def _assumption_problems(question: m.Question, assumed: str | None, rule_base: RuleBase) -> Iterator[Problem]:
    if assumed is None:
        return
    form = rule_base.facts[question.question]
    if form.kind in ("quantity", "count"):
        try:
            parse_quantity(assumed, form.unit or "fraction", plausible=form.plausible)
        except AdvisorError as error:
            yield Problem(f"the assumption `{assumed}`: {error.what}", question.where, error.help)
    else:
        fault = word_fault(rule_base, question.question, assumed)
        if fault:
            yield Problem(f"the assumption: {fault[0]}", question.where, fault[1])


def _idle_problems(rule_base: RuleBase, readers: dict[str, float]) -> Iterator[Problem]:
    derived = {fact: rule for rule in rule_base.rules.values() for fact in concluded(rule)}
    for fact, rule in derived.items():
        if fact not in readers:
            yield Problem(f"nothing reads the conclusion `{fact}`", rule.where, "use it or take it out")
    supplied = {*derived, *rule_base.questions, *(f for c in rule_base.calculations.values() for f in c.gives),
                *(f for d in rule_base.decisions.values() if d.plan for f in (d.plan.standing, d.plan.against))}
    for name, form in rule_base.facts.items():
        if name not in supplied:
            yield Problem(f"the fact `{name}` is supplied by nothing", form.where, "take it out, or ask or conclude it")
    values = {line.value for rule in rule_base.rules.values() for line in rule.then if isinstance(line, m.Conclude)}
    for name, limit in rule_base.limits.items():
        if name not in READ_BY_PROGRAM and LIMIT + name not in readers and LIMIT + name not in values:
            yield Problem(f"nothing reads the limit `{name}`", limit.where, "use it or take it out")


def _example_problems(rule_base: RuleBase) -> Iterator[Problem]:
    for example in rule_base.examples:
        for rule in (*example.fires, *example.silent):
            if rule not in rule_base.rules:
                yield Problem(f"there is no rule `{rule}`", example.where, did_you_mean(rule, list(rule_base.rules)))
        for caution in example.warns:
            if caution not in rule_base.cautions:
                yield Problem(f"there is no caution `{caution}`", example.where,
                              did_you_mean(caution, list(rule_base.cautions)))
        for fact, values in example.given.items():
            kind = kind_of(rule_base, fact)
            if kind is None:
                yield Problem(f"unknown fact `{fact}`", example.where, did_you_mean(fact, list(rule_base.facts)))
            elif kind in ("choice", "several", "yes_no"):
                for value in values:
                    fault = word_fault(rule_base, fact, value)
                    if fault:
                        yield Problem(fault[0], example.where, fault[1])
